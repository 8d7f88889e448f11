/**
 * Minimum-jerk profile: share of the way covered at `phase` 0…1 of the duration. Peak speed 1.875 ways per duration.
 *
 * Source: T. Flash and N. Hogan, J. Neurosci. 5 (1985), 1688–1703 (from memory).
 */
export function minimumJerk(phase: number): number {
	if (phase <= 0) return 0;
	if (phase >= 1) return 1;
	return phase * phase * phase * (10 + phase * (6 * phase - 15));
}

type Submovement = {readonly start: number; readonly duration: number; readonly delta: number};
type Curve = {readonly start: number; readonly end: number; readonly value: (t: number) => number};

/** Position of one finger or stick axis: superposed minimum-jerk movements. */
export class Axis {
	/** Where the last planned movement ends. */
	level: number;
	lowest: number;
	highest: number;
	#base: number;
	#movements: Submovement[] = [];
	#curves: Curve[] = [];

	constructor(level: number) {
		this.level = level;
		this.#base = level;
		this.lowest = level;
		this.highest = level;
	}

	move(start: number, duration: number, to: number): void {
		const movement = {start, duration, delta: to - this.level};
		this.level = to;
		if (to < this.lowest) this.lowest = to;
		if (to > this.highest) this.highest = to;
		let at = this.#movements.length;
		while (at > 0 && this.#movements[at - 1].start > start) at--;
		this.#movements.splice(at, 0, movement);
	}

	curve(start: number, end: number, value: (t: number) => number): void {
		this.#curves.push({start, end, value});
	}

	/** Times must not fall. */
	at(t: number): number {
		const movements = this.#movements;
		let done = 0;
		let value = this.#base;
		for (let i = 0; i < movements.length; i++) {
			const {start, duration, delta} = movements[i];
			if (start >= t) break;
			const phase = (t - start) / duration;
			if (phase >= 1) {
				value += delta;
				if (i === done) {
					this.#base += delta;
					done++;
				}
			} else {
				value += delta * minimumJerk(phase);
			}
		}
		if (done > 0) movements.splice(0, done);
		if (this.#curves.length > 0) {
			for (const curve of this.#curves) if (t > curve.start && t < curve.end) value += curve.value(t);
			if (this.#curves[0].end < t) this.#curves.shift();
		}
		return value;
	}
}
