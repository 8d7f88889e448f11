import {quantileOf} from '../math/nth-smallest.ts';
import {fQuantile} from './f-quantile.ts';
import type {Features, Watch} from './features.ts';
import {frameMask} from './frame-history.ts';
import {ghostGain} from './proof.ts';
import {decidedUntil, isRest} from './rests.ts';
import type {StateBlock} from './state-block.ts';
import type {Trips} from './trips.ts';

/** Readings are compared as means over so much: noise and mains hum are left out, a lag of a finger is not. */
const sliceSeconds = 0.1;

/** A stretch has at least so many of them, and around a trip this much is looked at besides. */
const leastSlices = 4;
const marginSeconds = 0.15;
const mostSlices = 64;

/** Stretches of rest to compare with are as long as a stroke usually takes (check-values H-real: 0.3 s from 10 to 90 %). */
const restSeconds = 0.75;
const restEvery = 0.25;

/** A hand takes at least so long from a tenth to nine tenths of its way (check-values H-real: 0.02 to 0.3 s); half a mains period 10 ms. */
const leastStrokeSeconds = 0.1;

/** Trips of the channel before that say something: by so many rest noises, and this share of full scale. */
const leastNoises = 20;
const leastShare = 0.03;

/** Numbers that are fitted to a stretch: a level, and a gain or a slope. */
const fitted = 2;

/** Stretches remembered of each kind. */
const kept = 12;

/** Fewer tell nothing: the rms of three strokes of five slices is known to a fifth; rests lie half over each other. */
const leastStrokes = 3;
const leastRests = 3;

/** To call travel borrowed takes the two closings and two openings that a proof takes. */
const leastBorrowed = 4;

/** A ghost copies every time: half of the least gain leaves room for what noise makes of a short stroke. */
const leastEachTime = ghostGain.least / 2;

/**
 * Copies leave as much in motion as at rest; a finger that has a lag or a path of its own leaves more. Travel is its own from
 * where chance alone brings so large a ratio of the two mean squares once in two hundred glances: the F distribution at 2.58
 * standard deviations. Stretches of rest begin every quarter second and last three, so each brings a third of its numbers.
 */
const ownDeviate = 2.58;
const newOfRest = restEvery / restSeconds;

/**
 * A stretch that leaves so many times what the median one does was no rest, but a stroke that mains hum has cut into trips of a
 * few frames: of ordinary noise one in a million is that loud (χ² with five degrees of freedom).
 */
const noRest = 8;

/** Below what chance brings three times in four travel is borrowed; between this and the above more is awaited. */
const borrowedRatio = 1.35;

/**
 * Whether a channel has travel of its own, or only that of the channel read before it: after the best copy of that one is
 * taken out, stroke by stroke, what is left of an open pin is what it does at rest. Noise and hum hide that less than they
 * hide trips.
 */
