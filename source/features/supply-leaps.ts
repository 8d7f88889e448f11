import type {Features, Watch} from './features.ts';
import type {StateBlock} from './state-block.ts';
import {hasMovedItself, seemsWired} from './wired.ts';

/** Half a second is two blocks; with a pause in it it is longer than the second figure, seconds. */
const halfSecond = 2;
const longestSeconds = 0.6;

/** The definition (check-values D5.4), on e = x[n] − (x[n−1] + x[n+1])/2: fewest channels and frames, … */
const leastChannels = 3;
const leastFrames = 10;

/** … correlation of e in all pairs, … */
const alike = 0.8;

/**
 * … rms of e in each: of full scale (found from 0.5 %, silent to 0.3 %: halfway on a scale of ratios), and of the rms of its first
 * differences (smooth strokes stay below), …
 */
const leastShare = 0.0039;
const jagged = 0.4;

/** … greatest rms of e as a share of the mean level over the least, … */
const mostUnlike = 1.4;

/** Half seconds with a still hand that have to be seen before anything is said to come with movement. */
const leastStill = 4;

/** … and no channel within this share of full scale of a rail in more than this share of the frames. */
const railShare = 0.005;
const mostAtRail = 0.1;

/** A corner of a path shows in its own frame and in those beside it. */
const cornerFrames = 1;

/** From a row's roughness, the rms of second differences over √6, to e, half the second difference. */
const eOfRough = Math.sqrt(6) / 2;

/** Places in `judged` and `leapt`. */
export const still = 0;
export const moving = 1;

/** Half seconds in which all wired analog channels leap together, frame by frame, in proportion to their level. */
export class SupplyLeaps implements Watch {
	/** Half seconds that could have shown it, and those that did: [the hand still, the hand moving]. */
	readonly judged: Int32Array;
	readonly leapt: Int32Array;
	/** Wired channels in the latest half second. */
	private readonly wired: Int32Array;
	/** Number of the first block that has not been judged. */
	private readonly judgedTo: Int32Array;
	private readonly firstAt: Float64Array;
	private readonly lastAt: Float64Array;
	/** Of the latest that leapt: least correlation, greatest rms of e in counts, and as a share of the level. */
	private readonly latest: Float64Array;

	constructor(state: StateBlock) {
		this.judged = state.ints(2);
		this.leapt = state.ints(2);
		this.wired = state.ints(1);
		this.judgedTo = state.ints(1);
		this.firstAt = state.floats(1, Number.NaN);
		this.lastAt = state.floats(1, Number.NaN);
		this.latest = state.floats(3);
	}

	/** Channels known to be wired in the latest half second. */
	get channels(): number {
		return this.wired[0];
	}

	/** When the first half second that leapt began, and the latest ended, seconds; NaN before. */
	get from(): number {
		return this.firstAt[0];
	}

	get seenAt(): number {
		return this.lastAt[0];
	}

	/** Least correlation of any pair in the latest half second that leapt. */
	get correlation(): number {
		return this.latest[0];
	}

	/** Greatest rms of e of any channel then, counts, and as a share of its level. */
	get rms(): number {
		return this.latest[1];
	}

	get depth(): number {
		return this.latest[2];
	}

	/** Whether it comes with movement: at least twice as often as with a still hand, as far as that was seen as well. */
	get comesWithMovement(): boolean {
		const {judged, leapt} = this;
		return (
			judged[still] >= leastStill &&
			leapt[moving] * judged[still] >= 2 * leapt[still] * judged[moving] &&
			leapt[moving] > 0
		);
	}

	close(features: Features): void {
		const {rows} = features.analog;
		if (rows.count % halfSecond !== 0) return;
		const wired: number[] = [];
		for (let a = 0; a < rows.width; a++) if (seemsWired(features, a)) wired.push(a);
		this.wired[0] = wired.length;
		if (wired.length < leastChannels) return;
		// What was seen before they were known to be wired counts as well, but not what they did as open pins.
		let since = Number.NEGATIVE_INFINITY;
		for (const a of wired) since = Math.max(since, features.epochFromOf(a), features.proof.since[a]);
		let first = Math.max(this.judgedTo[0], rows.oldest + (rows.oldest % halfSecond));
		for (; first + halfSecond <= rows.count; first += halfSecond)
			if (rows.start[rows.slot(first)] >= since) this.judge(features, wired, first);
		this.judgedTo[0] = first;
	}

	private judge(features: Features, wired: readonly number[], first: number): void {
		const {rows} = features.analog;
		const one = rows.slot(first);
		const other = rows.slot(first + 1);
		if (rows.end[other] - rows.start[one] > longestSeconds || rows.frames[one] + rows.frames[other] < leastFrames)
			return;
		if (rows.firstFrame[one] < features.history.oldest) return;
		let isMoving = false;
		for (const a of wired) {
			if (atRail(features, a, first) > mostAtRail) return;
			if (rows.moving[rows.at(first, a)] === 1 || rows.moving[rows.at(first + 1, a)] === 1) isMoving = true;
		}
		this.judged[isMoving ? moving : still]++;
		const leap = this.leaps(features, wired, first);
		if (leap === undefined) return;
		this.latest.set(leap);
		this.leapt[isMoving ? moving : still]++;
		if (Number.isNaN(this.firstAt[0])) this.firstAt[0] = rows.start[one];
		this.lastAt[0] = rows.end[other];
	}

