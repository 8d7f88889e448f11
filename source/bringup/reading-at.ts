/** The reading of a column in the frame that begins at `base`: NaN, as for a field without a number, where there is none. */
export function readingAt(values: Float64Array, base: number, column: number): number {
	return values[base + column] ?? Number.NaN;
}
