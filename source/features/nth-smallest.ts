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
