import {isEatenDigit} from './excursions.ts';
import type {Features, Watch} from './features.ts';
import type {StateBlock} from './state-block.ts';

/** Stretches are counted over two of the longest that a real contact lay dead (264 s, check-values H-real), seconds. */
export const stretchWindow = 600;

/** Stretches remembered per channel. */
const kept = 16;

/** At a rail: within this share of full scale (check-values D5.4, dropout). */
const railShare = 0.015;

/** A channel uses a rail where it lies there for more than this share of its frames: a lone glitch is no use of it. */
const usedShare = 0.002;

/** Leaps of less are not worth remembering: half of what counts (check-values D5.4). */
const leastLeap = 0.1;

/** Farther beyond the rail is no reading of any converter, but two numbers run together. */
const beyondShare = 0.02;

/** Entered and left within so many frames (check-values D5.4). */
const leapFrames = 2;

const low = 1;
const high = 2;

/** Stretches that a channel spends at a rail, and how far it leaps there and back. */
export class RailStretches implements Watch {
	/**
	 * Stretches that are over, so far; of the last `kept` (place `at`) when each began and ended, seconds, the smaller of
	 * the leaps that it was entered and left by, counts, and the rail.
	 */
	readonly count: Int32Array;
	readonly from: Float64Array;
	readonly to: Float64Array;
	readonly leap: Float64Array;
	private readonly rail: Uint8Array;
	/** Frames at each rail (low, then high), and in all. */
	private readonly frames: Float64Array;
	private readonly seen: Float64Array;
	/** The rail the channel is at, since which time, and the leap that took it there. */
	private readonly now: Uint8Array;
	private readonly since: Float64Array;
	private readonly entered: Float64Array;
	/** The next frame to look at. */
	private readonly cursor: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		const each = channels * kept;
		this.count = state.ints(channels);
		this.from = state.floats(each);
		this.to = state.floats(each);
		this.leap = state.floats(each);
		this.rail = state.bytes(each);
		this.frames = state.floats(channels * 2);
		this.seen = state.floats(channels);
		this.now = state.bytes(channels);
		this.since = state.floats(channels);
		this.entered = state.floats(channels);
		this.cursor = state.floats(channels, Number.NaN);
	}

	/** Place of stretch `number` of channel `a` in the rings. */
	at(a: number, number: number): number {
		return a * kept + (number & (kept - 1));
	}

	oldest(a: number): number {
		return Math.max(0, this.count[a] - kept);
	}

	close(features: Features): void {
		const {history, analog, scale} = features;
		const {rows} = analog;
		const band = railShare * scale.fullScale;
		for (let a = 0; a < this.channels; a++) {
			const lowest = scale.lowOf(a) + band;
			const highest = scale.highOf(a) - band;
			const first = Number.isNaN(this.cursor[a]) ? features.epochFrameOf(a) : this.cursor[a];
			const from = Math.max(first, history.oldest, features.epochFrameOf(a));
			// The last frame waits: where it is left to, the next one tells.
			const to = history.count - 1;
			const at = rows.at(rows.count - 1, a);
			const column = analog.columns[a];
			const waiting = history.reading(from, column);
			// Neither this block nor the frame that waited comes near an end.
			const isFar = Math.min(rows.low[at], waiting) > lowest && Math.max(rows.high[at], waiting) < highest;
			if (this.now[a] === 0 && isFar) this.seen[a] += Math.max(0, to - from);
			else for (let frame = from; frame < to; frame++) this.take(a, features, column, frame, band);
			this.cursor[a] = Math.max(from, to);
		}
	}

	/** Whether stretch `number` was at the high rail. */
	isHigh(a: number, number: number): boolean {
		return this.rail[this.at(a, number)] === high;
	}

	/** Other fingers that use the rail of stretch `number`: the firmware's, or where hands rest. */
	usedBeside(a: number, number: number, features: Features): number {
		const side = this.isHigh(a, number) ? this.channels : 0;
		const others = features.handAt(a)?.others(a) ?? [];
		return others.filter(f => this.frames[side + f] > usedShare * this.seen[f]).length;
	}

	forget(a: number): void {
		this.count[a] = 0;
		this.frames[a] = 0;
		this.frames[this.channels + a] = 0;
		this.seen[a] = 0;
		this.now[a] = 0;
		this.cursor[a] = Number.NaN;
	}

	private take(a: number, features: Features, column: number, frame: number, band: number): void {
		const {history, scale} = features;
		const reading = history.reading(frame, column);
		const lowest = scale.lowOf(a);
		const highest = scale.highOf(a);
		const beyond = beyondShare * scale.fullScale;
		if (!(reading >= lowest - beyond && reading <= highest + beyond)) return;
		const rail = reading <= lowest + band ? low : reading >= highest - band ? high : 0;
		this.seen[a]++;
		if (rail !== 0) this.frames[rail === low ? a : this.channels + a]++;
		if (rail === this.now[a]) return;
		if (this.now[a] !== 0) {
			const leap = Math.abs(history.reading(frame + 1, column) - history.reading(frame - 1, column));
			const smaller = Math.min(this.entered[a], leap);
			const last = history.reading(frame - 1, column);
			const isLost = this.since[a] === history.time(frame - 1) && isEatenDigit(reading, last);
			if (!isLost && smaller >= leastLeap * features.scale.fullScale) this.note(a, history.time(frame), smaller);
		}
		this.now[a] = rail;
		this.since[a] = history.time(frame);
		const before = frame - leapFrames;
		const known = before >= Math.max(features.epochFrameOf(a), history.oldest);
		this.entered[a] = known ? Math.abs(reading - history.reading(before, column)) : 0;
	}

	private note(a: number, to: number, leap: number): void {
		const place = this.at(a, this.count[a]++);
		this.from[place] = this.since[a];
		this.to[place] = to;
		this.leap[place] = leap;
		this.rail[place] = this.now[a];
	}
}
