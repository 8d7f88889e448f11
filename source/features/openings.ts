import {medianOf} from '../math/nth-smallest.ts';
import type {Features, Watch} from './features.ts';
import type {Hand} from './hand.ts';
import type {MovementTaker} from './movement-walk.ts';
import {ownTrip} from './own-trip.ts';
import {rankCorrelation} from './rank-correlation.ts';
import type {StateBlock} from './state-block.ts';
import {errorOfChange, theilSenSlope} from './theil-sen.ts';

/** Levels held per finger; when they are full, each two neighbours become one. */
const kept = 128;

/** An opening, and the closing before it, go at least this share of the finger's span, as in a whole-hand movement (check-values D2). */
const ofOwnSpan = 0.4;

/** Fewer openings show no trend (check-values D5.4). */
const leastOpenings = 6;

/** A change is surely less than this of the limit where it is said to be less: it is rounded several times. */
const surely = 1 - 1e-9;

/** Figures that are worked out when they are asked for, a bit each. */
const figureBits = {change: 1, rank: 2, error: 4, beyondChance: 8, changeClosed: 16};

/** Median difference of two values of one normal distribution, in its deviations: Φ⁻¹(¾) √2. */
const medianDifference = 0.954;

/** What the openings of one finger show: shares of its span as it is known now. */
export type Creep = {
	/** Change of the level of the open hand over all openings, in the readings' own direction. */
	readonly change: number;
	/** The same of the level of the closed hand. */
	readonly changeClosed: number;
	/** Rank correlation of the level of the open hand with time, −1…1. */
	readonly rank: number;
	/** Standard error of the change, from how much neighbouring openings differ. */
	readonly error: number;
	/** How far the change lies beyond chance, as a normal deviate: few openings tell little of how much they scatter. */
	readonly beyondChance: number;
};

/**
 * The level of each finger's open hand, from opening to opening after a whole-hand closing (check-values D5.4, baseline-drift),
 * with that of the closed hand before. The change over all openings of the epoch is the slope after Theil and Sen times
 * their number, so that relaxed openings, and a hand that is held otherwise now and then, do not make one.
 */
export class Openings implements Watch, MovementTaker {
	/** Openings so far. */
	readonly count: Int32Array;
	/** Levels of the open and the closed hand, counts, and when it opened, seconds: means of `each` openings in a row. */
	private readonly open: Float64Array;
	private readonly closed: Float64Array;
	private readonly at: Float64Array;
	private readonly held: Int32Array;
	private readonly each: Int32Array;
	/** Of the openings that don't fill one yet: their sums, and how many. */
	private readonly openSum: Float64Array;
	private readonly closedSum: Float64Array;
	private readonly inSum: Int32Array;
	/** The newest opening, whose level may still go farther: it counts already, and is added when the next one comes. */
	private readonly newestTrip: Int32Array;
	private readonly newestOpen: Float64Array;
	private readonly newestClosed: Float64Array;
	private readonly newestAt: Float64Array;
	/** The latest closing with the whole hand, a number of a trip; and the same while its opening has not settled, else −1. */
	private readonly lastClosing: Int32Array;
	private readonly closing: Int32Array;
	/**
	 * As `Creep`, in counts; of the openings up to now. Each is worked out when it is first asked for: `fresh` holds a bit per
	 * figure that is known, and `noise` the rest noise at the latest opening, counts.
	 */
	private readonly fresh: Uint8Array;
	private readonly noise: Float64Array;
	/** What the change is known to be at most, either way, counts. */
	private readonly atMost: Float64Array;
	private readonly change: Float64Array;
	private readonly changeClosed: Float64Array;
	private readonly rank: Float64Array;
	private readonly error: Float64Array;
	private readonly beyondChance: Float64Array;

