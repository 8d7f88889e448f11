import {medianInPlace} from '../math/nth-smallest.ts';

/** Slopes of all pairs are gathered here before their middle is taken. */
const room = {slopes: new Float64Array(1024)};

/**
 * Slope of a straight line through the first `count` values, which are one step apart: the median of the slopes of all
 * pairs, so that nearly a third of the values may lie anywhere. Per step; NaN below two values. Time and memory grow with
 * the square of `count`. Sources: H. Theil, Proc. Kon. Ned. Akad. v. Wetensch. A 53 (1950); P. K. Sen, J. Amer. Statist.
 * Assoc. 63 (1968), both from memory.
 *
 * @example
 * theilSenSlope([1, 2, 3, 4, 50], 5); // => 1
 */
export function theilSenSlope(values: ArrayLike<number>, count = values.length): number {
	const pairs = (count * (count - 1)) / 2;
	if (pairs < 1) return Number.NaN;
	if (room.slopes.length < pairs) room.slopes = new Float64Array(2 * pairs);
	const {slopes} = room;
	let used = 0;
	for (let i = 0; i < count; i++)
		for (let j = i + 1; j < count; j++) slopes[used++] = (values[j] - values[i]) / (j - i);
	return medianInPlace(slopes, used);
}

/** Standard error of the slope times `count` of values that scatter by themselves with this deviation, in its unit. */
export function errorOfChange(deviation: number, count: number): number {
	return ofLeastSquares * deviation * Math.sqrt(12 / (count - 1 / count));
}

/**
 * The least-squares slope of evenly spaced values has the variance 12 σ²/(n³ − n); the median of slopes needs π/3 times as
 * many values for the same (Sen 1968, from memory).
 */
const ofLeastSquares = Math.sqrt(Math.PI / 3);
