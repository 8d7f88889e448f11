import type {StateBlock} from '../state-block.ts';

/** Shorter gaps are met on every sound link: scheduling of a desktop host, the pauses of Bluetooth (common practice, no source). */
const leastSeconds = 0.2;
const leastIntervals = 5;

/** Times in which no frame came, of the session: gaps of at least 200 ms and five intervals. */
export class Outages {
	readonly count: Int32Array;
	/** Seconds; 0 without one. */
	readonly longest: Float64Array;
	private readonly usual: Float64Array;

	constructor(kept: StateBlock) {
		this.count = kept.ints(1);
		this.longest = kept.floats(1);
		this.usual = kept.floats(1, Number.NaN);
	}

	/** A frame came at `t`, the one before at `before`; `interval` is the usual spacing, NaN while it is not known. */
	take(t: number, before: number, interval: number): void {
		// Just after a break the spacing of before it is the best that is known.
		if (!Number.isNaN(interval)) this.usual[0] = interval;
		const gap = t - before;
		if (!(gap >= leastSeconds && gap >= leastIntervals * this.usual[0])) return;
		this.count[0]++;
		if (gap > this.longest[0]) this.longest[0] = gap;
	}
}