	constructor(channels: number, state: StateBlock) {
		this.count = state.ints(channels);
		this.open = state.floats(channels * kept);
		this.closed = state.floats(channels * kept);
		this.at = state.floats(channels * kept);
		this.held = state.ints(channels);
		this.each = state.ints(channels, 1);
		this.openSum = state.floats(channels);
		this.closedSum = state.floats(channels);
		this.inSum = state.ints(channels);
		this.newestTrip = state.ints(channels, -1);
		this.newestOpen = state.floats(channels);
		this.newestClosed = state.floats(channels);
		this.newestAt = state.floats(channels);
		this.lastClosing = state.ints(channels, -1);
		this.closing = state.ints(channels, -1);
		this.fresh = state.bytes(channels);
		this.noise = state.floats(channels);
		this.atMost = state.floats(channels, Number.POSITIVE_INFINITY);
		this.change = state.floats(channels);
		this.changeClosed = state.floats(channels);
		this.rank = state.floats(channels);
		this.error = state.floats(channels);
		this.beyondChance = state.floats(channels);
	}

	takeMovement(features: Features, hand: Hand, f: number, place: number): void {
		if (hand.way[place] < 0) return;
		const trip = ownTrip(features.analog.trips, hand, f, hand.outAt[place], hand.way[place]);
		if (trip <= this.lastClosing[f]) return;
		this.lastClosing[f] = trip;
		this.takeOpening(features, f);
		this.closing[f] = trip;
	}

	/** To be called after the movements have been shown. */
	close(features: Features): void {
		for (const hand of features.hands)
			for (const f of hand.fingers) {
				this.takeOpening(features, f);
				this.goFarther(features, f);
			}
	}

	forget(a: number): void {
		for (const number of [this.count, this.held, this.openSum, this.closedSum, this.inSum]) number[a] = 0;
		this.each[a] = 1;
		for (const trip of [this.newestTrip, this.lastClosing, this.closing]) trip[a] = -1;
	}

	/** What the openings so far show; undefined below six, and where the finger's span is not known. */
	creep(features: Features, a: number): Creep | undefined {
		const span = features.analog.spans.of(a);
		if (!this.isKnown(features, a)) return undefined;
		return {
			change: this.changeOf(a) / span,
			changeClosed: this.changeClosedOf(a) / span,
			rank: this.rankOf(a),
			error: this.errorOf(a) / span,
			beyondChance: this.beyondChanceOf(a),
		};
	}

	/** Whether `creep` tells anything of a finger. */
	isKnown({analog}: Features, a: number): boolean {
		return this.count[a] >= leastOpenings && analog.spans.of(a) > 0;
	}

	/** `change` of `creep` alone, which takes a third of the work; undefined likewise. */
	changeAsShare(features: Features, a: number): number | undefined {
		return this.isKnown(features, a) ? this.changeOf(a) / features.analog.spans.of(a) : undefined;
	}

	/**
	 * Whether `changeAsShare` is surely less than so much either way, or not known: mostly the slopes of most pairs are, and need no
	 * order to say so.
	 */
	hasChangedLess(features: Features, a: number, least: number): boolean {
		if (!this.isKnown(features, a)) return true;
		const counts = surely * least * features.analog.spans.of(a);
		if (this.atMost[a] <= counts) return true;
		if ((this.fresh[a] & figureBits.change) !== 0 || !this.isWithin(a, counts)) return false;
		this.atMost[a] = counts;
		return true;
	}

	/** How many other fingers of the hand have opened often enough. */
	othersKnown(features: Features, a: number): number {
		let known = 0;
		for (const other of features.handAt(a)?.others(a) ?? []) if (this.isKnown(features, other)) known++;
		return known;
	}

	/** The same of each other finger of the hand that has opened often enough. */
	creepOfOthers(features: Features, a: number): Creep[] {
		const others = features.handAt(a)?.others(a) ?? [];
		return others.map(other => this.creep(features, other)).filter(creep => creep !== undefined);
	}