export class OwnTravel implements Watch {
	/** Squares of what is left, per stretch, and its degrees of freedom: of strokes of the channel before, and of rest. */
	private readonly moved: Float64Array;
	private readonly movedFreedom: Float64Array;
	private readonly rested: Float64Array;
	private readonly restedFreedom: Float64Array;
	private readonly gains: Float64Array;
	private readonly movedCount: Int32Array;
	private readonly restedCount: Int32Array;
	private readonly lookedTo: Int32Array;
	private readonly restedTo: Float64Array;
	/** Within one call only: slice means of the model and of the channel. */
	private readonly model: Float64Array;
	private readonly own: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.moved = state.floats(channels * kept);
		this.movedFreedom = state.floats(channels * kept);
		this.rested = state.floats(channels * kept);
		this.restedFreedom = state.floats(channels * kept);
		this.gains = state.floats(channels * kept);
		this.movedCount = state.ints(channels);
		this.restedCount = state.ints(channels);
		this.lookedTo = state.ints(channels);
		this.restedTo = state.floats(channels);
		this.model = state.floats(mostSlices);
		this.own = state.floats(mostSlices);
	}

	/**
	 * What is left of the best copy in motion over what the channel does at rest, rms; undefined before three stretches of
	 * each were seen. About 1 for an open pin.
	 */
	ratio(a: number): number | undefined {
		if (this.movedCount[a] < leastStrokes || this.restedCount[a] < leastRests) return undefined;
		const rest = this.rest(a).square;
		const motion = this.sum(this.moved, a, this.movedCount) / this.sum(this.movedFreedom, a, this.movedCount);
		return rest > 0 ? Math.sqrt(motion / rest) : Number.POSITIVE_INFINITY;
	}

	/** Whether a channel has shown travel of its own; the first in scan order has none to borrow from. */
	isOwn(a: number): boolean {
		if (a === 0) return true;
		const ratio = this.ratio(a);
		if (ratio === undefined) return false;
		const moved = this.sum(this.movedFreedom, a, this.movedCount);
		return ratio ** 2 >= fQuantile(moved, this.rest(a).freedom, ownDeviate);
	}

	/** Whether more is left than a copy leaves three times in four. */
	mayBeOwn(a: number): boolean {
		return a === 0 || (this.ratio(a) ?? 0) >= borrowedRatio;
	}

	/** Whether all the travel a channel shows is a share (0.3…0.98) of that of the channel read before it. */
	isBorrowed(a: number): boolean {
		const ratio = this.ratio(a);
		const count = Math.min(this.movedCount[a], kept);
		if (ratio === undefined || ratio >= borrowedRatio || count < leastBorrowed) return false;
		let sum = 0;
		let least = Number.POSITIVE_INFINITY;
		for (let i = this.movedCount[a] - leastBorrowed; i < this.movedCount[a]; i++) {
			const gain = this.gains[a * kept + (i % kept)];
			sum += gain;
			least = Math.min(least, gain);
		}
		const gain = sum / leastBorrowed;
		return gain >= ghostGain.least && gain <= ghostGain.most && least >= leastEachTime;
	}

	close(features: Features): void {
		for (let a = 1; a < this.channels; a++) {
			this.takeStrokes(features, a);
			this.takeRests(features, a);
		}
	}

	forget(a: number): void {
		for (const one of [a, a + 1]) {
			if (one >= this.channels) continue;
			this.movedCount[one] = 0;
			this.restedCount[one] = 0;
			this.lookedTo[one] = 0;
			this.restedTo[one] = 0;
		}
	}

	private takeStrokes(features: Features, a: number): void {
		const {trips, noise} = features.analog;
		const before = a - 1;
		const least = Math.max(leastNoises * noise.of(before), leastShare * features.scale.fullScale);
		for (let number = Math.max(this.lookedTo[a], trips.oldest(before)); number < trips.count[before]; number++) {
			const place = trips.at(before, number);
			// What comes after its end is looked at, too. Where it goes on after all, this much of it is a stroke as well.
			if (trips.arrived[place] === 0 || trips.inAt[place] + marginSeconds > features.now) break;
			const isFar = Math.abs(trips.way[place]) >= least;
			if (!isFar && trips.settled[place] === 0) break;
			this.lookedTo[a] = number + 1;
			if (!isFar) continue;
			const count = this.slice(features, a, trips.outAt[place] - marginSeconds, trips.inAt[place] + marginSeconds);
			if (count < leastSlices) continue;
			fitTo(this.model, this.own, count, ghostGain.most);
			const i = a * kept + (this.movedCount[a]++ % kept);
			this.moved[i] = fit.left;
			this.movedFreedom[i] = count - fitted;
			this.gains[i] = fit.gain;
		}
	}

	private takeRests(features: Features, a: number): void {
		const {history} = features;
		const {trips} = features.analog;
		const others = features.handAt(a)?.others(a) ?? [];
		const until = decidedUntil(features, others, a - 1);
		let from = Math.max(this.restedTo[a], features.epochFrom, history.time(history.oldest));
		for (; from + restSeconds <= until; from += restEvery) {
			// A stream that stands still for years is not walked through.
			const next = history.firstAt(from);
			if (next >= history.count) break;
			if (history.time(next) >= from + restSeconds) from = history.time(next);
			if (from + restSeconds > until) break;
			if (!isRest(trips, others, from, from + restSeconds, a - 1)) continue;
			if (makesStroke(trips, a, from, from + restSeconds)) continue;
			const count = this.slice(features, a, from, from + restSeconds);
			if (count < leastSlices) continue;
			// As many numbers are fitted as to a stroke: a level, and a slope instead of a gain.
			for (let i = 0; i < count; i++) this.model[i] = i;
			const at = a * kept + (this.restedCount[a]++ % kept);
			fitTo(this.model, this.own, count);
			this.rested[at] = fit.left;
			this.restedFreedom[at] = count - fitted;
		}
		this.restedTo[a] = from;
	}

	/** Mean square of what is left at rest, counts², and its degrees of freedom as far as they are new ones. */
	private rest(a: number): {square: number; freedom: number} {
		const held = Math.min(this.restedCount[a], kept);
		for (let i = 0; i < held; i++) this.own[i] = this.rested[a * kept + i] / this.restedFreedom[a * kept + i];
		const most = noRest * quantileOf(this.own, held, 0.5);
		let squares = 0;
		let freedom = 0;
		for (let i = 0; i < held; i++) {
			if (this.own[i] > most) continue;
			squares += this.rested[a * kept + i];
			freedom += this.restedFreedom[a * kept + i];
		}
		return {square: squares / freedom, freedom: newOfRest * freedom};
	}

	private sum(ring: Float64Array, a: number, counts: Int32Array): number {
		let sum = 0;
		for (let i = a * kept; i < a * kept + Math.min(counts[a], kept); i++) sum += ring[i];
		return sum;
	}

	/**
	 * Fills the slice means of the channel before and of the channel between two times; answers how many there are. Slices hold as
	 * many frames each: of one more or less a whole period of hum would remain.
	 */
	private slice(features: Features, a: number, from: number, to: number): number {
		const {history, analog, framesPerSecond = 0} = features;
		const {times} = history;
		const models = history.columns[analog.columns[a - 1]];
		const owns = history.columns[analog.columns[a]];
		const each = Math.max(1, Math.round(sliceSeconds * framesPerSecond));
		let count = 0;
		let sumModel = 0;
		let sumOwn = 0;
		let frames = 0;
		for (let frame = Math.max(history.firstAt(from), features.epochFrameOf(a)); frame < history.count; frame++) {
			const slot = frame & frameMask;
			if (times[slot] > to || count >= mostSlices) break;
			if (Number.isNaN(models[slot] + owns[slot])) continue;
			sumModel += models[slot];
			sumOwn += owns[slot];
			if (++frames < each) continue;
			this.model[count] = sumModel / each;
			this.own[count++] = sumOwn / each;
			[sumModel, sumOwn, frames] = [0, 0, 0];
		}
		return count;
	}
}

