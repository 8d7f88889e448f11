import {ChannelRows} from './channel-rows.ts';
import type {StateBlock} from './state-block.ts';

/** Since when each channel has done nothing: the stretch of quarter-second means up to now that stays within a range. */
export class Stillness {
	/** Seconds; NaN before the first block. */
	readonly since: Float64Array;
	/** Lowest and highest of the block means since then, counts. */
	readonly low: Float64Array;
	readonly high: Float64Array;
	/** Their range as a share of the range of a channel that does nothing. */
	readonly shareOfLimit: Float64Array;
	/** Per channel and end (low, then high): since when no reading has been farther from the end than `far`. */
	readonly endSince: Float64Array;
	private readonly endSum: Float64Array;
	private readonly endCount: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.since = state.floats(channels, Number.NaN);
		this.low = state.floats(channels);
		this.high = state.floats(channels);
		this.shareOfLimit = state.floats(channels);
		this.endSince = state.floats(channels * 2, Number.NaN);
		this.endSum = state.floats(channels * 2);
		this.endCount = state.floats(channels * 2);
	}

	/** Takes the newest block of channel `a`: `within` counts is the range of a channel that does nothing. */
	take(a: number, rows: ChannelRows, within: number): void {
		const newest = rows.count;
		const at = rows.at(newest, a);
		const mean = rows.mean[at];
		const start = rows.start[rows.slot(newest)];
		if (Number.isNaN(mean)) return;
		const low = Math.min(this.low[a], mean);
		const high = Math.max(this.high[a], mean);
		if (!Number.isNaN(this.since[a]) && high - low <= within) {
			this.low[a] = low;
			this.high[a] = high;
			this.shareOfLimit[a] = (high - low) / within;
			return;
		}
		this.since[a] = start;
		this.low[a] = mean;
		this.high[a] = mean;
		// The longest stretch that ends here: back as long as the range allows.
		for (let number = newest - 1; number >= Math.max(rows.oldest, newest - ChannelRows.capacity + 1); number--) {
			const before = rows.mean[rows.at(number, a)];
			if (Number.isNaN(before)) continue;
			if (Math.max(this.high[a], before) - Math.min(this.low[a], before) > within) break;
			this.low[a] = Math.min(this.low[a], before);
			this.high[a] = Math.max(this.high[a], before);
			this.since[a] = rows.start[rows.slot(number)];
		}
		this.shareOfLimit[a] = (this.high[a] - this.low[a]) / within;
	}

	/** Takes the same block of `frames` readings for the ends of the scale; more than `far` counts from one is far from it. */
	takeEnds(a: number, rows: ChannelRows, frames: number, lowest: number, highest: number, far: number): void {
		const at = rows.at(rows.count, a);
		const slot = rows.slot(rows.count);
		for (let side = 0; side < 2; side++) {
			const i = side * this.channels + a;
			const isFar = side === 0 ? rows.high[at] - lowest > far : highest - rows.low[at] > far;
			if (isFar || Number.isNaN(this.endSince[i])) {
				this.endSince[i] = isFar ? rows.end[slot] : rows.start[slot];
				this.endSum[i] = 0;
				this.endCount[i] = 0;
				if (isFar) continue;
			}
			this.endSum[i] += (side === 0 ? rows.mean[at] - lowest : highest - rows.mean[at]) * frames;
			this.endCount[i] += frames;
		}
	}

	/** When the channel came near that end for good, seconds. */
	nearSince(a: number, end: 'low' | 'high'): number {
		return this.endSince[end === 'low' ? a : this.channels + a];
	}

	/** Mean distance from that end since then, counts; NaN without a reading. */
	meanFrom(a: number, end: 'low' | 'high'): number {
		const i = end === 'low' ? a : this.channels + a;
		return this.endSum[i] / this.endCount[i];
	}

	forget(a: number): void {
		this.since[a] = Number.NaN;
		this.endSince[a] = Number.NaN;
		this.endSince[this.channels + a] = Number.NaN;
	}
}
