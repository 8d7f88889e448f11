/** Where a line at `hertz` appears when sampled `rate` times a second: 0 … rate/2 (check-values N7). */
export function aliasOf(hertz: number, rate: number): number {
	return Math.abs(hertz - rate * Math.round(hertz / rate));
}

/**
 * Whether hum can be seen as an oscillation at this frame rate: an alias below 2 Hz looks like drift or an offset
 * (check-values N9), and above 0.97 of half the frame rate its samples may all fall near the zero crossings.
 */
export function humShows(hertz: number, rate: number): boolean {
	const alias = aliasOf(hertz, rate);
	return alias >= 2 && alias <= 0.97 * (rate / 2);
}
