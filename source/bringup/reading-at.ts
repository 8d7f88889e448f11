/** The reading of a column in a frame: NaN, as for a field without a number, where there is none. */
export function readingAt(values: Float64Array, column: number): number {
	return values[column] ?? Number.NaN;
}
