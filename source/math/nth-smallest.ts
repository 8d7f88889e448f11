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
	if (count === 3 || count === 4) return medianOfFew(values, 0, count);
	if (count >= leastToSample) {
		const quick = medianBetween(values, count);
		if (!Number.isNaN(quick)) return quick;
	}
	const upper = nthSmallest(values, count, count >> 1);
	if (count % 2 === 1) return upper;
	if (count === 0) return Number.NaN;
	let lower = values[0];
	for (let i = 1; i < count >> 1; i++) if (values[i] > lower) lower = values[i];
	return (lower + upper) / 2;
}

/** The median of the three or four values from a place on; NaN where one of them is. */
function medianOfFew(values: Float64Array, at: number, count: number): number {
	const a = values[at];
	const b = values[at + 1];
	const c = values[at + 2];
	if (count === 3) return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
	const d = values[at + 3];
	return (Math.max(Math.min(a, b), Math.min(c, d)) + Math.min(Math.max(a, b), Math.max(c, d))) / 2;
}

/**
 * The median of each of `count` rows of `width` values, which lie one behind the other and may be put into another order; NaN where
 * a value of the row is none.
 */
export function mediansOfRows(rows: Float64Array, width: number, count: number, medians: Float64Array): void {
	if (width === 3 || width === 4) {
		// Four readings of the other fingers of a hand: by far the usual case.
		for (let row = 0; row < count; row++) medians[row] = medianOfFew(rows, row * width, width);
		return;
	}
	for (let row = 0; row < count; row++) {
		const values = rows.subarray(row * width, (row + 1) * width);
		medians[row] = values.some(Number.isNaN) ? Number.NaN : medianInPlace(values, width);
	}
}

/** From so many values on it is quicker to look first where their middle lies: by so many of them, and this share to either side. */
const leastToSample = 1024;
const sampled = 128;
const besideMiddle = 0.15;

/** Used within one call only. */
const sample = new Float64Array(sampled);
const between = {values: new Float64Array(1024)};

/**
 * The median of many values, where it lies between two quantiles of some of them; NaN where it does not, which is rare. The same
 * number that a look at all of them gives: those between the two are put in order, and the rest is counted.
 */
function medianBetween(values: Float64Array, count: number): number {
	const stride = count / sampled;
	for (let i = 0; i < sampled; i++) sample[i] = values[Math.floor(i * stride)];
	const below = Math.floor((0.5 - besideMiddle) * sampled);
	const from = nthSmallest(sample, sampled, below);
	const to = nthSmallest(sample, sampled, sampled - 1 - below);
	if (count > between.values.length) between.values = new Float64Array(2 * count);
	const room = between.values;
	let less = 0;
	let used = 0;
	for (let i = 0; i < count; i++) {
		const value = values[i];
		if (value < from) less++;
		else if (value <= to) room[used++] = value;
	}
	const upper = (count >> 1) - less;
	if (upper < 1 || upper >= used) return Number.NaN;
	const high = nthSmallest(room, used, upper);
	if (count % 2 === 1) return high;
	let low = room[0];
	for (let i = 1; i < upper; i++) if (room[i] > low) low = room[i];
	return (low + high) / 2;
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

/** Median of values, which are left as they are: of an even count the upper one of the middle two, so always a value that was there. NaN for none. */
export function upperMedianOf(values: ArrayLike<number>): number {
	const count = values.length;
	if (count === 0) return Number.NaN;
	const room = roomFor(count);
	for (let i = 0; i < count; i++) room[i] = values[i];
	return nthSmallest(room, count, count >> 1);
}

/**
 * Quantile `share` (0…1) of the first `count` values, which are left as they are: between the two nearest in order, in
 * proportion (type 7 of Hyndman & Fan 1996). NaN for none.
 */
export function quantileOf(values: ArrayLike<number>, count: number, share: number, from = 0): number {
	if (count === 0) return Number.NaN;
	const room = roomFor(count);
	for (let i = 0; i < count; i++) room[i] = values[from + i];
	const rank = share * (count - 1);
	const below = Math.floor(rank);
	const low = nthSmallest(room, count, below);
	if (below === rank) return low;
	let high = Number.POSITIVE_INFINITY;
	for (let i = below + 1; i < count; i++) high = Math.min(high, room[i]);
	return low + (rank - below) * (high - low);
}