	/** When the level began to leave where it was at first by `least` counts for good, seconds. */
	leftAt(a: number, least: number): number {
		const place = a * kept;
		let i = this.held[a] - 1;
		while (i > 0 && Math.abs(this.open[place + i] - this.open[place]) >= least) i--;
		return this.held[a] > 0 ? this.at[place + i] : this.newestAt[a];
	}

	/** When the hand last opened, seconds. */
	latestAt(a: number): number {
		return this.newestAt[a];
	}

	/** Takes the opening after the latest whole-hand closing, once it has settled. */
	private takeOpening(features: Features, f: number): void {
		const {trips, spans} = features.analog;
		const closing = this.closing[f];
		const opening = closing + 1;
		if (closing < 0 || opening >= trips.count[f] || trips.settled[trips.at(f, opening)] === 0) return;
		this.closing[f] = -1;
		if (closing < trips.oldest(f)) return;
		const place = trips.at(f, opening);
		const least = ofOwnSpan * spans.of(f);
		if (Math.abs(trips.way[place]) < least || Math.abs(trips.way[trips.at(f, closing)]) < least) return;
		if (this.count[f] > 0) this.add(f);
		this.newestTrip[f] = opening;
		// Levels, no extreme readings: hum or noise that comes up takes those farther apart.
		this.newestClosed[f] = trips.startLevel[place];
		this.newestOpen[f] = trips.startLevel[place] + trips.level[place];
		this.newestAt[f] = trips.outAt[place];
		this.count[f]++;
		this.judge(features, f);
	}

	/** The newest opening as it is now: it may have been a pause half-way. */
	private goFarther(features: Features, f: number): void {
		const {trips} = features.analog;
		const trip = this.newestTrip[f];
		const place = trips.at(f, trip);
		if (this.count[f] === 0 || trip < trips.oldest(f) || trips.settled[place] === 0) return;
		const level = trips.startLevel[place] + trips.level[place];
		if (level === this.newestOpen[f]) return;
		this.newestOpen[f] = level;
		this.judge(features, f);
	}

	/** Adds the newest opening to those held. */
	private add(f: number): void {
		this.openSum[f] += this.newestOpen[f];
		this.closedSum[f] += this.newestClosed[f];
		if (++this.inSum[f] < this.each[f]) return;
		if (this.held[f] === kept) this.halve(f);
		const i = f * kept + this.held[f]++;
		this.open[i] = this.openSum[f] / this.inSum[f];
		this.closed[i] = this.closedSum[f] / this.inSum[f];
		this.at[i] = this.newestAt[f];
		this.openSum[f] = 0;
		this.closedSum[f] = 0;
		this.inSum[f] = 0;
	}

	private halve(f: number): void {
		const from = f * kept;
		for (const levels of [this.open, this.closed])
			for (let i = 0; i < kept / 2; i++) levels[from + i] = (levels[from + 2 * i] + levels[from + 2 * i + 1]) / 2;
		for (let i = 0; i < kept / 2; i++) this.at[from + i] = this.at[from + 2 * i + 1];
		this.held[f] = kept / 2;
		this.each[f] *= 2;
	}

	/** The openings are others than before: what they show is out of date. */
	private judge({analog}: Features, f: number): void {
		this.fresh[f] = 0;
		this.atMost[f] = Number.POSITIVE_INFINITY;
		this.noise[f] = analog.noise.of(f);
	}

	private changeOf(f: number): number {
		if (this.isDue(f, figureBits.change)) {
			const opens = this.gather(f, this.open, this.newestOpen[f]);
			this.change[f] = theilSenSlope(levels, opens) * opens;
		}
		return this.change[f];
	}

