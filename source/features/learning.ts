import type {Features, Watch} from './features.ts';
import {chanceOfGrid, roundings, smallestGrid} from './learned-grid.ts';
import type {StateBlock} from './state-block.ts';

/**
 * Learning begins only on a grid as coarse as this (check-values D5.3): at most 128 steps, and steps of at least 8 counts. Converter
 * noise of a resting finger spans 2 to 80 raw counts (6.6 standard deviations, check-values N5), and a range that has grown beyond
 * 128 of them moves like any other channel.
 */
const mostSteps = 128;
const leastSpacing = 8;

/** That the numbers lie on a coarse grid is no chance: at most one in a hundred. Two channels in 128 values meet it otherwise. */
const mostChance = 0.01;

/**
 * Where a stream begins in the middle, or the hand moves at once, the coarse grid is seen before both rails are, and it is a
 * fine one by then. It is remembered where it is beyond doubt: an ordinary channel has a few stretches in an epoch
 * until a reading spoils all coarse grids for good, so that one channel in some thousands of epochs is mistaken.
 */
const mostDoubt = 1e-4;

/** Numbers are gathered over so much at the most: the hand may go on to the next posture, the grid to the next extreme. */
const windowSeconds = 0.5;

/** A grid of more steps than before by this much is another one (check-values D5.3): while learning, and afterwards. */
const growsBy = 1.03;
const growsLaterBy = 1.1;

/** Two ways there and two ways back. */
const wholeTrips = 4;

/**
 * A way is seen on means over a tenth of a second, and goes 40 % of the learned range. Noise that has been learned as the
 * range (σ ≤ a fifth of it) leaves a sixteenth in a mean of ten readings: 40 % are more than six of those.
 */
const meanSeconds = 0.1;
const leastPerMean = 4;
const wayShare = 0.4;

/**
 * With fewer steps than this even such means jump from rail to rail: a raw reading that flickers between two or three
 * neighbours. A finger that moves goes through more raw counts: 8 of 1023 are 1 % of the track.
 */
const leastStepsToEnd = 8;

/** A way is over once it has hardly grown for so long (as trips are). */
const settledSeconds = 0.3;
const hardlyShare = 0.05;

/** Fingers that have to be seen learning before another is taken to learn as they do. */
const leastOthers = 2;

const lowRail = 1;
const highRail = 2;
const bothRails = lowRail | highRail;

/** Different numbers gathered at most: chance has long been excluded then. Used within one call only. */
const gathered = new Float64Array(64);

/**
 * Firmware that stretches each finger between the lowest and the highest reading since power-on sends
 * ⌊(raw − lo)·FS/d⌋ with d = hi − lo: numbers on a grid of d steps, exactly 0 or FS whenever an extreme is set, d never
 * falling until the board starts again. Between two touches of a rail d is constant, so each such stretch gives a lower bound of it: the smallest d,
 * not below the bound so far, whose grid holds all its numbers. An ordinary channel soon shows numbers that no coarse
 * grid holds, and is never asked again.
 */
