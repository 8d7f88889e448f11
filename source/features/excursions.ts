import {type FrameHistory, frameMask} from './frame-history.ts';
import type {Run} from './run.ts';
import type {StateBlock} from './state-block.ts';

/** Jumps are counted over a minute (check-values D5.4), and so many remembered per channel: two a second. */
export const jumpWindow = 60;
const kept = 2 * jumpWindow;

/** A contact's jump is over within 60 ms (check-values D5.4, dropout): so many frames at a rate, at least one. */
const longestSeconds = 0.06;

/**
 * How far it leaps when it comes and when it goes, and how near it comes back: shares of full scale, and of the first leap.
 * Three quarters of what counts (check-values D5.4) are noted, so that what nearly does can be told, and is no movement either.
 */
export const jumpShare = 0.15;
const backShare = 0.11;
const alikeOfJump = 0.25;

/** Below this rate a jump shows in one frame only, whose neighbours are alike to this share of full scale (check-values D5.4). */
const slowRate = 35;
const slowAlike = 0.05;

/**
 * A tap is no jump (check-values D5.4): a finger has begun in the frame before, or goes on in the one after. Of minimum-jerk taps
 * at seven a second (71 ms a way; tapping runs at 5–7 Hz), singly or in a row, sampled at any phase, the larger of these
 * two steps is at least 0.5 of the leap from 35 frames a second on and 0.6 at 25 to 34. At 20 to 24 a single tap leaves
 * 0.19, but a row at a third of the frame rate none: there a leap has to exceed the channel's fastest steps as well.
 * Below 20 a tap fits between two frames.
 */
const begunShare = 0.45;
const tapRate = 25;
const slowBegunShare = 0.15;
const leastRate = 20;
const slowSteps = 4;

/** Eight times the noise: white noise steps that far once in 10⁸ frames, a crackle (Laplace) once in 10⁵, and not thrice a minute. */
const noises = 8;

/** What a resting channel does between two frames: a share of its reading, and counts at the least. */
const nearShare = 0.01;
const leastNear = 3;

/** Answers of `backFrom` that are no frame. */
const undecided = -1;
const neverBack = -2;

/** A digit was lost on the line; no converter gives such a reading. */
const lostDigit = 1;
const impossible = 2;

/** What holds for all channels of a block: frames a second; full scale, least and most that a converter gives, counts. */
export type BlockFacts = {
	readonly rate: number;
	readonly fullScale: number;
	readonly least: number;
	readonly most: number;
	/** Readings are written as text, so that a digit can be lost. */
	readonly whole: boolean;
};

/** When a jump set out and came back, seconds, and how high it was, counts. */
export type Jump = {readonly from: number; readonly at: number; readonly height: number};