	/**
	 * Whether the slopes of more than half of all pairs lie between −`counts` and `counts` over all openings, so that the middle
	 * one does. Pairs far apart first: they show the least slopes.
	 */
	private isWithin(f: number, counts: number): boolean {
		const opens = this.gather(f, this.open, this.newestOpen[f]);
		const most = counts / opens;
		let low = levels[0];
		let high = levels[0];
		for (let i = 1; i < opens; i++) {
			if (levels[i] < low) low = levels[i];
			if (levels[i] > high) high = levels[i];
		}
		const needed = Math.floor((opens * (opens - 1)) / 4) + 1;
		// So far apart no two differ by more.
		const all = Math.min(opens, Math.ceil((high - low) / most));
		let count = ((opens - all) * (opens - all + 1)) / 2;
		for (let apart = all - 1; apart > 0 && count < needed; apart--)
			for (let i = apart; i < opens; i++) if (Math.abs(levels[i] - levels[i - apart]) <= most * apart) count++;
		return count >= needed;
	}

	private changeClosedOf(f: number): number {
		if (this.isDue(f, figureBits.changeClosed)) {
			const opens = this.gather(f, this.closed, this.newestClosed[f]);
			this.changeClosed[f] = theilSenSlope(levels, opens) * opens;
		}
		return this.changeClosed[f];
	}

	private rankOf(f: number): number {
		if (this.isDue(f, figureBits.rank))
			this.rank[f] = rankCorrelation(levels, this.gather(f, this.open, this.newestOpen[f]));
		return this.rank[f];
	}

	private errorOf(f: number): number {
		if (this.isDue(f, figureBits.error)) {
			const opens = this.gather(f, this.open, this.newestOpen[f]);
			for (let i = 1; i < opens; i++) differences[i - 1] = Math.abs(levels[i] - levels[i - 1]);
			const deviation = Math.max(this.noise[f], medianOf(differences, 0, opens - 1) / medianDifference);
			this.error[f] = errorOfChange(deviation, opens);
		}
		return this.error[f];
	}

	private beyondChanceOf(f: number): number {
		const change = this.changeOf(f);
		if (this.isDue(f, figureBits.beyondChance))
			this.beyondChance[f] = beyondChance(change, this.gather(f, this.open, this.newestOpen[f]), this.noise[f]);
		return this.beyondChance[f];
	}

	/** Whether a figure is out of date; it is taken for known from then on. */
	private isDue(f: number, bit: number): boolean {
		if ((this.fresh[f] & bit) !== 0) return false;
		this.fresh[f] |= bit;
		return true;
	}

	private gather(f: number, held: Float64Array, newest: number): number {
		const count = this.held[f];
		for (let i = 0; i < count; i++) levels[i] = held[f * kept + i];
		if (this.each[f] > 1) return count;
		levels[count] = newest;
		return count + 1;
	}
}

/**
 * A change over `count` openings (in `levels`) as a normal deviate. How much single openings scatter is known from the
 * differences of neighbours, less what the change itself makes of them, with two thirds as many degrees of freedom (von
 * Neumann, Ann. Math. Statist. 12 (1941), from memory); Student's t of so few is turned into a normal deviate by
 * z² = ν ln(1 + t²/ν) (D. L. Wallace, Ann. Math. Statist. 30 (1959), from memory).
 */
function beyondChance(change: number, count: number, noise: number): number {
	let squares = 0;
	for (let i = 1; i < count; i++) squares += (levels[i] - levels[i - 1] - change / count) ** 2;
	const deviation = Math.max(noise, Math.sqrt(squares / (2 * (count - 1))));
	const freedom = (2 * (count - 1)) / 3;
	const t = change / errorOfChange(deviation, count);
	return Math.sqrt(freedom * Math.log1p(t ** 2 / freedom));
}

/** Used within one call only. */
const levels = new Float64Array(kept + 1);
const differences = new Float64Array(kept + 1);

/** The middle one of the fingers' figures, by their size; undefined without any. */
export function typical(creeps: readonly Creep[], figure: (creep: Creep) => number): number | undefined {
	return creeps.length > 0 ? medianOf(creeps.map(creep => Math.abs(figure(creep)))) : undefined;
}