	/**
	 * Fingers and axes that leap with channel `a` over the latest half second, frame by frame and in proportion to their level;
	 * 0 where one that is wired does far less: then it is no supply that they share.
	 */
	leapingWith(features: Features, a: number): number {
		const {rows} = features.analog;
		const first = rows.count - halfSecond;
		if (first < rows.oldest) return 0;
		let count = 0;
		for (let b = 0; b < rows.width; b++) {
			if (b === a) continue;
			if (this.leaps(features, [a, b], first) !== undefined) count++;
			else if (hasMovedItself(features, b) && depthOf(features, b, first) < depthOf(features, a, first) / 2) return 0;
		}
		return count;
	}

	forget(): void {}

	/** Correlation, rms and depth where the channels leap together. Rows first: frames are looked at only where every channel is rough, jagged, and each as much as its level. */
	private leaps(features: Features, wired: readonly number[], first: number): number[] | undefined {
		const {analog, scale} = features;
		const {rows} = analog;
		let least = Number.POSITIVE_INFINITY;
		let most = 0;
		let highest = 0;
		for (const a of wired) {
			const one = rows.at(first, a);
			const other = rows.at(first + 1, a);
			const e = eOfRough * rmsOf(rows.rough[one], rows.rough[other]);
			const level = (rows.mean[one] + rows.mean[other]) / 2 - scale.lowOf(a);
			if (!(e >= leastShare * scale.fullScale) || e < jagged * rmsOf(rows.step[one], rows.step[other]))
				return undefined;
			least = Math.min(least, e / level);
			most = Math.max(most, e / level);
			highest = Math.max(highest, e);
		}
		if (!(most <= mostUnlike * least)) return undefined;
		const correlation = leastCorrelation(features, wired, first);
		return correlation >= alike ? [correlation, highest, most] : undefined;
	}
}

/** rms of e over a half second as a share of the level. */
function depthOf({analog, scale}: Features, a: number, first: number): number {
	const {rows} = analog;
	const one = rows.at(first, a);
	const other = rows.at(first + 1, a);
	const level = (rows.mean[one] + rows.mean[other]) / 2 - scale.lowOf(a);
	return (eOfRough * rmsOf(rows.rough[one], rows.rough[other])) / level;
}

function rmsOf(one: number, other: number): number {
	return Math.sqrt((one * one + other * other) / 2);
}

/** Share of a half second's readings near a rail. */
function atRail(features: Features, a: number, first: number): number {
	const {history, scale, analog} = features;
	const {rows, columns} = analog;
	const band = railShare * scale.fullScale;
	const one = rows.at(first, a);
	const other = rows.at(first + 1, a);
	const low = Math.min(rows.low[one], rows.low[other]);
	const high = Math.max(rows.high[one], rows.high[other]);
	const lowest = scale.lowOf(a) + band;
	const highest = scale.highOf(a) - band;
	if (low > lowest && high < highest) return 0;
	const [from, to] = framesOf(features, first);
	let near = 0;
	for (let frame = from; frame < to; frame++) {
		const reading = history.reading(frame, columns[a]);
		if (reading <= lowest || reading >= highest) near++;
	}
	return near / (to - from);
}

/** Frames of a half second: the first, and the one after the last. */
function framesOf({history, analog}: Features, first: number): [from: number, to: number] {
	const {rows} = analog;
	const last = rows.slot(first + 1);
	return [Math.max(history.oldest, rows.firstFrame[rows.slot(first)]), rows.firstFrame[last] + rows.frames[last]];
}

/** Least correlation of e of any two of the channels; frames without a reading of all of them are left out. */
function leastCorrelation(features: Features, wired: readonly number[], first: number): number {
	const {history, analog} = features;
	const [from, to] = framesOf(features, first);
	const rows: Float64Array[] = [];
	for (let frame = from + 1; frame < to - 1; frame++) {
		const row = Float64Array.from(wired, a => {
			const column = analog.columns[a];
			const around = history.reading(frame - 1, column) + history.reading(frame + 1, column);
			return history.reading(frame, column) - around / 2;
		});
		if (!row.some(Number.isNaN)) rows.push(row);
	}
	// A quick hand makes one corner of all paths at once; a supply leaps time and again.
	const sizes = rows.map(row => row.reduce((sum, e) => sum + Math.abs(e), 0));
	const largest = sizes.indexOf(Math.max(...sizes));
	const others = rows.filter((_, k) => Math.abs(k - largest) > cornerFrames);
	return Math.min(correlationOf(rows, wired.length), correlationOf(others, wired.length));
}

/** Least correlation of any two columns. */
function correlationOf(rows: readonly Float64Array[], width: number): number {
	const places = Array.from({length: width}, (_, k) => k);
	const means = places.map(k => rows.reduce((sum, row) => sum + row[k], 0) / rows.length);
	const product = (k: number, l: number): number =>
		rows.reduce((sum, row) => sum + (row[k] - means[k]) * (row[l] - means[l]), 0);
	let least = 1;
	for (let k = 0; k < width; k++)
		for (let l = 0; l < k; l++) least = Math.min(least, product(k, l) / Math.sqrt(product(k, k) * product(l, l)));
	return least;
}