/** Whether a channel makes a trip that takes as long as a hand's; mains and noise go to and fro within a few frames. */
function makesStroke(trips: Trips, a: number, from: number, to: number): boolean {
	const oldest = trips.oldest(a);
	for (let number = trips.count[a] - 1; number >= oldest; number--) {
		const place = trips.at(a, number);
		if (trips.settled[place] === 0) continue;
		if (trips.inAt[place] < from) return false;
		if (trips.outAt[place] <= to && trips.inAt[place] - trips.outAt[place] >= leastStrokeSeconds) return true;
	}
	return false;
}

/** What `fitTo` found last. */
const fit = {gain: 0, left: 0};

/**
 * Least squares line of `y` on `x`: its slope, and the squares of what is left, in `fit`; by a slope of at most `most`, since no
 * open pin goes farther than the channel it copies.
 */
function fitTo(x: Float64Array, y: Float64Array, count: number, most = Number.POSITIVE_INFINITY): void {
	let sumX = 0;
	let sumY = 0;
	for (let i = 0; i < count; i++) {
		sumX += x[i];
		sumY += y[i];
	}
	let squaresX = 0;
	let squaresY = 0;
	let products = 0;
	for (let i = 0; i < count; i++) {
		const dx = x[i] - sumX / count;
		const dy = y[i] - sumY / count;
		squaresX += dx * dx;
		squaresY += dy * dy;
		products += dx * dy;
	}
	const gain = squaresX > 0 ? products / squaresX : 0;
	const copied = Math.min(gain, most);
	fit.gain = gain;
	fit.left = Math.max(0, squaresY - 2 * copied * products + copied * copied * squaresX);
}
