import {upperMedianOf} from '../math/nth-smallest.ts';

/** Closed beyond so much of the hand's own range, and open again below so much: half-way with a margin to either side. */
const closedShare = 0.6;
const openShare = 0.4;

/** Three closings in so long a time are a signal; a working hand makes fists one at a time (common practice, no source). */
const fists = 3;
const withinSeconds = 3;

/** Before and after it the hand makes no fist for so long: a row of five fists is no mark. */
const quietSeconds = 1.5;

/** Fewer fingers are no hand. */
const leastFingers = 3;

/**
 * Marks made with the hand where a glove has no button: three quick fists. `columns` holds the readings of each finger at
 * `times`. A mark stands at the beginning of the first fist.
 */
export function fistMarks(times: Float64Array, columns: readonly Float64Array[]): number[] {
	const hand = closure(columns);
	if (hand === undefined) return [];
	const closings: number[] = [];
	let isClosed = false;
	for (let i = 0; i < times.length; i++) {
		if (!isClosed && hand[i] >= closedShare) {
			isClosed = true;
			closings.push(times[i]);
		} else if (isClosed && hand[i] <= openShare) isClosed = false;
	}

	const marks: number[] = [];
	for (let first = 0; first + fists <= closings.length; first++) {
		const last = first + fists - 1;
		const isQuick = closings[last] - closings[first] <= withinSeconds;
		const isAlone =
			(first === 0 || closings[first] - closings[first - 1] >= quietSeconds) &&
			(last + 1 === closings.length || closings[last + 1] - closings[last] >= quietSeconds);
		if (isQuick && isAlone) {
			marks.push(closings[first]);
			first = last;
		}
	}

	return marks;
}

/** How far the hand is closed, 0…1 of its own range: the mean of its fingers, each turned the way of the first. */
function closure(columns: readonly Float64Array[]): Float64Array | undefined {
	const moved = columns.flatMap(values => {
		let low = Number.POSITIVE_INFINITY;
		let high = Number.NEGATIVE_INFINITY;
		let sum = 0;
		for (const value of values) {
			if (Number.isNaN(value)) return [];
			low = Math.min(low, value);
			high = Math.max(high, value);
			sum += value;
		}

		return high > low ? [{values, low, span: high - low, mean: sum / values.length}] : [];
	});
	if (moved.length < leastFingers) return undefined;
	const [first] = moved;
	const mean = new Float64Array(first.values.length);
	for (const {values, low, span, mean: own} of moved) {
		let along = 0;
		for (let i = 0; i < values.length; i++) along += (values[i] - own) * (first.values[i] - first.mean);
		for (let i = 0; i < values.length; i++) {
			const share = (values[i] - low) / span;
			mean[i] += (along < 0 ? 1 - share : share) / moved.length;
		}
	}

	// A hand at rest lies open: the end near which it is more often is the open one.
	if (upperMedianOf(mean) <= 0.5) return mean;
	return mean.map(share => 1 - share);
}
