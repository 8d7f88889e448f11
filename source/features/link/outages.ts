import type {StateBlock} from '../state-block.ts';
import {type Arrival, cameAt} from './arrivals.ts';
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

	/** A frame came; the one before it came at `before[place]`, seconds. */
	take(frame: Arrival, before: Float64Array, place: number): void {
		if (frame[cameAt] - before[place] >= leastSeconds) this.gaps.add(frame[cameAt] - before[place]);
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
