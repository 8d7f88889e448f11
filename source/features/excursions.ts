import {lead, type Run} from './run.ts';

/** Excursions remembered per channel. */
const kept = 64;

/** Longest excursion that is a contact's and not a hand's: 60 ms or three frames, whichever is longer (design §5). */
const longestSeconds = 0.06;
const longestFrames = 3;

/** At both edges, the share of the whole jump that one frame must bring: a finger takes several frames for it. */
const edgeShare = 0.7;

/**
 * Below this rate a quick tap can look like a jump there and back: a full-span 7 Hz movement changes by at most
 * sin(π·7/rate) of its span from frame to frame, which is 0.70 (the edge share above) at 28 frames/s.
 */
const leastFramesPerSecond = 28;

/**
 * Between this rate and the least, single taps can come close: half a tap at seven a second is a minimum-jerk way of
 * 64 ms, of which one frame at 28/s takes 0.85 and one at 42/s 0.64.
 */
const slowFramesPerSecond = 42;
const slowEdgeShare = 0.88;
const begunShare = 0.1;

/** Short jumps that come back, per channel: entered in one frame, left in one frame, soon over. */
export class Excursions {
	static readonly kept = kept;
	readonly count: Int32Array;
	readonly times: Float64Array;
	/** Signed height in counts. */
	readonly heights: Float64Array;
	/** Level it jumped from. */
	readonly bases: Float64Array;
	/** 1 where a damaged line (eaten digits, digits run together) explains it better than the sensor does. */
	readonly eaten: Uint8Array;
	/** When the latest jump began that did not come back; NaN before one. */
	readonly brokeAt: Float64Array;
	/** Readings beyond these are no reading of any converter but a damaged line; set by the owner. */
	least = Number.NEGATIVE_INFINITY;
	most = Number.POSITIVE_INFINITY;
	/** Eaten-digit lines over all channels. */
	eatenCount = 0;
	private readonly inside: Uint8Array;
	private readonly base: Float64Array;
	private readonly firstHeight: Float64Array;
	private readonly farthest: Float64Array;
	private readonly startedAt: Float64Array;
	private readonly frames: Int32Array;

	constructor(channels: number) {
		this.count = new Int32Array(channels);
		this.times = new Float64Array(channels * kept);
		this.heights = new Float64Array(channels * kept);
		this.bases = new Float64Array(channels * kept);
		this.eaten = new Uint8Array(channels * kept);
		this.brokeAt = new Float64Array(channels).fill(Number.NaN);
		this.inside = new Uint8Array(channels);
		this.base = new Float64Array(channels);
		this.firstHeight = new Float64Array(channels);
		this.farthest = new Float64Array(channels);
		this.startedAt = new Float64Array(channels);
		this.frames = new Int32Array(channels);
	}

	/**
	 * Takes the next reading of channel `a`. `least` is the smallest jump that counts, in counts; `whole` tells that
	 * readings are whole numbers written as text, so that a lost digit is possible; `earlier` is the reading before `before`.
	 */
	step(
		a: number,
		before: number,
		reading: number,
		t: number,
		least: number,
		rate: number,
		whole: boolean,
		earlier = before,
	): void {
		if (this.inside[a] === 0) {
			const jump = reading - before;
			// On a slow stream a contact still breaks between two frames, while a tap has begun in the one before.
			const begun = rate < slowFramesPerSecond && Math.abs(before - earlier) > begunShare * Math.abs(jump);
			if ((jump >= least || jump <= -least) && rate >= leastFramesPerSecond && !begun) {
				this.inside[a] = 1;
				this.base[a] = before;
				this.firstHeight[a] = jump;
				this.farthest[a] = jump;
				this.startedAt[a] = t;
				this.frames[a] = 1;
			}
			return;
		}
		const height = reading - this.base[a];
		const farthest = this.farthest[a];
		const edge = rate < slowFramesPerSecond ? slowEdgeShare : edgeShare;
		if (Math.abs(height) <= 0.35 * Math.abs(farthest)) {
			this.inside[a] = 0;
			const lasted = t - this.startedAt[a];
			const sharp =
				Math.abs(this.firstHeight[a]) >= edge * Math.abs(farthest) &&
				Math.abs(reading - before) >= edge * Math.abs(farthest);
			if (sharp && (lasted <= longestSeconds + 1e-6 || this.frames[a] <= longestFrames)) {
				this.note(a, t, farthest, whole);
			}
			return;
		}
		if (Math.abs(height) > Math.abs(farthest) && height * farthest > 0) this.farthest[a] = height;
		this.frames[a]++;
		if (t - this.startedAt[a] > longestSeconds && this.frames[a] > longestFrames) {
			this.inside[a] = 0;
			if (Math.abs(this.firstHeight[a]) >= edgeShare * Math.abs(this.farthest[a])) this.brokeAt[a] = this.startedAt[a];
		}
	}

	/** Takes a block's readings, and leaves those in `kept` that are not within a jump that may come back. */
	take(a: number, run: Run, least: number, rate: number, whole: boolean): void {
		const {readings, kept, count} = run;
		let used = 0;
		for (let i = 0; i < count; i++) {
			const at = lead + i;
			const step = readings[at] - readings[at - 1];
			if (this.inside[a] === 1 || step >= least || step <= -least)
				this.step(a, readings[at - 1], readings[at], run.time(i), least, rate, whole, readings[at - 2]);
			if (this.inside[a] === 0) kept[used++] = i;
		}
		run.keptCount = used;
	}

	/** True while a jump is under way that may yet come back: its readings are no evidence of anything else. */
	isInside(a: number): boolean {
		return this.inside[a] === 1;
	}

	/** Place of excursion `number` of channel `a` in the rings. */
	at(a: number, number: number): number {
		return a * kept + (number & (kept - 1));
	}

	/** Excursions of channel `a` since `t`, at least `least` counts high, that the sensor must answer for. */
	since(a: number, t: number, least: number): number {
		let sum = 0;
		for (let number = this.count[a] - 1; number >= Math.max(0, this.count[a] - kept); number--) {
			const place = this.at(a, number);
			if (this.times[place] < t) break;
			if (this.eaten[place] === 0 && Math.abs(this.heights[place]) >= least) sum++;
		}
		return sum;
	}

	private note(a: number, t: number, height: number, whole: boolean): void {
		const place = this.at(a, this.count[a]);
		this.times[place] = t;
		this.heights[place] = height;
		this.bases[place] = this.base[a];
		const reached = this.base[a] + height;
		const eaten = reached < this.least || reached > this.most || (whole && isEatenDigit(this.base[a], reached));
		this.eaten[place] = eaten ? 1 : 0;
		if (eaten) this.eatenCount++;
		this.count[a]++;
	}
}

/**
 * Whether `reading` is what is left of a number near `expected` when one of its digits is lost on the line
 * (`512` becomes `52`). "Near" is 1 % of the expected value: what a resting channel does between two frames.
 */
export function isEatenDigit(expected: number, reading: number): boolean {
	if (!Number.isInteger(reading) || reading < 0 || expected < 100) return false;
	const digits = String(reading);
	const reach = Math.max(3, Math.round(expected * 0.01));
	for (let whole = Math.round(expected) - reach; whole <= expected + reach; whole++) {
		const text = String(whole);
		if (text.length !== digits.length + 1 && !(text.length > digits.length && reading < 10)) continue;
		for (let i = 0; i < text.length; i++) {
			if (Number(text.slice(0, i) + text.slice(i + 1)) === reading) return true;
		}
	}
	return false;
}
