import {medianInPlace} from '../math/nth-smallest.ts';
import type {Spans} from './spans.ts';
import type {StateBlock} from './state-block.ts';
import {Trips} from './trips.ts';

/** Fingers set out together within so many seconds (check-values D2); differences of times in seconds are rounded. */
const togetherSeconds = 0.6 + 1e-6;

/** At least so many other fingers, and this share of them. */
const leastOthers = 3;
const othersShare = 0.6;

/** Each goes this share of its own span, and of the widest span of any finger. */
const ofOwnSpan = 0.4;
const ofWidest = 0.45;

/** Closings and openings each until the hand is said to work. */
const eachWay = 2;

/**
 * A finger's sense was taken from a closing of its own and an opening of others, or its wires were exchanged, where it goes
 * against it so often in a row; by chance that is as rare as reversed-sensor holds it to be.
 */
const turnedAfter = 3;

/** A trip that has not settled holds up what set out after it for so long at the most; no movement of a hand takes longer. */
const longestSeconds = 3;

/** A movement is ripe once what came after it has been seen for so long. */
const ripeSeconds = 0.5;

const kept = 64;

/** Fingers that have a bit each in a whole number of 32 bits. */
const mostBits = 30;

/**
 * The fingers of one hand together: which way each of them closes, and the whole-hand movements as seen from each finger
 * (check-values D2). A finger that is open, a ghost or learning takes no part; `setOut` says so from outside. Places `f` are
 * places among all analog channels.
 */
export class Hand {
	static readonly kept = kept;
	/** Places of the hand's fingers among the analog channels, in scan order. */
	readonly fingers: readonly number[];
	/** +1 or −1: which way a channel's readings go when the hand closes, by its own first whole-hand movement; 0 before. */
	readonly sense: Int32Array;
	/** Movements in a row, latest, in which the finger went the other way than its sense says. */
	private readonly against: Int32Array;
	/** 1 where the channel is no finger: an open pin, a ghost. */
	readonly out: Uint8Array;
	/**
	 * Whole-hand movements seen from each finger: how many so far, and of the last `kept` of them (place `at`) when the
	 * first of the others set out, when the last of them arrived, the frames of both, and +1 for a closing, −1 for an opening.
	 */
	readonly count: Int32Array;
	readonly outAt: Float64Array;
	readonly inAt: Float64Array;
	readonly outFrame: Float64Array;
	readonly inFrame: Float64Array;
	readonly way: Int32Array;
	/** Bit per finger (its number in `fingers`) that took part. */
	readonly members: Int32Array;
	/** Of `count`, those after which half a second has been seen. */
	readonly ripe: Int32Array;
	/** Rises with every movement that is found, with every sense that is learned and where all are grouped anew. */
	readonly changes: Float64Array;
	/** Changes of the fingers' trips when they were last grouped with nothing left to wait for; NaN else. */
	private readonly groupedBy: Float64Array;
	/** 1 where the trip in this slot of the ring is far enough for the hand; trips of each channel that have a slot so far. */
	private readonly big: Uint8Array;
	private readonly noted: Int32Array;
	/** Times up to which trips have been grouped: for the senses, and per finger and way. */
	private readonly sensed: Float64Array;
	private readonly grouped: Float64Array;
	/** Of each finger the others, by which of the fingers took part then. */
	private readonly othersOf: {readonly wired: number; readonly list: readonly number[]}[] = [];
	/** Likewise of those that have made a trip. */
	private live: readonly number[] = [];
	/** The least way asked of each trip besides, counts, as of the last look. */
	private readonly leastWay: Float64Array;
	/** When each finger's epoch began, seconds: movements that set out before are not seen from it. */
	private readonly since: Float64Array;
	/** Used within one call only: places of trips in order of setting out, those of them that are wanted, and a group of these. */
	private readonly events: Int32Array;
	private readonly wanted: Int32Array;
	private readonly company: Int32Array;
	private readonly before: Int32Array;