/** Jumps of a reading that come back at once, per channel: an intermittent contact's. */
export class Excursions {
	/** Jumps so far; of the last `kept` of them (place `at`) when each set out and came back, seconds, and its height in counts. */
	readonly count: Int32Array;
	private readonly froms: Float64Array;
	private readonly times: Float64Array;
	private readonly heights: Float64Array;
	/** What explains it better than the sensor does: `lostDigit`, `impossible`; 0 for nothing. */
	private readonly damage: Uint8Array;
	/** 1 where it was seen at a rate at which a row of taps looks the same. */
	private readonly slow: Uint8Array;
	/** Lines with a lost digit or an impossible number: over all channels, and on each. */
	private readonly lost: Int32Array;
	private readonly lostOn: Int32Array;
	/** The frame from which the next jump may set out; NaN before the first. */
	private readonly cursor: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.count = state.ints(channels);
		this.froms = state.floats(channels * kept);
		this.times = state.floats(channels * kept);
		this.heights = state.floats(channels * kept);
		this.damage = state.bytes(channels * kept);
		this.slow = state.bytes(channels * kept);
		this.lost = state.ints(1);
		this.lostOn = state.ints(channels);
		this.cursor = state.floats(channels, Number.NaN);
	}

	/** Lines with lost digits so far. */
	get eatenCount(): number {
		return this.lost[0];
	}

	/** Channels on which a digit has been lost: a line damages whichever comes, a sensor only its own. */
	get eatenChannels(): number {
		let count = 0;
		for (let a = 0; a < this.channels; a++) if (this.lostOn[a] > 0) count++;
		return count;
	}

	/**
	 * Looks for jumps in a block's readings, and leaves in `run.kept` those that are evidence of movement: not the ones
	 * within a jump, nor the latest where one is under way that may yet come back. `noise` in counts rms.
	 */
	take(a: number, run: Run, longestStep: number, noise: number, facts: BlockFacts): void {
		const {history, column, frames, count, kept: keptPlaces} = run;
		const leap = Math.max(jumpShare * facts.fullScale, noises * noise);
		const end = frames[count - 1] + 1;
		// What came before the first frame of an epoch is not looked at: that one can only be what a jump sets out from.
		const from = Number.isNaN(this.cursor[a])
			? Math.min(frames[0] + 1, end - 1)
			: Math.max(this.cursor[a], history.oldest);
		if (longestStep < leap && from >= frames[0] - 1) {
			this.cursor[a] = end - 1;
			run.keepAll();
			return;
		}
		const readings = history.columns[column];
		let frame = from;
		let i = 0;
		let used = 0;
		while (frame + 1 < end) {
			const step = readings[(frame + 1) & frameMask] - readings[frame & frameMask];
			if (!(step >= leap || step <= -leap)) {
				frame++;
				continue;
			}
			const back = this.backFrom(frame, step, history, column, end, facts);
			if (back === undecided) break;
			if (back === neverBack) {
				frame++;
				continue;
			}
			for (; i < count && frames[i] <= frame; i++) keptPlaces[used++] = i;
			while (i < count && frames[i] < back) i++;
			this.note(a, frame, back, history, column, facts);
			frame = back;
		}
		for (; i < count && frames[i] <= frame; i++) keptPlaces[used++] = i;
		run.keptCount = used;
		this.cursor[a] = frame;
	}

	/**
	 * Jumps of channel `a` since a time that its sensor must answer for, the latest first. `fastest`: the step that it seldom
	 * exceeds, counts. `lineLosesDigits`: readings that look like lost digits are the line's.
	 */
	since(a: number, t: number, fastest: number, lineLosesDigits: boolean): Jump[] {
		const jumps: Jump[] = [];
		for (let number = this.count[a] - 1; number >= Math.max(0, this.count[a] - kept); number--) {
			const place = this.at(a, number);
			const at = this.times[place];
			const height = this.heights[place];
			const damage = this.damage[place];
			if (at < t) break;
			if (damage === impossible || (damage === lostDigit && lineLosesDigits)) continue;
			if (this.slow[place] === 0 || height >= slowSteps * fastest) jumps.push({from: this.froms[place], at, height});
		}
		return jumps;
	}

	/** Place of jump `number` of channel `a` in the rings. */
	private at(a: number, number: number): number {
		return a * kept + (number % kept);
	}

	forget(a: number): void {
		this.count[a] = 0;
		this.cursor[a] = Number.NaN;
	}

	/** The frame in which a jump out of `frame`, by `step` counts to the next, has come back; `end` is the frame not yet come. */
	private backFrom(
		frame: number,
		step: number,
		history: FrameHistory,
		column: number,
		end: number,
		{rate, fullScale}: BlockFacts,
	): number {
		if (rate < leastRate) return neverBack;
		const at = (number: number): number => history.reading(number, column);
		const isSlow = rate < slowRate;
		const longest = isSlow ? 1 : Math.max(1, Math.floor(longestSeconds * rate + 1e-6));
		const alike = isSlow ? slowAlike * fullScale : alikeOfJump * Math.abs(step);
		const begun = rate < tapRate ? slowBegunShare : begunShare;
		const base = at(frame);
		if (frame > history.oldest && Math.abs(base - at(frame - 1)) > begun * Math.abs(step)) return neverBack;
		for (let back = frame + 2; back <= frame + 1 + longest; back++) {
			if (back >= end) return undecided;
			const leave = Math.abs(at(back) - at(back - 1));
			if (!(Math.abs(at(back) - base) <= alike) || leave < backShare * fullScale) continue;
			if (back + 1 >= end) return undecided;
			return Math.abs(at(back + 1) - at(back)) > begun * leave ? neverBack : back;
		}
		return neverBack;
	}

	private note(
		a: number,
		frame: number,
		back: number,
		history: FrameHistory,
		column: number,
		{rate, least, most, whole}: BlockFacts,
	): void {
		const base = history.reading(frame, column);
		// What goes from end to end every frame comes near anything by chance.
		const before = frame - 1 >= history.oldest ? history.reading(frame - 1, column) : base;
		const wasCalm = !(Math.abs(before - base) > Math.max(leastNear, nearShare * base));
		let height = 0;
		let damage = wasCalm ? lostDigit : 0;
		for (let inside = frame + 1; inside < back; inside++) {
			const reading = history.reading(inside, column);
			height = Math.max(height, Math.abs(reading - base));
			if (reading < least || reading > most) damage = impossible;
			else if (damage === lostDigit && !(whole && isEatenDigit(base, reading))) damage = 0;
		}
		const place = this.at(a, this.count[a]++);
		this.froms[place] = history.time(frame + 1);
		this.times[place] = history.time(back);
		this.heights[place] = height;
		this.damage[place] = damage;
		this.slow[place] = rate < tapRate ? 1 : 0;
		if (damage === 0) return;
		this.lost[0]++;
		this.lostOn[a]++;
	}
}

/**
 * Whether `reading` is what is left of a number near `expected` when one of its digits is lost on the line
 * (`512` becomes `52`). "Near" is 1 % of the expected value: what a resting channel does between two frames.
 */
export function isEatenDigit(expected: number, reading: number): boolean {
	// A zero is an end of the scale far more often than what is left of a round number.
	if (!Number.isInteger(reading) || reading <= 0 || expected < 100) return false;
	const digits = String(reading);
	const reach = Math.max(leastNear, Math.round(expected * nearShare));
	for (let whole = Math.round(expected) - reach; whole <= expected + reach; whole++) {
		const text = String(whole);
		if (text.length !== digits.length + 1 && !(text.length > digits.length && reading < 10)) continue;
		for (let i = 0; i < text.length; i++) {
			if (Number(text.slice(0, i) + text.slice(i + 1)) === reading) return true;
		}
	}
	return false;
}
