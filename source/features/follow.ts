import {medianOf} from '../math/nth-smallest.ts';
import type {Features, Watch} from './features.ts';
import {decidedUntil, isRestOver} from './rests.ts';
import type {StateBlock} from './state-block.ts';

/** Where a channel lies before and after a movement: means over so much, seconds. */
const meanSeconds = 0.25;

/** Movements looked back on: a channel that broke off has to lose its standing. */
const lookedBack = 8;

/**
 * Significance: three movements the same way, each by three times what the channel does over a second in which the others
 * rest (a slow wander passes that once in eight tries and then goes either way), and hardly one that goes against them.
 */
const leastMovements = 3;
const leastShare = 0.8;
const wanders = 3;
const noises = 2;
/** And by so many standard errors of the two means. */
const errors = 4;

/** Differences over a second of rest that are remembered. */
const restsKept = 32;
const restBlocks = 4;

/** Which channels follow the hand: in whole-hand movements they go the same way each time, farther than they wander. */
export class Follow implements Watch {
	/** Ring of the latest movements per channel: +1 it went with its usual way when closing, −1 against, 0 not beyond its wander. */
	private readonly went: Int32Array;
	/** When each of them set out, seconds. */
	private readonly at: Float64Array;
	private readonly count: Int32Array;
	private readonly measuredTo: Float64Array;
	/** Changes of the hand when all its movements had been measured; NaN else. */
	private readonly measuredBy: Float64Array;
	private readonly rests: Float64Array;
	private readonly restCount: Int32Array;
	private readonly restedTo: Int32Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.went = state.ints(channels * lookedBack);
		this.at = state.floats(channels * lookedBack);
		this.count = state.ints(channels);
		this.measuredTo = state.floats(channels, Number.NEGATIVE_INFINITY);
		this.measuredBy = state.floats(channels, Number.NaN);
		this.rests = state.floats(channels * restsKept);
		this.restCount = state.ints(channels);
		this.restedTo = state.ints(channels);
	}

	close(features: Features): void {
		for (let a = 0; a < this.channels; a++) {
			if (features.handAt(a) === undefined) continue;
			this.takeRests(features, a);
			this.takeMovements(features, a);
		}
	}

	/** Whether the channel at analog place `a` follows its finger. */
	follows(a: number): boolean {
		const {same, of} = this.standing(a);
		return same >= leastMovements && same >= leastShare * of;
	}

	/**
	 * Whether the channel follows its finger, the movement under way counted: two that were measured and this one make three,
	 * though where this one ends is not seen yet.
	 */
	followsByNow(features: Features, a: number): boolean {
		if (this.follows(a)) return true;
		const {same, of} = this.standing(a);
		if (of !== same || of !== leastMovements - 1) return false;
		const movement = features.handAt(a)?.underWay(a);
		if (movement === undefined || movement.outAt <= this.measuredTo[a]) return false;
		const usual = this.went[a * lookedBack + ((this.count[a] - 1) % lookedBack)];
		return this.wentIn(features, a, movement.outAt, movement.inAt) * movement.way === usual;
	}

	/** Whether it has gone with the hand in nearly all movements since a time, seconds; undefined where there was none. */
	wentAlongSince(a: number, since: number): boolean | undefined {
		const {same, of} = this.standing(a, since);
		return of === 0 ? undefined : same >= leastShare * of;
	}

	/** Whether it has gone with the hand in every movement so far, though in too few to say that it follows. */
	mayFollow(a: number): boolean {
		const {same, of} = this.standing(a);
		return of > 0 && of < leastMovements && same === of;
	}

	/** Whether enough movements have shown that it does not go with the hand: in half of them at the most. */
	staysAway(a: number): boolean {
		const {same, of} = this.standing(a);
		return of >= leastMovements && same <= of / 2;
	}

	/** Whether it has gone with hardly any of the movements looked back on: one that joins in half of them does so once in thirty. */
	hardlyEverGoes(a: number): boolean {
		const {same, of} = this.standing(a);
		return of === lookedBack && same <= 1;
	}

	/** Movements in which it went its usual way, of how many looked back on; of those that set out at or after `since`, seconds. */
	standing(a: number, since = Number.NEGATIVE_INFINITY): {readonly same: number; readonly of: number} {
		const held = Math.min(this.count[a], lookedBack);
		let up = 0;
		let down = 0;
		let of = 0;
		for (let i = a * lookedBack; i < a * lookedBack + held; i++) {
			if (this.at[i] < since) continue;
			of++;
			if (this.went[i] > 0) up++;
			else if (this.went[i] < 0) down++;
		}
		return {same: Math.max(up, down), of};
	}

	/** What the channel does over a second while the others rest, counts (median); NaN before such a second was seen. */
	wander(a: number): number {
		const count = Math.min(this.restCount[a], restsKept);
		if (count === 0) return Number.NaN;
		return medianOf(this.rests, a * restsKept, count);
	}

	forget(a: number): void {
		this.count[a] = 0;
		this.measuredTo[a] = Number.NEGATIVE_INFINITY;
		this.measuredBy[a] = Number.NaN;
		this.restCount[a] = 0;
		this.restedTo[a] = 0;
	}

	private takeRests(features: Features, a: number): void {
		const {analog} = features;
		const {rows} = analog;
		const others = features.handAt(a)?.others(a) ?? [];
		const until = decidedUntil(features, others);
		let number = Math.max(this.restedTo[a], rows.oldest);
		for (; number < rows.count && rows.end[rows.slot(number)] <= until; number++) {
			const before = number - restBlocks;
			if (before < rows.oldest) continue;
			const change = Math.abs(rows.mean[rows.at(number, a)] - rows.mean[rows.at(before, a)]);
			if (Number.isNaN(change) || !isRestOver(analog, others, before, number)) continue;
			this.rests[a * restsKept + (this.restCount[a] % restsKept)] = change;
			this.restCount[a]++;
		}
		this.restedTo[a] = number;
	}

	private takeMovements(features: Features, a: number): void {
		const hand = features.handAt(a);
		// All that there were have been measured.
		if (hand === undefined || this.measuredBy[a] === hand.changes[0]) return;
		for (let number = hand.oldest(a); number < hand.count[a]; number++) {
			const place = hand.at(a, number);
			if (hand.outAt[place] <= this.measuredTo[a]) continue;
			if (hand.inAt[place] + meanSeconds > features.now) return;
			this.measuredTo[a] = hand.outAt[place];
			const went = this.wentIn(features, a, hand.outAt[place], hand.inAt[place]);
			if (Number.isNaN(went)) continue;
			const i = a * lookedBack + (this.count[a] % lookedBack);
			this.at[i] = hand.outAt[place];
			this.went[i] = went * hand.way[place];
			this.count[a]++;
		}
		this.measuredBy[a] = hand.changes[0];
	}

	/** Which way the readings went in a movement: +1, −1, or 0 where not beyond their wander; NaN where frames are missing. */
	private wentIn(features: Features, a: number, outAt: number, inAt: number): number {
		const change =
			meanBetween(features, a, inAt, inAt + meanSeconds) - meanBetween(features, a, outAt - meanSeconds, outAt);
		if (Number.isNaN(change)) return Number.NaN;
		const wander = this.wander(a);
		const least = Math.max(
			Number.isNaN(wander) ? 0 : wanders * wander,
			noises * features.analog.noise.of(a),
			errors * errorOfChange(features, a, outAt, inAt),
		);
		return Math.abs(change) >= least ? Math.sign(change) : 0;
	}
}

