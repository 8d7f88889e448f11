import type {HeldLine, LineShape} from './line-shape.ts';
import {bytesToText} from './line-tokens.ts';

/** A first number that was cut leaps to the next one by so many of the longest later steps, which count at least so much. */
const leapsOfACut = 5;
const leastStep = 10;

/** Whether a value is written with a decimal point or comma. */
export function hasDecimals({bytes}: HeldLine, {tokens, dialect}: LineShape, column: number): boolean {
	const sign = dialect.decimalComma ? ',' : '.';
	return bytesToText(bytes, tokens.starts[column] ?? 0, tokens.ends[column] ?? 0).includes(sign);
}

/**
 * Whether the first of these lines lacks the front of its first number: fewer digits than in any other line, and a leap
 * to the next line that no later line comes near.
 */
export function isCutInFront(shapes: readonly LineShape[]): boolean {
	if (shapes[0].tokens.literals[0] !== '') return false;
	const digits = shapes.map(({tokens}) => tokens.ends[0] - tokens.starts[0]);
	const [first, ...later] = shapes.map(({tokens}) => tokens.values[0]);
	if (first < 0 || digits[0] >= Math.min(...digits.slice(1))) return false;
	const longestStep = Math.max(0, ...later.slice(1).map((value, i) => Math.abs(value - later[i])));
	return later[0] - first > leapsOfACut * Math.max(leastStep, longestStep);
}
