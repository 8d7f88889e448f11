/**
 * The ratio of two mean squares, with so many degrees of freedom above and below, that chance alone passes as rarely as a
 * normal deviate passes `deviate` standard deviations: an upper quantile of the F distribution, by the cube roots of the mean
 * squares, which are nearly normal (Wilson and Hilferty; Paulson). Never below the exact quantile and within 2 % of it from ten
 * degrees of freedom below on, for deviates up to 2.6; far above it where there are fewer. Infinite below three.
 */
export function fQuantile(above: number, below: number, deviate: number): number {
	if (!(above >= 1) || !(below >= 3)) return Number.POSITIVE_INFINITY;
	const a = 2 / (9 * above);
	const b = 2 / (9 * below);
	// (1 − b) y − (1 − a) = deviate √(b y² + a), solved for the cube root y of the ratio.
	const square = (1 - b) ** 2 - deviate ** 2 * b;
	if (square <= 0) return Number.POSITIVE_INFINITY;
	const middle = (1 - a) * (1 - b);
	const rest = (1 - a) ** 2 - deviate ** 2 * a;
	return ((middle + Math.sqrt(Math.max(0, middle ** 2 - square * rest))) / square) ** 3;
}