	constructor(
		fingers: readonly number[],
		channels: number,
		private readonly trips: Trips,
		private readonly spans: Spans,
		state: StateBlock,
	) {
		this.fingers = fingers;
		this.sense = state.ints(channels);
		this.against = state.ints(channels);
		this.out = state.bytes(channels);
		this.count = state.ints(channels);
		this.outAt = state.floats(channels * kept);
		this.inAt = state.floats(channels * kept);
		this.outFrame = state.floats(channels * kept);
		this.inFrame = state.floats(channels * kept);
		this.way = state.ints(channels * kept);
		this.members = state.ints(channels * kept);
		this.ripe = state.ints(channels);
		this.changes = state.floats(1);
		this.groupedBy = state.floats(1, Number.NaN);
		this.big = state.bytes(channels * Trips.kept);
		this.noted = state.ints(channels);
		this.sensed = state.floats(1, Number.NEGATIVE_INFINITY);
		this.grouped = state.floats(channels * 2, Number.NEGATIVE_INFINITY);
		this.leastWay = state.floats(1);
		this.since = state.floats(channels, Number.NEGATIVE_INFINITY);
		this.events = new Int32Array(fingers.length * Trips.kept);
		this.wanted = new Int32Array(fingers.length * Trips.kept);
		this.company = new Int32Array(fingers.length);
		this.before = new Int32Array(channels);
	}

	/** Place of whole-hand movement `number` seen from finger `f`. */
	at(f: number, number: number): number {
		return f * kept + (number & (kept - 1));
	}

	oldest(f: number): number {
		return Math.max(0, this.count[f] - kept);
	}

	/** Fingers of this hand that are wired as far as is known: all but open pins and ghosts. */
	others(f: number): readonly number[] {
		let wired = 0;
		for (let bit = 0; bit < this.fingers.length; bit++) if (this.out[this.fingers[bit]] === 0) wired |= 1 << bit;
		// One bit a finger: hands of more have no list that is kept.
		const known = this.fingers.length <= mostBits ? this.othersOf[f] : undefined;
		// The list only saves time: it is made anew where others take part than when it was made.
		if (known !== undefined && known.wired === wired) return known.list;
		return this.listOthers(f, wired);
	}

	private listOthers(f: number, wired: number): readonly number[] {
		const list = this.fingers.filter(other => other !== f && this.out[other] === 0);
		this.othersOf[f] = {wired, list};
		return list;
	}

	/** Median span of the other fingers, counts; 0 without any. */
	medianSpan(f: number): number {
		const others = this.others(f);
		for (let i = 0; i < others.length; i++) figures[i] = this.spans.of(others[i]);
		return others.length === 0 ? 0 : medianInPlace(figures, others.length);
	}

	/** Closings (`way` 1) or openings (−1) of the whole hand seen from `f` that set out at or after `since` and are over. */
	movementsSince(f: number, since: number, way: 1 | -1): number {
		let movements = 0;
		const oldest = this.oldest(f);
		for (let number = this.count[f] - 1; number >= oldest; number--) {
			const place = this.at(f, number);
			if (this.outAt[place] < since) break;
			if (this.way[place] > 0 === way > 0) movements++;
		}
		return movements;
	}

	/** Whether the hand works seen from `f`: two closings and two openings since a time. */
	works(f: number, since: number): boolean {
		return this.movementsSince(f, since, 1) >= eachWay && this.movementsSince(f, since, -1) >= eachWay;
	}

	/** Says whether a channel is a finger at all. Movements are grouped anew from the trips still held. */
	setOut(a: number, isOut: boolean): void {
		const value = isOut ? 1 : 0;
		if (this.out[a] === value) return;
		this.out[a] = value;
		this.regroup();
	}

	/** Groups anew all trips that are held. Senses stay. */
	regroup(): void {
		for (const f of this.fingers) {
			this.count[f] = 0;
			this.ripe[f] = 0;
			for (const side of [0, 1]) this.grouped[2 * f + side] = Number.NEGATIVE_INFINITY;
		}
		this.sensed[0] = Number.NEGATIVE_INFINITY;
		this.changes[0]++;
		this.groupedBy[0] = Number.NaN;
	}

	/** An epoch of channel `a` begins at time `now`, seconds. */
	forget(a: number, now: number): void {
		this.since[a] = now;
		this.sense[a] = 0;
		this.against[a] = 0;
		this.noted[a] = 0;
		this.regroup();
	}

