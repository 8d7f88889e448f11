/**
 * How often a signal turns: reversals from whose farthest point it has come back by at least `least` (same unit). Noise
 * smaller than that never counts.
 */
export function countTurns(signal: ArrayLike<number>, least: number): number {
	let turns = 0;
	let direction = 0;
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	for (let i = 0; i < signal.length; i++) {
		const x = signal[i];
		if (x < low) low = x;
		if (x > high) high = x;
		if (direction >= 0 && x <= high - least) {
			// The first leg tells the direction; only what follows is a turn.
			if (direction > 0) turns++;
			direction = -1;
			low = x;
		} else if (direction <= 0 && x >= low + least) {
			if (direction < 0) turns++;
			direction = 1;
			high = x;
		}
	}
	return turns;
}
