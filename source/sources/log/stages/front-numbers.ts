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

/** Milliseconds and the microseconds of the millisecond, set off from the readings by another sign: `1234,567: 512,498`. */
const twoUnits = /^\s{0,12}(\d{1,10}),(\d{1,3})(\s*(?:->|=>|[:|>;])\s*|\t| {1,4})(?=[+-]?\d|[A-Za-z"[{(])/;

/** The same set off by the readings' own comma shows by its zeros: `1234,007,512,498`. */
const padded = /^\s{0,12}(\d{1,10}),(\d{3}),(?=\d)/;

/** Times in milliseconds and microseconds, made one time in milliseconds. */
export const findTwoUnitTimes: StageFinder = sample => {
	const pattern = [twoUnits, padded].find(form => {
		const matches = sample.flatMap(line => {
			const match = form.exec(line);
			return match === null ? [] : [match];
		});
		if (matches.length < Math.max(leastLines, leastShare * sample.length)) return false;
		const times = matches.map(([, whole, part]) => Number(whole) + Number(part) / 1000);
		const rises = times.every((time, i) => i === 0 || time >= times[i - 1]);
		// A first finger that only closes, and a second one: not for so long.
		if (!rises || matches.length < leastTimes) return false;
		// Seconds with a decimal comma go on by less than two from line to line.
		if ((times.at(-1)! - times[0]) / (times.length - 1) < leastStep) return false;
		const ownSign = matches.every(
			([text, , , sign = ','], i) => !matches[i].input.slice(text.length).includes(sign.trim() || ' '),
		);
		const zeros = matches.filter(([, , part]) => part.length === 3 && part.startsWith('0')).length;
		return form === padded
			? zeros >= leastZeros * matches.length && matches.every(([, , part]) => part.length === 3)
			: ownSign;
	});
	if (pattern === undefined) return undefined;
	return new LineChange('times in milliseconds and microseconds, made one', line => {
		const match = pattern.exec(line);
		if (match === null) return line;
		return `${((Number(match[1]) + Number(match[2]) / 1000) / 1000).toFixed(6)} -> ${line.slice(match[0].length)}`;
	});
};

/** Milliseconds from line to line at which a time is one in milliseconds. */
const leastStep = 2;
/** So many lines on which a first number only rises. */
const leastTimes = 20;
/** Of microseconds in three digits one in ten begins with a zero. */
const leastZeros = 0.03;