	/**
	 * Takes in the trips as they are at time `now`, seconds. `leastWay` counts is asked of each besides: as long as no finger
	 * is proven nothing tells how far they go, and a hand at rest sways together.
	 */
	close(now: number, leastWay: number): void {
		this.leastWay[0] = leastWay;
		const live = this.liveNow();
		let changes = 0;
		for (const f of this.fingers) changes += this.trips.changes[f];
		// The same trips, of which the last pass has grouped all there were, are grouped alike.
		const isNew = this.noteBig(live) || changes !== this.groupedBy[0];
		if (live.length >= 2 && isNew) this.groupedBy[0] = this.group(live, now) ? changes : Number.NaN;
		for (const f of this.fingers)
			while (this.ripe[f] < this.count[f] && this.inAt[this.at(f, this.ripe[f])] + ripeSeconds <= now) this.ripe[f]++;
	}

	/** Fingers that take part and have made a trip; the list is made anew where it is another one. */
	private liveNow(): readonly number[] {
		let count = 0;
		let isSame = true;
		for (const f of this.fingers) {
			if (this.out[f] !== 0 || this.trips.count[f] === 0) continue;
			if (this.live[count] !== f) isSame = false;
			count++;
		}
		if (!isSame || count !== this.live.length)
			this.live = this.fingers.filter(f => this.out[f] === 0 && this.trips.count[f] > 0);
		return this.live;
	}

	/**
	 * The movement of the others that finger `f` sees under way: all that it takes have arrived, whether they go on or not. When the
	 * first of them set out and the last arrived, seconds, and +1 for a closing, −1 for an opening; undefined without one.
	 */
	underWay(f: number): {outAt: number; inAt: number; way: 1 | -1} | undefined {
		const {outAt, inAt, way} = this.trips;
		const others = this.others(f);
		const widest = this.widest(this.live);
		const latest = others.filter(other => this.hasArrivedFar(other, widest)).map(other => this.latestTrip(other));
		const last = Math.max(...latest.map(place => outAt[place]));
		const company = latest.filter(place => last - outAt[place] <= togetherSeconds);
		if (others.length < 2 || company.length < neededOf(others.length)) return undefined;
		const [first, ...more] = company.map(place => Math.sign(way[place]) * this.sense[this.fingerAt(place)]);
		if ((first !== 1 && first !== -1) || more.some(one => one !== first)) return undefined;
		return {
			outAt: Math.min(...company.map(place => outAt[place])),
			inAt: Math.max(...company.map(place => inAt[place])),
			way: first,
		};
	}

	private latestTrip(f: number): number {
		return this.trips.at(f, this.trips.count[f] - 1);
	}

	/** Whether the latest trip of a finger has arrived, and is far enough by the spans known now. */
	private hasArrivedFar(f: number, widest: number): boolean {
		const {trips} = this;
		if (trips.count[f] === 0) return false;
		const place = this.latestTrip(f);
		const isTrip = trips.arrived[place] === 1 && trips.held[place] === 1;
		return isTrip && Math.abs(trips.way[place]) >= this.leastFar(f, widest);
	}

	/** Widest span of these fingers, counts. */
	private widest(fingers: readonly number[]): number {
		let widest = 0;
		for (const f of fingers) widest = Math.max(widest, this.spans.of(f));
		return widest;
	}

	/** How far a trip of finger `f` has to go to take part in a movement of the hand, counts. */
	private leastFar(f: number, widest: number): number {
		return Math.max(ofOwnSpan * this.spans.of(f), ofWidest * widest, this.leastWay[0]);
	}

	/** A trip is far enough by the spans known when it settles; a later one that is longer does not take that back. True where that has changed. */
	private noteBig(live: readonly number[]): boolean {
		const {trips} = this;
		const widest = this.widest(live);
		let hasChanged = false;
		for (const f of live) {
			const least = this.leastFar(f, widest);
			const first = Math.min(this.noted[f], trips.count[f] - 3);
			for (let number = Math.max(trips.oldest(f), first); number < trips.count[f]; number++) {
				const place = trips.at(f, number);
				const before = this.big[place];
				// The slot held another trip before.
				if (number >= this.noted[f] || trips.settled[place] === 0) this.big[place] = 0;
				const isTrip = trips.settled[place] === 1 && trips.held[place] === 1;
				if (isTrip && Math.abs(trips.way[place]) >= least) this.big[place] = 1;
				if (this.big[place] !== before) hasChanged = true;
			}
			this.noted[f] = trips.count[f];
		}
		return hasChanged;
	}

