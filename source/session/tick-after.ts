/** After so long a silence ticks find no more than that a window has run out, and that to within 1/240 of the silence. */
const longSilenceSeconds = 120;

/**
 * The grid time after `tick`, both whole numbers of steps of `step` seconds. In a silence that began at `quietSince` and
 * goes on for long, ever fewer grid times are taken, so that the work grows with the logarithm of the silence: one damaged
 * time in a file must not cost hours.
 */
export function tickAfter(tick: number, step: number, quietSince: number): number {
	const quiet = tick - quietSince;
	const stride = quiet < longSilenceSeconds ? 1 : 2 ** (1 + Math.floor(Math.log2(quiet / longSilenceSeconds)));
	// From the number of the tick, so that rounding never adds up.
	return (Math.floor(Math.round(tick / step) / stride) + 1) * stride * step;
}

/** The first grid time after `t`, a moment that need not lie on the grid. */
export function firstTickAfter(t: number, step: number): number {
	return (Math.floor(t / step + 1e-6) + 1) * step;
}
