import {type FrameHistory, frameMask} from './frame-history.ts';

/** Slots kept per level; a level's slots are this many times longer than the level's below. */
const slotsPerLevel = 2048;
const growth = 8;
const levels = 4;

/** Slots read for one column of a chart at the most, where a coarser level has fewer. */
const mostSlotsRead = 256;

/** Length of a slot of the finest level, seconds: a column of a chart of two minutes on a wide screen. */
const finestSeconds = 0.05;

export type TrendBucket = {readonly low: number; readonly high: number};

/**
 * Lowest and highest reading of every column over time, in four rings whose slots last 0.05 s, 0.4 s, 3.2 s and 25.6 s:
 * 100 s of fine history and 14 hours of coarse, in constant memory, extremes kept.
 */
export class TrendHistory {
	readonly width: number;
	private readonly low: Float32Array[] = [];
	private readonly high: Float32Array[] = [];
	/** Number of the slot that each ring place holds; −1 while unused. */
	private readonly number: Int32Array[] = [];
	private taken = 0;

	constructor(width: number) {
		this.width = width;
		for (let level = 0; level < levels; level++) {
			this.low.push(new Float32Array(slotsPerLevel * width));
			this.high.push(new Float32Array(slotsPerLevel * width));
			this.number.push(new Int32Array(slotsPerLevel).fill(-1));
		}
	}

	/** Takes in the frames that have come since the last call, as far as `frames` still holds them. */
	take(frames: FrameHistory): void {
		const {width} = this;
		const low = this.low[0];
		const high = this.high[0];
		const {columns} = frames;
		for (let first = Math.max(this.taken, frames.oldest); first < frames.count; ) {
			const number = Math.floor(frames.time(first) / finestSeconds);
			let end = first + 1;
			while (end < frames.count && Math.floor(frames.time(end) / finestSeconds) === number) end++;
			const slot = this.open(0, number);
			for (let i = 0; i < width; i++) {
				const readings = columns[i];
				for (let frame = first; frame < end; frame++) {
					// A missing reading (NaN) is neither.
					const value = readings[frame & frameMask];
					if (value < low[slot + i]) low[slot + i] = value;
					if (value > high[slot + i]) high[slot + i] = value;
				}
			}
			first = end;
		}
		this.taken = frames.count;
	}

	/** Where a slot of a level begins; a new one is empty (low above high), and the one before it goes up a level. */
	private open(level: number, number: number): number {
		const {width} = this;
		const place = number & (slotsPerLevel - 1);
		const base = place * width;
		if (this.number[level][place] === number) return base;
		if (level + 1 < levels) this.raise(level, number - 1);
		this.number[level][place] = number;
		this.low[level].fill(Number.POSITIVE_INFINITY, base, base + width);
		this.high[level].fill(Number.NEGATIVE_INFINITY, base, base + width);
		return base;
	}

	/** Folds the newest complete slot at or before `number` into the level above. */
	private raise(level: number, number: number): void {
		for (let back = 0; back < slotsPerLevel && number - back >= 0; back++) {
			const place = (number - back) & (slotsPerLevel - 1);
			if (this.number[level][place] !== number - back) {
				if (back > growth * 4) return;
				continue;
			}
			const {width} = this;
			const from = place * width;
			const to = this.open(level + 1, Math.floor((number - back) / growth));
			const low = this.low[level + 1];
			const high = this.high[level + 1];
			for (let i = 0; i < width; i++) {
				low[to + i] = Math.min(low[to + i], this.low[level][from + i]);
				high[to + i] = Math.max(high[to + i], this.high[level][from + i]);
			}
			return;
		}
	}

	/** Lowest and highest reading of one column in each of `buckets` equal parts of the time from `from` to `to`. */
	read(column: number, from: number, to: number, buckets: number, now: number): TrendBucket[] {
		const width = (to - from) / buckets;
		const result: TrendBucket[] = [];
		for (let bucket = 0; bucket < buckets; bucket++) {
			const start = from + bucket * width;
			result.push(this.extremes(column, start, start + width, now));
		}
		return result;
	}

	private extremes(column: number, from: number, to: number, now: number): TrendBucket {
		const found = {low: Number.POSITIVE_INFINITY, high: Number.NEGATIVE_INFINITY};
		if (to > 0 && from <= now) {
			for (let level = this.finestLevel(from, to, now); level >= 0; level--) {
				this.extend(found, level, column, from, to);
				// The newest slots of a coarse level are still below it.
				if (found.low <= found.high && to <= now - 2 * slotSeconds(level)) break;
			}
		}
		return found.low <= found.high ? found : {low: Number.NaN, high: Number.NaN};
	}

	/** The finest level that reaches back so far and does not need more than a few hundred slots. */
	private finestLevel(from: number, to: number, now: number): number {
		let level = 0;
		while (level + 1 < levels) {
			const length = slotSeconds(level);
			if (now - from <= length * (slotsPerLevel - 2) && (to - from) / length <= mostSlotsRead) break;
			level++;
		}
		return level;
	}

	/** Takes in what one level holds of a column between two times. */
	private extend(found: {low: number; high: number}, level: number, column: number, from: number, to: number): void {
		const length = slotSeconds(level);
		const first = Math.max(0, Math.floor(from / length));
		const last = Math.ceil(to / length) - 1;
		const low = this.low[level];
		const high = this.high[level];
		for (let number = Math.max(first, last - slotsPerLevel + 1); number <= last; number++) {
			const place = number & (slotsPerLevel - 1);
			if (this.number[level][place] !== number) continue;
			const i = place * this.width + column;
			if (low[i] < found.low) found.low = low[i];
			if (high[i] > found.high) found.high = high[i];
		}
	}
}

/** Length of a slot of a level, seconds. */
function slotSeconds(level: number): number {
	return finestSeconds * growth ** level;
}
