import {countNumbers, LineChange, type StageFinder} from './line-stage.ts';

const leastLines = 8;
const leastShare = 0.9;
const leastValues = 3;
const longestPrefix = 120;

/** Prose: two words next to each other, which no label of a reading is. */
const prose = /[A-Za-z]{3,} +[A-Za-z]{3,}/;
/** Numbers that name something: a handle in hexadecimal, a count in brackets. */
const named = /0x[0-9a-f]+|[[(][^\])]*[\])]/gi;

/**
 * A logger's own words, the same in front of every line: `notification handle = 0x0025 value: 512 498`. A first channel that
 * stands still is no such thing: it is a label with its reading.
 */
export const findConstantPrefix: StageFinder = sample => {
	const filled = sample.filter(line => countNumbers(line) >= leastValues);
	const middle = filled[filled.length >> 1];
	if (filled.length < leastLines || middle === undefined) return undefined;
	const like = filled.filter(line => line.slice(0, 3) === middle.slice(0, 3));
	if (like.length < leastShare * filled.length) return undefined;
	let length = Math.min(middle.length, longestPrefix);
	for (const line of like) while (!line.startsWith(middle.slice(0, length))) length--;
	let prefix = middle.slice(0, length).replace(/[+-]?[\d.]*$/, '');
	// The label of the first reading is not the logger's, where the others have one, too.
	if (/[A-Za-z_][\w.-]*\s*[:=]/.test(middle.slice(prefix.length)))
		prefix = prefix.replace(/["']?[A-Za-z_][\w.-]*["']?\s*[:=]\s*$/, '');
	if (
		!prose.test(prefix) ||
		/\d/.test(prefix.replaceAll(named, '')) ||
		countNumbers(middle.slice(prefix.length)) < leastValues
	)
		return undefined;
	return new LineChange("a logger's own words in front of the readings", line =>
		line.startsWith(prefix) ? line.slice(prefix.length) : line,
	);
};