export class Learning implements Watch {
	/** When the channel's range was first settled, stream seconds; NaN before, and where nothing was learned. */
	readonly until: Float64Array;
	/** Lower bound of d, per rounding. */
	private readonly steps: Int32Array;
	/** Whether exactly the low and exactly the high rail have been seen (bits), and anything between them. */
	private readonly rails: Uint8Array;
	private readonly between: Uint8Array;
	private readonly leaps: Int32Array;
	/** How likely it is chance that its numbers lay on a coarse grid, over all stretches so far; 0…1. */
	private readonly doubt: Float64Array;
	/** First frame of the stretch since the last touch of a rail. */
	private readonly since: Float64Array;
	private readonly last: Float64Array;
	/** d at which ways are counted, the number of the way under way then, and of that now. */
	private readonly ofSteps: Int32Array;
	private readonly fromWay: Int32Array;
	private readonly way: Int32Array;
	private readonly heading: Int32Array;
	private readonly low: Float64Array;
	private readonly high: Float64Array;
	private readonly extremeAt: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.until = state.floats(channels, Number.NaN);
		this.steps = state.ints(channels * roundings.length, 1);
		this.rails = state.bytes(channels);
		this.between = state.bytes(channels);
		this.leaps = state.ints(channels);
		this.doubt = state.floats(channels, 1);
		this.since = state.floats(channels);
		this.last = state.floats(channels, Number.NaN);
		this.ofSteps = state.ints(channels, 1);
		this.fromWay = state.ints(channels);
		this.way = state.ints(channels);
		this.heading = state.ints(channels);
		this.low = state.floats(channels, Number.POSITIVE_INFINITY);
		this.high = state.floats(channels, Number.NEGATIVE_INFINITY);
		this.extremeAt = state.floats(channels);
	}

	close(features: Features): void {
		const {analog, scale} = features;
		const {rows} = analog;
		// Firmware that sends signed numbers does not stretch from 0 to full scale.
		if (scale.railLow !== 0) return;
		const newest = rows.slot(rows.count - 1);
		const from = rows.firstFrame[newest];
		const to = from + rows.frames[newest];
		for (let a = 0; a < this.channels; a++) {
			if (features.handAt(a) === undefined) continue;
			const isFollowed = features.learning[a] === 1 || this.doubt[a] <= mostDoubt || !Number.isNaN(this.until[a]);
			if (!isFollowed && this.stepsOf(a) > mostStepsOf(scale.fullScale)) continue;
			this.takeFrames(features, a, from, to);
			if (features.learning[a] === 1) this.takeMeans(features, a, from, to);
			this.judge(features, a);
		}
	}

	/** What the firmware has learned stays, whatever is forgotten of the channel: only a restart of the board begins anew. */
	forget(): void {}

	/** Whether the channel's range has been learned and settled: its rails are the firmware's, not the converter's. */
	hasLearned(a: number): boolean {
		return !Number.isNaN(this.until[a]);
	}

	/** Whether so many others of the fingers at these places have learned theirs that the firmware learns all of them: half, and two. */
	haveOthersLearned(a: number, fingers: readonly number[]): boolean {
		const others = fingers.filter(f => f !== a);
		return speakForAll(others.filter(f => this.hasLearned(f)).length, others.length);
	}

	/** Raw counts between the lowest and highest reading that the firmware has learned, at least. */
	stepsOf(a: number): number {
		const first = a * roundings.length;
		return Math.min(this.steps[first], this.steps[first + 1], this.steps[first + 2]);
	}

	private takeFrames(features: Features, a: number, from: number, to: number): void {
		const {history, analog, scale} = features;
		const {fullScale} = scale;
		const column = analog.columns[a];
		if (this.since[a] < features.epochFrame) this.since[a] = features.epochFrame;
		for (let frame = from; frame < to; frame++) {
			const value = history.reading(frame, column);
			if (Number.isNaN(value)) continue;
			const rail = value <= 0 ? lowRail : value >= fullScale - 1 ? highRail : 0;
			if (rail === 0) this.between[a] = 1;
			else {
				this.rails[a] |= rail;
				// A rail may be a range that widens just now, which moves the levels of all openings.
				if (this.hasLearned(a)) features.openings.forget(a);
				if (Math.abs(value - this.last[a]) >= fullScale - 1) this.leaps[a]++;
				this.takeStretch(features, a, frame);
				this.since[a] = frame + 1;
			}
			this.last[a] = value;
		}
		this.takeStretch(features, a, to);
	}

	/** Takes the numbers since the last touch of a rail up to frame `to` (not included), of the last half second. */
	private takeStretch(features: Features, a: number, to: number): void {
		const {history, analog, scale} = features;
		const {fullScale} = scale;
		const column = analog.columns[a];
		const first = Math.max(this.since[a], history.oldest, features.epochFrame);
		let count = 0;
		for (let frame = to - 1; frame >= first && count < gathered.length; frame--) {
			if (history.time(frame) < history.time(to - 1) - windowSeconds) break;
			const value = history.reading(frame, column);
			if (Number.isNaN(value) || gathered.subarray(0, count).includes(value)) continue;
			gathered[count++] = value;
		}
		if (count === 0) return;
		for (const [i, rounding] of roundings.entries()) {
			const at = a * roundings.length + i;
			// Fractions come from no grid of whole numbers.
			const isWhole = gathered.subarray(0, count).every(Number.isInteger);
			this.steps[at] = isWhole ? smallestGrid(gathered, count, fullScale, rounding, this.steps[at]) : fullScale;
		}
		if (features.learning[a] === 0 && Number.isNaN(this.until[a])) this.beginWhere(features, a, count);
	}

	/** `count` different numbers of one stretch, none at a rail, lie on the grid found. */
	private beginWhere(features: Features, a: number, count: number): void {
		const {fullScale} = features.scale;
		const steps = this.stepsOf(a);
		const isCoarse = steps <= mostStepsOf(fullScale);
		const chance = isCoarse ? chanceOfGrid(count, steps, fullScale) : 1;
		// One number alone may be a level that is held.
		if (isCoarse && count > 1) this.doubt[a] *= chance;
		if (this.rails[a] === bothRails && (chance <= mostChance || this.doubt[a] <= mostDoubt)) this.begin(features, a);
	}

	private begin(features: Features, a: number): void {
		// What its numbers were worth has shown itself by then.
		if (features.proven[a] === 1) return;
		features.learning[a] = 1;
		this.ofSteps[a] = this.stepsOf(a);
		this.fromWay[a] = this.way[a];
	}

	private judge(features: Features, a: number): void {
		const steps = this.stepsOf(a);
		if (features.learning[a] === 1) {
			if (steps > growsBy * this.ofSteps[a]) {
				this.ofSteps[a] = steps;
				this.fromWay[a] = this.way[a];
			}
			if (steps < leastStepsToEnd || this.waysSince(features, a) < wholeTrips) return;
			features.learning[a] = 0;
			this.until[a] = features.now;
			features.forget(a);
			return;
		}
		if (Number.isNaN(this.until[a])) {
			if (steps <= mostStepsOf(features.scale.fullScale) && (this.leapsOnly(a) || this.goesWithOthers(features, a)))
				this.begin(features, a);
			return;
		}
		if (steps <= growsLaterBy * this.ofSteps[a]) return;
		this.ofSteps[a] = steps;
		features.forget(a);
	}

	/** Nothing but the two rails, and leaps from one to the other: two neighbouring raw readings are all that was learned. */
	private leapsOnly(a: number): boolean {
		return this.rails[a] === bothRails && this.between[a] === 0 && this.leaps[a] > 0;
	}

	/**
	 * One program reads all fingers. Of a hand that moves from the first reading on a finger may set a new lowest or highest
	 * with each of them and show one rail only, until its grid is a fine one; it learns where half of the others do.
	 */
	private goesWithOthers(features: Features, a: number): boolean {
		if (this.rails[a] === 0) return false;
		const others = features.handAt(a)?.fingers.filter(f => f !== a) ?? [];
		const learning = others.filter(f => features.learning[f] === 1).length;
		return speakForAll(learning, others.length);
	}

	/** Whole ways since the grid last grew. */
	private waysSince(features: Features, a: number): number {
		const whole = this.way[a] - this.fromWay[a] - 1;
		return whole + (features.now - this.extremeAt[a] >= settledSeconds ? 1 : 0);
	}

	/** Follows the turning points of the means of the newest block. */
	private takeMeans(features: Features, a: number, from: number, to: number): void {
		const {history, analog} = features;
		const frames = to - from;
		const seconds = history.time(to - 1) - history.time(from);
		const parts = Math.max(1, Math.min(Math.floor(frames / leastPerMean), Math.round(seconds / meanSeconds)));
		for (let part = 0; part < parts; part++) {
			const first = from + Math.floor((part * frames) / parts);
			const end = from + Math.floor(((part + 1) * frames) / parts);
			let sum = 0;
			let count = 0;
			for (let frame = first; frame < end; frame++) {
				const value = history.reading(frame, analog.columns[a]);
				if (Number.isNaN(value)) continue;
				sum += value;
				count++;
			}
			if (count > 0) this.turn(a, sum / count, history.time(end - 1), wayShare * features.scale.fullScale);
		}
	}

	private turn(a: number, mean: number, t: number, least: number): void {
		const heading = this.heading[a];
		const more = hardlyShare * least;
		if (heading >= 0 && mean > this.high[a] + more) {
			this.high[a] = mean;
			this.extremeAt[a] = t;
		}
		if (heading <= 0 && mean < this.low[a] - more) {
			this.low[a] = mean;
			this.extremeAt[a] = t;
		}
		const isUp = heading <= 0 && mean - this.low[a] >= least;
		const isDown = heading >= 0 && this.high[a] - mean >= least;
		if (!isUp && !isDown) return;
		this.way[a]++;
		this.heading[a] = isUp ? 1 : -1;
		this.low[a] = mean;
		this.high[a] = mean;
		this.extremeAt[a] = t;
	}
}

/** Steps of the finest grid on which learning may begin; 0 on a scale too short for steps of eight counts. */
function mostStepsOf(fullScale: number): number {
	return Math.min(mostSteps, Math.round(fullScale / leastSpacing));
}

/** Whether so many of the other fingers tell what the firmware does to every one: half of them, and two. */
function speakForAll(count: number, others: number): boolean {
	return count >= leastOthers && 2 * count >= others;
}
