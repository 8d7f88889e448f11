import type {StateBlock} from '../state-block.ts';
import {IntervalSketch} from './interval-sketch.ts';

/** Shorter gaps are met on every sound link: scheduling of a desktop host, the pauses of Bluetooth (common practice, no source). */
const leastSeconds = 0.2;
const leastIntervals = 5;

/** Times in which no frame came, of the session: gaps of at least 200 ms and five intervals. */
export class Outages {
	private readonly gaps: IntervalSketch;

	constructor(kept: StateBlock) {
		this.gaps = new IntervalSketch(kept);
	}

	/** A frame came at `t`, the one before at `before`. */
	take(t: number, before: number): void {
		if (t - before >= leastSeconds) this.gaps.add(t - before);
	}

	/** How many there were; `interval` is the usual spacing of the frames as it is known now. */
	count(interval: number): number {
		return this.gaps.from(leastIntervals * interval);
	}

	/** The longest of them, seconds; 0 without one. */
	longest(interval: number): number {
		return this.count(interval) > 0 ? this.gaps.largest : 0;
	}
}
