/** One voluntary movement of one finger. Targets: 0 is the open hand, 1 the fist. */
export type Stroke = {
	readonly finger: string;
	/** Seconds from the start of the session. */
	readonly start: number;
	readonly seconds: number;
	readonly target: number;
};

/**
 * Share of the way gone at share `u` of the time: the path of least jerk, which hands follow.
 * Source: T. Flash and N. Hogan, J. Neurosci. 5 (1985) 1688 (from memory).
 */
export function minimumJerk(u: number): number {
	if (u <= 0) return 0;
	if (u >= 1) return 1;
	return u * u * u * (10 - 15 * u + 6 * u * u);
}

/**
 * Where one finger is at evenly spaced times. A stroke that begins before the last one is over is laid over it, each
 * going on with its own way: so the path stays smooth where a hand changes its mind.
 *
 * Strokes must come in order of their start. `rate`: times a second.
 */
export function follow(strokes: readonly Stroke[], count: number, rate: number): Float64Array {
	const path = new Float64Array(count);
	let target = 0;
	for (const stroke of strokes) {
		const way = stroke.target - target;
		target = stroke.target;
		if (way === 0) continue;
		const first = Math.max(0, Math.ceil(stroke.start * rate));
		const end = (stroke.start + stroke.seconds) * rate;
		let k = first;
		for (; k < count && k < end; k++) path[k] += way * minimumJerk((k / rate - stroke.start) / stroke.seconds);
		for (; k < count; k++) path[k] += way;
	}
	return path;
}
