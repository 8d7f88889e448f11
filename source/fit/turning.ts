/**
 * When a reading has turned, for the ends of a finger's range and for pulls at a reel alike. Both shares are practice,
 * no published source: neighbours that follow by a quarter must not look like ways of their own, and 6 % of full scale
 * is ten times the noise that a reel may have (`max_noise_percent`, 0.6).
 */
export const leastTurnShare = 0.06;
export const turnShare = 0.25;

/** How far back a reading must come to have turned, after a way of `span`. All in the unit of the readings. */
export function turnAfter(span: number, fullScale: number): number {
	return Math.max(leastTurnShare * fullScale, turnShare * span);
}
