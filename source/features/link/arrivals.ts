import type {StateBlock} from '../state-block.ts';

/**
 * A frame as it arrives, in an array that is filled anew for each one, since numbers that cross a call are allocated. What stands
 * where in it: when it came, seconds; how long after the one before it, seconds (NaN for the first) and in nominal intervals; the
 * value of its counter and the board's own time in its unit, NaN without one.
 */
export type Arrival = Float64Array;
export const cameAt = 0;
export const sinceLast = 1;
export const pauseBefore = 2;
export const counterNow = 3;
export const clockNow = 4;
export const arrivalLength = 5;

/** Arrival times of the latest frames in a ring: 41 s at 100 frames/s. */
export class Arrivals {
	static readonly capacity = 4096;
	private readonly times: Float64Array;
	private readonly came: Float64Array;
	/** Frames that had come when the epoch began: older ones are none of its. */
	private readonly before: Float64Array;
	private readonly first: Float64Array;

	constructor(kept: StateBlock) {
		this.times = kept.floats(Arrivals.capacity);
		this.came = kept.floats(1);
		this.before = kept.floats(1);
		this.first = kept.floats(1, Number.NaN);
	}

	/** Frames ever. */
	get count(): number {
		return this.came[0];
	}

	/** Frames of this epoch. */
	get inEpoch(): number {
		return this.came[0] - this.before[0];
	}

	/** Frames of this epoch that are held. */
	get held(): number {
		return Math.min(this.inEpoch, Arrivals.capacity);
	}

	/** When the first frame of the epoch came, seconds; NaN before. */
	get firstInEpoch(): number {
		return this.first[0];
	}

	add(frame: Arrival): void {
		if (this.inEpoch === 0) this.first[0] = frame[cameAt];
		this.times[this.came[0] & (Arrivals.capacity - 1)] = frame[cameAt];
		this.came[0]++;
	}

	/** Arrival of the frame `back` frames before the newest. */
	at(back: number): number {
		return this.times[(this.came[0] - 1 - back) & (Arrivals.capacity - 1)];
	}

	/**
	 * How many of the latest frames, the newest included, came less than `seconds` before the newest, `most` at the most: the
	 * first place for `at` that is farther back. Frames come one after the other.
	 */
	within(seconds: number, most: number): number {
		const {times} = this;
		const mask = Arrivals.capacity - 1;
		const newest = this.came[0] - 1;
		const latest = times[newest & mask];
		let low = 0;
		let high = most;
		while (low < high) {
			const middle = (low + high) >>> 1;
			if (latest - times[(newest - middle) & mask] < seconds) low = middle + 1;
			else high = middle;
		}
		return low;
	}

	/** Fills in the intervals before the latest `count` frames, the newest first, seconds. */
	intervalsInto(intervals: Float64Array, count: number): void {
		const {times} = this;
		const mask = Arrivals.capacity - 1;
		const newest = this.came[0] - 1;
		let later = times[newest & mask];
		for (let back = 0; back < count; back++) {
			const earlier = times[(newest - back - 1) & mask];
			intervals[back] = later - earlier;
			later = earlier;
		}
	}

	/** An epoch begins with frame number `first`; those before it are left out. */
	beginEpoch(first: number): void {
		this.before[0] = first;
		this.first[0] = this.inEpoch > 0 ? this.at(Math.min(this.inEpoch, Arrivals.capacity) - 1) : Number.NaN;
	}
}
