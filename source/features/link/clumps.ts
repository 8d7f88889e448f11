import type {StateBlock} from '../state-block.ts';
import {Arrivals} from './arrivals.ts';

/** A host that hangs for two seconds and then hands over all at once fills a fifth of this, no more. */
const windowSeconds = 10;

/** Spacing inside a clump, as a share of the mean interval, and its frames (definition). */
const closeShare = 0.1;
const leastFrames = 3;

/** Used within one call only. */
const intervals = new Float64Array(Arrivals.capacity);

/** Frames that come in clumps, over the latest ten seconds of an epoch. */
export class Clumps {
	/** Share of the frames that came in clumps, 0…1; clumps and frames that were looked at. */
	readonly share: Float64Array;
	readonly clumps: Float64Array;
	readonly frames: Float64Array;
	/** Frames in clumps. */
	readonly grouped: Float64Array;
	/** Time they were looked at over, seconds, and when that began. */
	readonly seconds: Float64Array;
	readonly from: Float64Array;

	constructor(state: StateBlock) {
		this.share = state.floats(1);
		this.clumps = state.floats(1);
		this.frames = state.floats(1);
		this.grouped = state.floats(1);
		this.seconds = state.floats(1);
		this.from = state.floats(1);
	}

	/** Looks at the latest frames again. */
	measure(arrivals: Arrivals): void {
		const {held} = arrivals;
		if (held < 2) return;
		const frames = Math.max(1, arrivals.within(windowSeconds, held));
		arrivals.intervalsInto(intervals, frames - 1);
		const seconds = arrivals.at(0) - arrivals.at(frames - 1);
		const close = (closeShare * seconds) / (frames - 1);
		let grouped = 0;
		let clumps = 0;
		let size = 1;
		for (let back = 0; back < frames; back++) {
			if (back + 1 < frames && intervals[back] < close) {
				size++;
				continue;
			}
			if (size >= leastFrames) {
				grouped += size;
				clumps++;
			}
			size = 1;
		}
		this.share[0] = grouped / frames;
		this.clumps[0] = clumps;
		this.frames[0] = frames;
		this.grouped[0] = grouped;
		this.seconds[0] = seconds;
		this.from[0] = arrivals.at(frames - 1);
	}
}