	/** True where all trips that are far enough have been grouped for good: none is under way, none may yet have company. */
	private group(live: readonly number[], now: number): boolean {
		const {trips} = this;
		// Nothing is grouped that a trip under way may yet belong to.
		let until = now;
		for (const f of live) {
			const last = trips.at(f, trips.count[f] - 1);
			if (trips.settled[last] === 0) until = Math.min(until, Math.max(trips.startAt[last], now - longestSeconds));
		}
		const events = this.eventsUntil(live, until);
		if (events === 0) return until === now;
		if (this.learnSenses(events, live, until)) {
			this.regroup();
			return false;
		}
		for (const f of this.fingers) {
			const others = live.includes(f) ? live.length - 1 : live.length;
			if (others < 2) continue;
			const need = neededOf(others);
			this.groupFor(f, 1, need, others, events, until);
			this.groupFor(f, -1, need, others, events, until);
		}
		return until === now && this.trips.outAt[this.events[events - 1]] + togetherSeconds <= until;
	}

	/** Puts the places of trips that are far enough and set out by `until` into `events`, in order of setting out; how many there are. */
	private eventsUntil(live: readonly number[], until: number): number {
		const {trips, big, events} = this;
		const {outAt} = trips;
		let count = 0;
		let first = this.sensed[0];
		for (const f of this.fingers) first = Math.min(first, this.grouped[2 * f], this.grouped[2 * f + 1]);
		for (const f of live) {
			const oldest = trips.oldest(f);
			for (let number = trips.count[f] - 1; number >= oldest; number--) {
				const place = trips.at(f, number);
				if (big[place] === 1 && trips.settled[place] === 1 && trips.outAt[place] <= until) {
					if (trips.outAt[place] <= first) break;
					// Few at a time, but where all are grouped anew.
					let i = count++;
					for (; i > 0 && comesAfter(outAt, events[i - 1], place); i--) events[i] = events[i - 1];
					events[i] = place;
				}
			}
		}
		return count;
	}

	/** Which finger a place in the trips' rings belongs to. */
	private fingerAt(place: number): number {
		return Math.floor(place / Trips.kept);
	}

	/**
	 * Gives each finger its sense at its first movement with others; the first closes by definition. True where a sense that was
	 * known is another one now: all movements have to be grouped anew.
	 */
	private learnSenses(events: number, live: readonly number[], until: number): boolean {
		const {trips, sense, wanted, before} = this;
		const need = Math.min(leastOthers, Math.max(2, live.length));
		before.set(sense);
		let count = 0;
		for (let i = 0; i < events; i++) if (trips.outAt[this.events[i]] > this.sensed[0]) wanted[count++] = this.events[i];
		let next = 0;
		while ((next = this.nextGroup(next, count, until, need, live.length, this.sensed, 0)) >= 0) this.takeSenses();
		return this.fingers.some(f => before[f] !== 0 && before[f] !== sense[f]);
	}

	/** What the latest group says of the senses of those in it: of a new one at once, of a known one after three in a row. */
	private takeSenses(): void {
		const {trips, sense, against, company} = this;
		const size = this.companySize();
		let balance = 0;
		for (let k = 0; k < size; k++) balance += Math.sign(trips.way[company[k]]) * sense[this.fingerAt(company[k])];
		for (let k = 0; k < size; k++) {
			const f = this.fingerAt(company[k]);
			const heading = Math.sign(trips.way[company[k]]);
			if (sense[f] === 0) {
				sense[f] = heading * (balance >= 0 ? 1 : -1);
				this.changes[0]++;
				continue;
			}
			const isAgainst = heading * sense[f] * balance < 0;
			against[f] = isAgainst ? against[f] + 1 : 0;
			if (against[f] < turnedAfter) continue;
			sense[f] = -sense[f];
			against[f] = 0;
			this.changes[0]++;
		}
	}

