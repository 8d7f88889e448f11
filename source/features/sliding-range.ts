import {FrameHistory} from './frame-history.ts';

/** Used within one call of `slidingRange` only. */
const rising = new Int32Array(FrameHistory.capacity);
const falling = new Int32Array(FrameHistory.capacity);

/**
 * Range and mean of the last `length` values at each place of a row of `count` values; NaN at places with fewer before
 * them. Linear in `count`, whatever the length: two queues of candidates for the lowest and the highest.
 */
export function slidingRange(
	values: Float64Array,
	count: number,
	length: number,
	ranges: Float64Array,
	means: Float64Array,
): void {
	let low = 0;
	let lowEnd = 0;
	let high = 0;
	let highEnd = 0;
	let sum = 0;
	// From the first value, so that large numbers cost no digits.
	const pivot = count > 0 ? values[0] : 0;
	for (let i = 0; i < count; i++) {
		const value = values[i];
		while (lowEnd > low && values[rising[lowEnd - 1]] >= value) lowEnd--;
		rising[lowEnd++] = i;
		while (highEnd > high && values[falling[highEnd - 1]] <= value) highEnd--;
		falling[highEnd++] = i;
		sum += value - pivot;
		const first = i - length + 1;
		if (first > 0) sum -= values[first - 1] - pivot;
		if (rising[low] < first) low++;
		if (falling[high] < first) high++;
		ranges[i] = first < 0 ? Number.NaN : values[falling[high]] - values[rising[low]];
		means[i] = first < 0 ? Number.NaN : pivot + sum / length;
	}
}
