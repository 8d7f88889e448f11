/** What some numbers add up to; 0 of none. */
export function sumOf(values: Iterable<number>): number {
	let sum = 0;
	for (const value of values) sum += value;
	return sum;
}

/** Arithmetic mean; NaN of none. */
export function meanOf(values: readonly number[]): number {
	return sumOf(values) / values.length;
}