	/** How many trips are in the latest group. */
	private companySize(): number {
		const empty = this.company.indexOf(-1);
		return empty < 0 ? this.company.length : empty;
	}

	private groupFor(f: number, way: 1 | -1, need: number, whole: number, events: number, until: number): void {
		const {trips, sense, wanted, company} = this;
		const cursor = 2 * f + (way > 0 ? 0 : 1);
		let count = 0;
		for (let i = 0; i < events; i++) {
			const place = this.events[i];
			if (!(trips.outAt[place] > this.grouped[cursor])) continue;
			const other = this.fingerAt(place);
			if (other !== f && sense[other] !== 0 && Math.sign(trips.way[place]) * sense[other] === way)
				wanted[count++] = place;
		}
		let next = 0;
		while ((next = this.nextGroup(next, count, until, need, whole, this.grouped, cursor)) >= 0) {
			if (trips.outAt[company[0]] < this.since[f]) continue;
			const place = this.insert(f, trips.outAt[company[0]]);
			this.changes[0]++;
			this.outAt[place] = trips.outAt[company[0]];
			this.outFrame[place] = trips.outFrame[company[0]];
			let inAt = Number.NEGATIVE_INFINITY;
			let inFrame = Number.NEGATIVE_INFINITY;
			let members = 0;
			const size = this.companySize();
			for (let k = 0; k < size; k++) {
				inAt = Math.max(inAt, trips.inAt[company[k]]);
				inFrame = Math.max(inFrame, trips.inFrame[company[k]]);
				members |= 1 << this.fingers.indexOf(this.fingerAt(company[k]));
			}
			this.inAt[place] = inAt;
			this.inFrame[place] = inFrame;
			this.way[place] = way;
			this.members[place] = members;
		}
	}

	/** Makes room for a movement at time `at`: closings and openings are found one after the other, but held in order. */
	private insert(f: number, at: number): number {
		let number = this.count[f]++;
		for (; number > this.ripe[f] && number > this.oldest(f); number--) {
			const before = this.at(f, number - 1);
			if (this.outAt[before] <= at) break;
			const place = this.at(f, number);
			for (const ring of [this.outAt, this.inAt, this.outFrame, this.inFrame, this.way, this.members])
				ring[place] = ring[before];
		}
		return this.at(f, number);
	}

	/**
	 * Looks among the `count` wanted events, from number `from` on, for a group of at least `need` different fingers that set out
	 * within 0.6 s of its first, and puts it into `company`, empty places −1. Answers the number of the event behind it; −1
	 * without one. `cursors[cursor]` is the time up to which events are used up; events too young to have all their company
	 * wait, until all `whole` fingers that could come are there.
	 */
	private nextGroup(
		from: number,
		count: number,
		until: number,
		need: number,
		whole: number,
		cursors: Float64Array,
		cursor: number,
	): number {
		const {outAt} = this.trips;
		const {wanted, company} = this;
		for (let i = from; i < count; ) {
			const first = outAt[wanted[i]];
			let size = 0;
			let j = i;
			company.fill(-1);
			for (; j < count && outAt[wanted[j]] - first <= togetherSeconds; j++)
				if (!this.isAmong(this.fingerAt(wanted[j]), size)) company[size++] = wanted[j];
			if (first + togetherSeconds > until && size < whole) return -1;
			if (size >= need) {
				cursors[cursor] = outAt[wanted[j - 1]];
				return j;
			}
			cursors[cursor] = outAt[wanted[i++]];
		}
		return -1;
	}

	/** Whether one of the first `size` of a group is a finger's. */
	private isAmong(finger: number, size: number): boolean {
		for (let k = 0; k < size; k++) if (this.fingerAt(this.company[k]) === finger) return true;
		return false;
	}
}

/** How many of so many other fingers make a movement of the whole hand. */
function neededOf(others: number): number {
	return others === 2 ? 2 : Math.max(leastOthers, Math.ceil(othersShare * others - 1e-9));
}

/** Whether trip `one` set out after `other`; of two that set out together, by their places. */
function comesAfter(outAt: Float64Array, one: number, other: number): boolean {
	return outAt[one] > outAt[other] || (outAt[one] === outAt[other] && one > other);
}

/** Used within one call only. */
const figures = new Float64Array(1024);
