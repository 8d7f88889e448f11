import {countNumbers, LineChange, type StageFinder} from './line-stage.ts';

/**
 * A number in front of each line, set off by something else than the values from each other: `12: 512,498`,
 * `  12\t512,498`, `[812] 512 498`.
 */
const front = /^(\s{0,12})(\d{1,9})(\s*[:|>)\]]\s*|\t| {2,}| (?=\S*[,;]))(?=\S)/;

/** Where values follow each other: what separates them. */
function separatorOf(rest: string): string | undefined {
	const gaps = rest.match(/(?<=\d)[\s,;|:]+(?=[+-]?\.?\d)/g);
	return gaps === null ? undefined : gaps[0].replaceAll(/[ ]+/g, ' ').trim() || ' ';
}

const leastLines = 5;
const leastShare = 0.9;

/** The line's number, or a number that is the same on every line (a process, a channel of the radio): no reading. */
export const findFrontNumbers: StageFinder = sample => {
	const found = sample.flatMap(line => {
		const match = front.exec(line);
		if (match === null) return [];
		const rest = line.slice(match[0].length);
		const gap = match[3].replaceAll(/[ ]+/g, ' ').trim() || ' ';
		const separator = separatorOf(rest);
		if (match[3].trim() !== '' && rest.includes(match[3].trim())) return [];
		const isLabelled = /^["{]|^[A-Za-z_][\w.-]*\s*[:=]|^[A-Za-z]{1,2}[+-]?\d/.test(rest);
		// `14:07.112` is a time.
		if (match[3].startsWith(':') && /^\d/.test(rest) && !match[3].endsWith(' ')) return [];
		if (countNumbers(rest) < 2 || (!isLabelled && (separator === undefined || separator === gap))) return [];
		return [Number(match[2])];
	});
	if (found.length < leastLines || found.length < leastShare * sample.length) return undefined;
	const counts = found.every((number, i) => i === 0 || number === found[i - 1] + 1);
	const skips = found.filter((number, i) => i > 0 && number > found[i - 1] && number <= found[i - 1] + 3).length;
	const climbs = counts || (skips >= leastShare * (found.length - 1) && sample.length > found.length);
	const stays = found.every(number => number === found[0]);
	if (!climbs && !stays) return undefined;
	return new LineChange(stays ? 'a number in front that never changes' : 'line numbers', line => {
		const match = front.exec(line);
		return match === null ? line : line.slice(match[0].length);
	});
};
