import {lead, type Run} from './run.ts';

/** Turning points remembered per channel. */
const kept = 64;

/**
 * Travel of every channel as a row of turning points: a turn is noted once the reading has come back from its
 * farthest point by a threshold, so noise smaller than that never counts. There and back twice is four turns.
 */
export class Trips {
	static readonly kept = kept;
	/** Turns noted so far. */
	readonly count: Int32Array;
	/** Ring per channel, see `at`: reading at the turn, when it was reached, and when the way back was far enough. */
	readonly values: Float64Array;
	readonly reachedAt: Float64Array;
	readonly notedAt: Float64Array;
	/** +1 for a turn at the top, −1 at the bottom. */
	readonly kinds: Int8Array;
	private readonly direction: Int8Array;
	private readonly bottom: Float64Array;
	private readonly bottomAt: Float64Array;
	private readonly top: Float64Array;
	private readonly topAt: Float64Array;

	constructor(channels: number) {
		this.count = new Int32Array(channels);
		this.values = new Float64Array(channels * kept);
		this.reachedAt = new Float64Array(channels * kept);
		this.notedAt = new Float64Array(channels * kept);
		this.kinds = new Int8Array(channels * kept);
		this.direction = new Int8Array(channels);
		this.bottom = new Float64Array(channels).fill(Number.POSITIVE_INFINITY);
		this.bottomAt = new Float64Array(channels);
		this.top = new Float64Array(channels).fill(Number.NEGATIVE_INFINITY);
		this.topAt = new Float64Array(channels);
	}

	/** Takes a block's readings, or with `smooth` the median of each and the two before it; `threshold` in counts. */
	take(a: number, run: Run, threshold: number, smooth: boolean): void {
		const {readings, kept, keptCount} = run;
		if (this.staysBetween(a, run, threshold)) return;
		let direction = this.direction[a];
		let top = this.top[a];
		let bottom = this.bottom[a];
		// Places at which the farthest readings were reached, −1 where that was before this block.
		let topAt = -1;
		let bottomAt = -1;
		for (let k = 0; k < keptCount; k++) {
			const at = lead + kept[k];
			const reading = smooth ? median3(readings[at - 2], readings[at - 1], readings[at]) : readings[at];
			if (direction >= 0) {
				if (reading >= top) {
					top = reading;
					topAt = k;
				}
				if (reading < top - threshold) {
					this.note(a, 1, top, topAt < 0 ? this.topAt[a] : run.time(kept[topAt]), run.time(kept[k]));
					direction = -1;
					bottom = reading;
					bottomAt = k;
					continue;
				}
			}
			if (direction <= 0) {
				if (reading <= bottom) {
					bottom = reading;
					bottomAt = k;
				}
				if (reading > bottom + threshold) {
					this.note(a, -1, bottom, bottomAt < 0 ? this.bottomAt[a] : run.time(kept[bottomAt]), run.time(kept[k]));
					direction = 1;
					top = reading;
					topAt = k;
				}
			}
		}
		this.direction[a] = direction;
		this.top[a] = top;
		this.bottom[a] = bottom;
		if (topAt >= 0) this.topAt[a] = run.time(kept[topAt]);
		if (bottomAt >= 0) this.bottomAt[a] = run.time(kept[bottomAt]);
	}

	/** Whether no reading of the block goes farther than before, nor far enough back for a turn. */
	private staysBetween(a: number, run: Run, threshold: number): boolean {
		const [first, second] = [run.readings[lead - 2], run.readings[lead - 1]];
		const low = Math.min(first, second, run.low);
		const high = Math.max(first, second, run.high);
		const direction = this.direction[a];
		const below = direction < 0 || (high < this.top[a] && low >= this.top[a] - threshold);
		return below && (direction > 0 || (low > this.bottom[a] && high <= this.bottom[a] + threshold));
	}

	/** Place of turn `number` (from 0) of channel `a` in the rings. */
	at(a: number, number: number): number {
		return a * kept + (number & (kept - 1));
	}

	/** Number of the oldest turn still held. */
	oldest(a: number): number {
		return Math.max(0, this.count[a] - kept);
	}

	/** Turns of channel `a` noted at or after `t`, at most `kept`. */
	turnsSince(a: number, t: number): number {
		let number = this.count[a];
		const oldest = this.oldest(a);
		while (number > oldest && this.notedAt[this.at(a, number - 1)] >= t) number--;
		return this.count[a] - number;
	}

	/** When the `turns`-th latest turn was reached; undefined before so many. */
	sinceTurns(a: number, turns: number): number | undefined {
		return this.count[a] < turns || turns > kept ? undefined : this.reachedAt[this.at(a, this.count[a] - turns)];
	}

	/** Longest way between two neighbouring turns noted since `t`, the way now under way included; counts. */
	longestSince(a: number, t: number): number {
		let longest = 0;
		const oldest = this.oldest(a);
		for (let number = this.count[a] - 1; number >= oldest; number--) {
			const place = this.at(a, number);
			if (this.notedAt[place] < t) break;
			// A turn is noted when its way back is under way: that way is the one it begins.
			const end = number + 1 < this.count[a] ? this.values[this.at(a, number + 1)] : this.farthest(a);
			longest = Math.max(longest, Math.abs(end - this.values[place]));
		}
		return longest;
	}

	/** The farthest reading of the way under way. */
	farthest(a: number): number {
		return this.direction[a] > 0 ? this.top[a] : this.bottom[a];
	}

	private note(a: number, kind: number, value: number, reachedAt: number, t: number): void {
		const place = this.at(a, this.count[a]);
		this.kinds[place] = kind;
		this.values[place] = value;
		this.reachedAt[place] = reachedAt;
		this.notedAt[place] = t;
		this.count[a]++;
	}
}

function median3(a: number, b: number, c: number): number {
	return a < b ? (b < c ? b : Math.max(a, c)) : a < c ? a : Math.max(b, c);
}
