import type {Features} from './features.ts';
import type {Hand} from './hand.ts';
import type {MovementTaker} from './movement-walk.ts';
import {ownTrip} from './own-trip.ts';
import type {StateBlock} from './state-block.ts';
import {high, low, type Side} from './travel-ends.ts';

/** Movements remembered per finger: ten times there and back. */
const kept = 20;

/** The finger takes part where it goes this share of its own span (check-values D2, whole-hand movement). */
const ofOwnSpan = 0.4;

/** A finger reaches its end in the sheet where it comes within this share of its span there: what confirms an end. */
const reachShare = 0.05;

/** With fewer others nobody says which of the two is wrong. */
const leastOthers = 2;

/**
 * Which way each finger's readings go in whole-hand movements, beside what a sheet declares of it and of the others. Which
 * of the hand's two ways is the closing one need not be known: if the sheet is right it is the same for all.
 */
export class ClosingSenses implements MovementTaker {
	private readonly count: Int32Array;
	/** +1 where the readings rose as the hand closed or fell as it opened, by the hand's own sense; −1 the other way. */
	private readonly seen: Int32Array;
	/** The hand's way, +1 or −1, and when it set out, seconds. */
	private readonly way: Int32Array;
	private readonly at: Float64Array;
	private readonly lastTrip: Int32Array;
	/** Movements towards the lower (`2 a`) and the upper end (`2 a + 1`) in which another finger reached its own in the sheet. */
	private readonly beside: Int32Array;

	constructor(channels: number, state: StateBlock) {
		this.count = state.ints(channels);
		this.seen = state.ints(channels * kept);
		this.way = state.ints(channels * kept);
		this.at = state.floats(channels * kept);
		this.lastTrip = state.ints(channels, -1);
		this.beside = state.ints(2 * channels);
	}

	takeMovement(features: Features, hand: Hand, f: number, place: number): void {
		if (!features.declared.has(f)) return;
		const {trips, spans} = features.analog;
		const trip = ownTrip(trips, hand, f, hand.outAt[place], 0);
		if (trip <= this.lastTrip[f]) return;
		this.lastTrip[f] = trip;
		const way = trips.way[trips.at(f, trip)];
		if (Math.abs(way) < ofOwnSpan * spans.of(f)) return;
		const i = f * kept + (this.count[f]++ % kept);
		this.seen[i] = Math.sign(way) * hand.way[place];
		this.way[i] = hand.way[place];
		this.at[i] = hand.outAt[place];
		if (otherReaches(features, hand, f, place)) this.beside[2 * f + (way > 0 ? high : low)]++;
	}

	forget(a: number): void {
		this.count[a] = 0;
		this.lastTrip[a] = -1;
		this.beside[2 * a] = 0;
		this.beside[2 * a + 1] = 0;
	}

	/** In how many whole-hand movements towards one of its ends another finger reached its own end in the sheet. */
	reachedBeside(a: number, side: Side): number {
		return this.beside[2 * a + side];
	}

	/** Movements in which the finger took part, of those held. */
	measured(a: number): number {
		return Math.min(kept, this.count[a]);
	}

	/** Movements there and back: as many closings as openings. */
	whole(a: number): number {
		let closings = 0;
		const measured = this.measured(a);
		for (let k = 0; k < measured; k++) if (this.way[a * kept + k] > 0) closings++;
		return Math.min(closings, this.measured(a) - closings);
	}

	/**
	 * In how many of them its readings went against what is declared, if what is declared of most of the others is right;
	 * undefined where fewer than two others are known, or as many speak for one way as for the other.
	 */
	against(features: Features, a: number): number | undefined {
		const most = mostSense(features, a);
		if (most === 0 || Number.isNaN(features.declared.sense[a])) return undefined;
		let sum = 0;
		const measured = this.measured(a);
		for (let k = 0; k < measured; k++) if (this.seen[a * kept + k] * features.declared.sense[a] !== most) sum++;
		return sum;
	}

	/** When the first of the movements held set out, seconds. */
	firstAt(a: number): number {
		let first = Number.POSITIVE_INFINITY;
		const measured = this.measured(a);
		for (let k = 0; k < measured; k++) first = Math.min(first, this.at[a * kept + k]);
		return first;
	}
}

/** Whether another finger of this movement, seen from `f`, comes to the end that its sheet gives on that side. */
function otherReaches(features: Features, hand: Hand, f: number, place: number): boolean {
	const {declared, analog} = features;
	const {trips} = analog;
	return hand.others(f).some(other => {
		if (!declared.has(other)) return false;
		const trip = ownTrip(trips, hand, other, hand.outAt[place], hand.way[place]);
		if (trip < 0) return false;
		const at = trips.at(other, trip);
		const level = trips.startValue[at] + trips.way[at];
		const short = trips.way[at] > 0 ? declared.max[other] - level : level - declared.min[other];
		return short <= reachShare * declared.spanOf(other);
	});
}

/** +1 where most other fingers go by the hand's sense as declared, −1 where they go the other way; 0 where that is not known. */
function mostSense(features: Features, a: number): number {
	const hand = features.handAt(a);
	if (hand === undefined) return 0;
	let known = 0;
	let sum = 0;
	for (const other of hand.others(a)) {
		const said = features.declared.sense[other];
		if (hand.sense[other] === 0 || Number.isNaN(said)) continue;
		known++;
		sum += hand.sense[other] * said;
	}
	return known >= leastOthers ? Math.sign(sum) : 0;
}
