import {quantileOf} from '../math/nth-smallest.ts';
import {companyOf} from './company.ts';
import type {Features, Watch} from './features.ts';
import {decidedUntil, isRestOver} from './rests.ts';
import type {StateBlock} from './state-block.ts';

/** Windows of a second, one every half second. */
const windowBlocks = 4;
const everyBlocks = 2;

/** Windows looked back on: a dozen seconds of rest, so that a mended joint shows. */
const kept = 24;

/** Of these the third quartile: noise that comes and goes is there a quarter of the time at least. */
const quartile = 0.75;

/** How loud each channel is while the hand rests: roughness of seconds without a trip of the others, nor of its own. */
export class Loudness implements Watch {
	/** Windows taken so far. */
	readonly windows: Int32Array;
	/** End of the latest window, seconds; NaN before. */
	readonly seenAt: Float64Array;
	private readonly rms: Float64Array;
	private readonly starts: Float64Array;
	private readonly takenTo: Int32Array;
	/** What `of` tells, worked out anew with each window. */
	private readonly loud: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.windows = state.ints(channels);
		this.seenAt = state.floats(channels, Number.NaN);
		this.rms = state.floats(channels * kept);
		this.starts = state.floats(channels * kept);
		this.takenTo = state.ints(channels);
		this.loud = state.floats(channels);
	}

	close(features: Features): void {
		for (let a = 0; a < this.channels; a++) this.take(features, a);
	}

	/** rms of what is left between neighbouring frames at rest, counts: third quartile of the latest seconds; 0 before any. */
	of(a: number): number {
		return this.loud[a];
	}

	/**
	 * The same of the latest second at rest, or of the latest second of any kind where that is quieter, since movement adds
	 * noise and takes none away: what has gone by now. NaN before any.
	 */
	latest(features: Features, a: number): number {
		if (this.windows[a] === 0) return Number.NaN;
		const atRest = this.rms[a * kept + ((this.windows[a] - 1) % kept)];
		const {rows} = features.analog;
		let squares = 0;
		let blocks = 0;
		for (let number = Math.max(rows.oldest, rows.count - windowBlocks); number < rows.count; number++) {
			const rough = rows.rough[rows.at(number, a)];
			if (Number.isNaN(rough)) continue;
			squares += rough ** 2;
			blocks++;
		}
		return blocks < windowBlocks ? atRest : Math.min(atRest, Math.sqrt(squares / blocks));
	}

	/**
	 * When the channel was last at least so loud (counts), seconds: the end of the latest window of rest, or of a later block of
	 * movement. NaN before any window.
	 */
	lastAt(features: Features, a: number, least: number): number {
		const {rows} = features.analog;
		const {oldest} = rows;
		for (let number = rows.count - 1; number >= oldest; number--) {
			const end = rows.end[rows.slot(number)];
			if (!(end > this.seenAt[a])) break;
			if (rows.rough[rows.at(number, a)] >= least) return end;
		}
		return this.seenAt[a];
	}

	/** When the first of these seconds began in which the channel was at least so loud, seconds; NaN without one. */
	since(a: number, least: number): number {
		let since = Number.NaN;
		for (let place = a * kept; place < a * kept + Math.min(this.windows[a], kept); place++)
			if (this.rms[place] >= least && !(this.starts[place] >= since)) since = this.starts[place];
		return since;
	}

	forget(a: number): void {
		this.windows[a] = 0;
		this.seenAt[a] = Number.NaN;
		this.takenTo[a] = 0;
		this.loud[a] = 0;
	}

	private take(features: Features, a: number): void {
		const {rows} = features.analog;
		let last = this.takenTo[a];
		if (rows.oldest > last) last = rows.oldest;
		if (last + windowBlocks > rows.count) return;
		const others = companyOf(features, a);
		const until = decidedUntil(features, others, a);
		for (; last + windowBlocks <= rows.count; last += everyBlocks) {
			const newest = rows.slot(last + windowBlocks - 1);
			if (rows.end[newest] > until) break;
			if (!isRestOver(features.analog, others, last, last + windowBlocks - 1, a)) continue;
			let squares = 0;
			for (let number = last; number < last + windowBlocks; number++) squares += rows.rough[rows.at(number, a)] ** 2;
			if (Number.isNaN(squares)) continue;
			const place = a * kept + (this.windows[a] % kept);
			this.rms[place] = Math.sqrt(squares / windowBlocks);
			this.starts[place] = rows.start[rows.slot(last)];
			this.windows[a]++;
			this.seenAt[a] = rows.end[newest];
			const held = Math.min(this.windows[a], kept);
			this.loud[a] = quantileOf(this.rms, held, quartile, a * kept);
		}
		this.takenTo[a] = last;
	}
}
