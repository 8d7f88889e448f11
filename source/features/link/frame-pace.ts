import {nthSmallest} from '../../math/nth-smallest.ts';
import type {StateBlock} from '../state-block.ts';
import type {Arrivals} from './arrivals.ts';

/** Over so long a frame rate is judged (definition). */
const windowSeconds = 10;

/** So far back it is looked for ten seconds of frames: a stream that stops for three quarters of the time has no pace. */
const longestLook = 4 * windowSeconds;

/** Longer gaps are stops of the stream, not its pace; in median intervals (definition). */
const longestGap = 5;

/** A median this far below the mean is that of frames in clumps: then all gaps belong to the pace. */
const clumpedShare = 0.1;

/** Fewer intervals have no median worth the name. */
const leastIntervals = 3;

/** Above so many frames in a window nobody calls them slow, and they need not be looked at one by one. */
const mostFrames = 2048;

/** How many frames come a second, over the latest ten seconds in which they came. */
export class FramePace {
	/** Frames/s; NaN before a few frames. */
	readonly framesPerSecond: Float64Array;
	/** What it was taken over: seconds of intervals, their median, and when the first of them began. */
	readonly seconds: Float64Array;
	readonly median: Float64Array;
	readonly from: Float64Array;
	private readonly intervals = new Float64Array(mostFrames);

	constructor(state: StateBlock) {
		this.framesPerSecond = state.floats(1, Number.NaN);
		this.seconds = state.floats(1);
		this.median = state.floats(1);
		this.from = state.floats(1);
	}

	/** Looks at the latest frames again. */
	measure(arrivals: Arrivals): void {
		const {intervals} = this;
		const most = Math.min(arrivals.held - 1, mostFrames);
		if (most < leastIntervals) return;
		// Longer than the window: gaps that are left out take time too.
		const count = arrivals.within(longestLook, most);
		const recent = Math.max(leastIntervals, arrivals.within(windowSeconds, count + 1));
		const latest = Math.min(recent, count);
		arrivals.intervalsInto(intervals, latest);
		reordered.set(latest === mostFrames ? intervals : intervals.subarray(0, latest));
		const median = nthSmallest(reordered, latest, latest >> 1);
		const mean = (arrivals.at(0) - arrivals.at(count)) / count;
		const limit = median <= clumpedShare * mean ? Number.POSITIVE_INFINITY : longestGap * median;
		let kept = 0;
		let seconds = 0;
		let back = 0;
		for (; back < count && seconds < windowSeconds; back++) {
			// Where some are left out it takes more of them.
			if (back === latest) arrivals.intervalsInto(intervals, count);
			if (intervals[back] > limit) continue;
			seconds += intervals[back];
			kept++;
		}
		if (kept < leastIntervals || seconds <= 0) return;
		this.framesPerSecond[0] = kept / seconds;
		// So many frames in less than the window are plenty for all of it.
		this.seconds[0] = count === mostFrames ? windowSeconds : seconds;
		this.median[0] = median;
		this.from[0] = arrivals.at(back);
	}
}

/** Used within one call only. */
const reordered = new Float64Array(mostFrames);
