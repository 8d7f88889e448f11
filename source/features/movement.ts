/** A channel moves where it goes this share of its own span within half a second (check-values D5.4, rough-track). */
export const movesOfSpan = 0.05;

/** Half of that half second: a frame is judged once so much has come after it. */
const halfSeconds = 0.25;

/** Frames in a quarter of a second; at least one. `rate` in frames/s. */
export function quarterSecond(rate: number): number {
	return Math.max(1, Math.floor(halfSeconds * rate));
}
