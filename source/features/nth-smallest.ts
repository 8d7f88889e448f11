/**
 * The `n`-th smallest (from 0) of the first `count` values, which are put into another order. Linear on average; none of
 * the values may be NaN. Source: C. A. R. Hoare, "Algorithm 65: Find", Communications of the ACM 4 (1961), from memory.
 */
export function nthSmallest(values: Float64Array, count: number, n: number): number {
	let from = 0;
	let to = count - 1;
	while (from < to) {
		const pivot = values[(from + to) >> 1];
		let i = from;
		let j = to;
		while (i <= j) {
			while (values[i] < pivot) i++;
			while (values[j] > pivot) j--;
			if (i > j) break;
			const value = values[i];
			values[i++] = values[j];
			values[j--] = value;
		}
		if (n <= j) to = j;
		else if (n >= i) from = i;
		else break;
	}
	return values[n];
}

/** Values are copied here before they are put into another order. */
const scratch = {values: new Float64Array(1024)};

/** Room for `count` values. */
function roomFor(count: number): Float64Array {
	if (count > scratch.values.length) scratch.values = new Float64Array(2 * count);
	return scratch.values;
}

/** Median of the first `count` values, which are put into another order: the mean of the middle two of an even count. NaN for none. */
export function medianInPlace(values: Float64Array, count: number): number {
	const upper = nthSmallest(values, count, count >> 1);
	if (count % 2 === 1) return upper;
	if (count === 0) return Number.NaN;
	let lower = values[0];
	for (let i = 1; i < count >> 1; i++) if (values[i] > lower) lower = values[i];
	return (lower + upper) / 2;
}

/**
 * Median of `count` values from place `from` on, which are left as they are: the mean of the middle two of an even count.
 * NaN for none.
 */
export function medianOf(values: ArrayLike<number>, from = 0, count = values.length): number {
	const room = roomFor(count);
	for (let i = 0; i < count; i++) room[i] = values[from + i];
	return medianInPlace(room, count);
}

/**
 * Quantile `share` (0…1) of the first `count` values, which are left as they are: between the two nearest in order, in
 * proportion (type 7 of Hyndman & Fan 1996). NaN for none.
 */
export function quantileOf(values: ArrayLike<number>, count: number, share: number): number {
	if (count === 0) return Number.NaN;
	const room = roomFor(count);
	for (let i = 0; i < count; i++) room[i] = values[i];
	const rank = share * (count - 1);
	const below = Math.floor(rank);
	const low = nthSmallest(room, count, below);
	if (below === rank) return low;
	let high = Number.POSITIVE_INFINITY;
	for (let i = below + 1; i < count; i++) high = Math.min(high, room[i]);
	return low + (rank - below) * (high - low);
}
