import {FrameHistory} from './frame-history.ts';
import {lead, type Run} from './run.ts';

/**
 * Share of the movement's top speed with which a reading must still be coming in when it stops dead. A finger brakes:
 * a minimum-jerk movement has 16·u²(1−u)² of its top speed at the share u of its time, 0.4 at u = 0.81, which is
 * the last 4 % of the way. A reading that is stopped earlier by a rail or an end of travel comes in faster.
 */
const sharpShare = 0.4;

/** What counts as arriving at an end: lengths in counts, `lag` and `slice` in frames. */
export type Arriving = {
	/** How near to the end is at it. */
	readonly band: number;
	/** How far a reading must have been before for an arrival to count. */
	readonly way: number;
	/** Frames over which speeds are taken. */
	readonly lag: number;
	/** Frames that an extreme must have lasted. */
	readonly slice: number;
};

/** How readings arrive at the two ends of a channel's range: braked like a finger, or stopped dead. */
export class Ends {
	/** Usable ends in counts: extremes that lasted a slice, so that lone glitches don't count. */
	readonly low: Float64Array;
	readonly high: Float64Array;
	/** Arrivals at the end after a way of at least `way`, and how many of them were stopped dead; [low…, high…]. */
	readonly arrivals: Int32Array;
	readonly sharp: Int32Array;
	private readonly channels: number;
	private readonly inside: Uint8Array;
	private readonly farthest: Float64Array;
	private readonly topSpeed: Float64Array;

	constructor(channels: number) {
		this.channels = channels;
		this.low = new Float64Array(channels).fill(Number.NaN);
		this.high = new Float64Array(channels).fill(Number.NaN);
		this.arrivals = new Int32Array(channels * 2);
		this.sharp = new Int32Array(channels * 2);
		this.inside = new Uint8Array(channels * 2);
		this.farthest = new Float64Array(channels * 2);
		this.topSpeed = new Float64Array(channels * 2);
	}

	/** Range seen without lone glitches, counts; 0 before anything was seen. */
	span(a: number): number {
		const span = this.high[a] - this.low[a];
		return Math.max(span, 0);
	}

	/** Widens the range by one slice's extremes; an end that moves by more than `band` begins its arrivals anew. */
	widen(a: number, sliceLow: number, sliceHigh: number, band: number): void {
		if (Number.isNaN(this.low[a])) {
			this.low[a] = sliceHigh;
			this.high[a] = sliceLow;
			return;
		}
		if (sliceHigh < this.low[a]) {
			if (sliceHigh < this.low[a] - band) this.forget(a);
			this.low[a] = sliceHigh;
		}
		if (sliceLow > this.high[a]) {
			if (sliceLow > this.high[a] + band) this.forget(this.channels + a);
			this.high[a] = sliceLow;
		}
	}

	/** Takes a block's readings. */
	take(a: number, run: Run, how: Arriving): void {
		const {readings, kept, keptCount, frames, history, column} = run;
		const {values, width} = history;
		const {band, way, lag, slice} = how;
		const mask = FrameHistory.capacity - 1;
		const high = this.channels + a;
		if (keptCount === run.count && this.takeAtOnce(a, run, how)) return;
		let sliceLow = Number.POSITIVE_INFINITY;
		let sliceHigh = Number.NEGATIVE_INFINITY;
		let sliceCount = 0;
		for (let k = 0; k < keptCount; k++) {
			const reading = readings[lead + kept[k]];
			sliceCount++;
			if (reading < sliceLow) sliceLow = reading;
			if (reading > sliceHigh) sliceHigh = reading;
			if (sliceCount >= slice) {
				this.widen(a, sliceLow, sliceHigh, band);
				sliceCount = 0;
				sliceLow = Number.POSITIVE_INFINITY;
				sliceHigh = Number.NEGATIVE_INFINITY;
			}
			const frame = frames[kept[k]];
			if (frame < 2 * lag) continue;
			const earlier = values[((frame - lag) & mask) * width + column];
			const earliest = values[((frame - 2 * lag) & mask) * width + column];
			// Counts per lag, now and a lag before.
			const speed = Math.abs(reading - earlier);
			const before = Math.abs(earlier - earliest);
			this.side(a, reading - this.low[a], speed, before, band, way);
			this.side(high, this.high[a] - reading, speed, before, band, way);
		}
		if (sliceCount >= slice / 2) this.widen(a, sliceLow, sliceHigh, band);
	}

	/**
	 * The same for a whole block at once, where it neither widens the range nor arrives anywhere: all of it lies well off
	 * an end, or at an end that was reached before. False where it does not.
	 */
	private takeAtOnce(a: number, run: Run, how: Arriving): boolean {
		const {low, high, frames, count, history, column} = run;
		const {band, lag} = how;
		if (!(low >= this.low[a] && high <= this.high[a]) || frames[0] < 2 * lag) return false;
		const rests = high - this.low[a] <= band && this.inside[a] === 1;
		const restsHigh = this.high[a] - low <= band && this.inside[this.channels + a] === 1;
		if (!rests && low - this.low[a] <= band) return false;
		if (!restsHigh && this.high[a] - high <= band) return false;
		let speed = 0;
		const {values, width} = history;
		const mask = FrameHistory.capacity - 1;
		const {readings} = run;
		for (let i = 0; i < count; i++) {
			const change = readings[lead + i] - values[((frames[i] - lag) & mask) * width + column];
			if (change > speed) speed = change;
			else if (-change > speed) speed = -change;
		}
		this.pass(a, rests, high - this.low[a], speed, band);
		this.pass(this.channels + a, restsHigh, this.high[a] - low, speed, band);
		return true;
	}

	private pass(i: number, rests: boolean, farthest: number, speed: number, band: number): void {
		if (rests) {
			this.farthest[i] = 0;
			this.topSpeed[i] = 0;
			return;
		}
		if (farthest > this.farthest[i]) this.farthest[i] = farthest;
		if (speed > this.topSpeed[i]) this.topSpeed[i] = speed;
		if (farthest > 2 * band) this.inside[i] = 0;
	}

	private side(i: number, distance: number, speed: number, before: number, band: number, way: number): void {
		if (distance > this.farthest[i]) this.farthest[i] = distance;
		if (speed > this.topSpeed[i]) this.topSpeed[i] = speed;
		if (distance <= band) {
			if (this.inside[i] === 0) {
				this.inside[i] = 1;
				if (this.farthest[i] >= way) {
					this.arrivals[i]++;
					if (Math.max(before, speed) >= sharpShare * this.topSpeed[i]) this.sharp[i]++;
				}
			}
			this.farthest[i] = 0;
			this.topSpeed[i] = 0;
		} else if (distance > 2 * band) this.inside[i] = 0;
	}

	/** Share of arrivals at the high end that were stopped dead; 0 with fewer than `least` arrivals. */
	sharpHigh(a: number, least: number): number {
		return this.share(this.channels + a, least);
	}

	sharpLow(a: number, least: number): number {
		return this.share(a, least);
	}

	reset(a: number): void {
		this.low[a] = Number.NaN;
		this.high[a] = Number.NaN;
		this.forget(a);
		this.forget(this.channels + a);
	}

	private share(i: number, least: number): number {
		return this.arrivals[i] < least ? 0 : this.sharp[i] / this.arrivals[i];
	}

	private forget(i: number): void {
		this.arrivals[i] = 0;
		this.sharp[i] = 0;
	}
}