/**
 * Standard error of the change between two means, counts, from how rough the channel is beside the movement: a wire that came
 * off since its rest noise was measured leaves a level that jitters, and leaps of that are no way gone.
 */
function errorOfChange({analog, history}: Features, a: number, outAt: number, inAt: number): number {
	const {rows} = analog;
	let rough = Number.POSITIVE_INFINITY;
	for (const t of [outAt - meanSeconds, inAt + meanSeconds]) {
		const number = rows.firstSince(t) - 1;
		if (number >= rows.oldest && number < rows.count) rough = Math.min(rough, rows.rough[rows.at(number, a)]);
	}
	const frames = history.firstAt(inAt + meanSeconds) - history.firstAt(inAt);
	return Number.isFinite(rough) ? rough * Math.sqrt(2 / Math.max(1, frames)) : 0;
}

/** Mean reading between two times, as far as frames of this epoch are held; NaN where none is. */
function meanBetween(features: Features, a: number, from: number, to: number): number {
	const {history, analog} = features;
	const column = analog.columns[a];
	let sum = 0;
	let count = 0;
	for (
		let frame = Math.max(history.firstAt(from), features.epochFrameOf(a));
		frame < history.count && history.time(frame) <= to;
		frame++
	) {
		const reading = history.reading(frame, column);
		if (Number.isNaN(reading)) continue;
		sum += reading;
		count++;
	}
	return sum / count;
}
