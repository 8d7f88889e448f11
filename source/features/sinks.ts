import type {Features, Watch} from './features.ts';
import type {StateBlock} from './state-block.ts';

/** A sink goes down at least so far (share of full scale, check-values D5.2) and takes a second: leakage is slow. */
const leastShare = 0.05;
const leastSeconds = 1;

/**
 * What lifted it was no finger but a touch or a spark: within two frames, and sooner than a quick finger goes, which takes
 * 71 ms for half a tap at 7 Hz (check-values H16). Within one frame where the frame rate is only assumed.
 */
const mostLeapFrames = 2;
const mostLeapSeconds = 0.065;
const mostUntimedLeapFrames = 1;

/** What lay at the end of the scale was cut off there: how it left is not how charge leaks away. */
const railShare = 0.01;

/**
 * Charge leaks exponentially: half way in time between the first tenth and the ninth it has gone 1 − 0.9·e^(−1.1) = 0.70 of
 * its way, a finger that brakes at both ends 0.50. The mean of the two decides.
 */
const leastHalfWay = 0.6;

/** What leaks away slows down: how far it goes is known once it is lifted again, or so long after it was nine tenths of the way. */
const tailSeconds = 2;

/** Sinks are counted within a minute. */
const kept = 8;
const windowSeconds = 60;

/** Levels that leap up and leak away again, as those of an open pin do when it is touched. */
export class Sinks implements Watch {
	private readonly times: Float64Array;
	private readonly total: Int32Array;
	private readonly lookedTo: Int32Array;
	/** Depth of the latest sink, counts. */
	readonly depth: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.times = state.floats(channels * kept, Number.NEGATIVE_INFINITY);
		this.total = state.ints(channels);
		this.lookedTo = state.ints(channels);
		this.depth = state.floats(channels);
	}

	/** Sinks of the last minute, at most eight; and when the first of them began, seconds. */
	recent(a: number, now: number): {readonly count: number; readonly from: number} {
		let count = 0;
		let from = now;
		for (let i = 0; i < kept; i++) {
			const t = this.times[a * kept + i];
			if (t < now - windowSeconds) continue;
			count++;
			from = Math.min(from, t);
		}
		return {count, from};
	}

	close(features: Features): void {
		const {trips} = features.analog;
		for (let a = 0; a < this.channels; a++) {
			for (let number = Math.max(this.lookedTo[a], trips.oldest(a) + 1); number < trips.count[a]; number++) {
				const place = trips.at(a, number);
				const isLast = number === trips.count[a] - 1;
				if (isLast && (trips.settled[place] === 0 || features.now - trips.inAt[place] < tailSeconds)) break;
				this.lookedTo[a] = number + 1;
				if (this.isSink(features, a, place, trips.at(a, number - 1)))
					this.note(a, trips.startAt[place], -trips.way[place]);
			}
		}
	}

	forget(a: number): void {
		this.times.fill(Number.NEGATIVE_INFINITY, a * kept, (a + 1) * kept);
		this.lookedTo[a] = 0;
	}

	private note(a: number, t: number, depth: number): void {
		this.times[a * kept + (this.total[a]++ % kept)] = t;
		this.depth[a] = depth;
	}

	private isSink(features: Features, a: number, place: number, before: number): boolean {
		const {analog, history, scale} = features;
		const {trips} = analog;
		if (!(trips.way[place] <= -leastShare * scale.fullScale)) return false;
		if (trips.inAt[place] - trips.startAt[place] < leastSeconds) return false;
		const mostFrames = features.link.timing === 'assumed' ? mostUntimedLeapFrames : mostLeapFrames;
		if (trips.inFrame[before] - trips.outFrame[before] > mostFrames) return false;
		if (trips.inAt[before] - trips.outAt[before] > mostLeapSeconds) return false;
		if (trips.startValue[place] >= scale.highOf(a) - railShare * scale.fullScale) return false;
		const half = history.firstAt((trips.outAt[place] + trips.inAt[place]) / 2);
		const gone = (history.reading(half, analog.columns[a]) - trips.startValue[place]) / trips.way[place];
		return gone >= leastHalfWay;
	}
}
