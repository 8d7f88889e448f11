import {medianOf, quantileOf} from '../math/nth-smallest.ts';
import type {Features} from './features.ts';
import {frameMask} from './frame-history.ts';
import type {Hand} from './hand.ts';
import type {MovementTaker} from './movement-walk.ts';
import {ownTrip} from './own-trip.ts';
import type {StateBlock} from './state-block.ts';

/** Movements remembered per finger: eight times there and back, so that a cord that was mended shows after four. */
const kept = 16;

/** A way has begun at this share of it, and is nearly over at that one. */
const begunShare = 0.1;
const overShare = 0.9;

/** Around the movement so much is looked at besides: until a tenth of the way readings creep. */
const aroundSeconds = 0.4;

/** With fewer others there is nothing to compare with. */
const leastOthers = 2;

/**
 * How far the other fingers have gone already when a finger sets out, in the whole-hand movements that it takes part in
 * (check-values D5.4, backlash): play in the reel is gone through before the reading moves. What comes late altogether is no
 * play: times are shifted so that all have gone nine tenths of their way together.
 */
export class Plays implements MovementTaker {
	/** Movements measured so far; figures of the last `kept` are held. */
	private readonly count: Int32Array;
	/** The others' median way when the finger had gone a tenth of its own, less that tenth; shares. */
	private readonly play: Float64Array;
	/** How far the others lay apart then, share of their ways. */
	private readonly apart: Float64Array;
	/** When the movement set out, seconds. */
	private readonly at: Float64Array;
	/** The finger's own trip that was measured last. */
	private readonly lastTrip: Int32Array;
	/** What `median`, `scatter` and `alike` told, of how many movements and which `apart`: they are asked far more often than they change. */
	private readonly told: Float64Array;

	constructor(channels: number, state: StateBlock) {
		this.count = state.ints(channels);
		this.play = state.floats(channels * kept);
		this.apart = state.floats(channels * kept);
		this.at = state.floats(channels * kept);
		this.lastTrip = state.ints(channels, -1);
		this.told = state.floats(channels * toldLength, Number.NaN);
	}

	takeMovement(features: Features, hand: Hand, f: number, place: number): void {
		const {trips} = features.analog;
		const trip = ownTrip(trips, hand, f, hand.outAt[place], hand.way[place]);
		if (trip <= this.lastTrip[f]) return;
		this.lastTrip[f] = trip;
		this.measure(features, hand, f, place, trip);
	}

	forget(a: number): void {
		this.count[a] = 0;
		this.lastTrip[a] = -1;
		this.told[a * toldLength] = Number.NaN;
	}

	/** Movements measured, of those held. */
	measured(a: number): number {
		return Math.min(kept, this.count[a]);
	}

	/** Those of them in which the others lay at most `apart` (a share of their ways) from each other. */
	alike(a: number, apart: number): number {
		return this.told[this.tell(a, apart) + 2];
	}

	/** Median play over those movements, share of the finger's way; undefined without any. */
	median(a: number, apart: number): number | undefined {
		const i = this.tell(a, apart);
		return this.told[i + 2] > 0 ? this.told[i + 3] : undefined;
	}

	/** How much the play differs from one of those movements to another: between their quartiles; undefined without any. */
	scatter(a: number, apart: number): number | undefined {
		const i = this.tell(a, apart);
		if (this.told[i + 2] === 0) return undefined;
		// Asked for far less often than the median.
		if (Number.isNaN(this.told[i + 4])) {
			const used = this.gather(a, apart);
			this.told[i + 4] = quantileOf(figures, used, 0.75) - quantileOf(figures, used, 0.25);
		}
		return this.told[i + 4];
	}

	/** Where in `told` the figures of a channel stand: count and `apart` they are of, how many were used, median, scatter. */
	private tell(a: number, apart: number): number {
		const {told} = this;
		const i = a * toldLength;
		if (told[i] === this.count[a] && told[i + 1] === apart) return i;
		const used = this.gather(a, apart);
		told[i] = this.count[a];
		told[i + 1] = apart;
		told[i + 2] = used;
		told[i + 3] = used > 0 ? medianOf(figures, 0, used) : Number.NaN;
		told[i + 4] = Number.NaN;
		return i;
	}

	/** When the first and the last of those movements with at least this play set out, seconds; undefined without any. */
	seen(a: number, apart: number, least: number): {first: number; last: number} | undefined {
		let first = Number.POSITIVE_INFINITY;
		let last = Number.NEGATIVE_INFINITY;
		const measured = this.measured(a);
		for (let k = 0; k < measured; k++) {
			const i = a * kept + k;
			if (this.apart[i] > apart || this.play[i] < least) continue;
			first = Math.min(first, this.at[i]);
			last = Math.max(last, this.at[i]);
		}
		return last >= first ? {first, last} : undefined;
	}

	private gather(a: number, apart: number): number {
		let used = 0;
		const measured = this.measured(a);
		for (let k = 0; k < measured; k++) {
			const i = a * kept + k;
			if (this.apart[i] <= apart) figures[used++] = this.play[i];
		}
		return used;
	}

	private measure(features: Features, hand: Hand, f: number, place: number, trip: number): void {
		const {analog, history} = features;
		const {trips} = analog;
		const own = trips.at(f, trip);
		const from = Math.max(
			features.epochFrameOf(f),
			history.firstAt(Math.min(trips.outAt[own], hand.outAt[place]) - aroundSeconds),
		);
		const until = Math.max(trips.inAt[own], hand.inAt[place]) + aroundSeconds;
		// At 1000 frames/s the frames of a slow movement may be gone.
		if (trips.startFrame[own] < history.oldest || trips.endFrame[own] < from) return;
		const begun = reaches(features, f, own, begunShare, from, until);
		const over = reaches(features, f, own, overShare, from, until);
		if (Number.isNaN(begun) || Number.isNaN(over)) return;
		let others = 0;
		for (let bit = 0; bit < hand.fingers.length; bit++) {
			const other = hand.fingers[bit];
			if ((hand.members[place] & (1 << bit)) === 0 || hand.out[other] === 1 || features.troubled[other] === 1) continue;
			const number = ownTrip(trips, hand, other, hand.outAt[place], hand.way[place]);
			if (number < 0) continue;
			const theirs = trips.at(other, number);
			const end = reaches(features, other, theirs, overShare, from, until);
			if (Number.isNaN(end)) continue;
			const way = wayAt(features, other, theirs, begun - (over - end), from);
			if (!Number.isNaN(way)) ways[others++] = way;
		}
		if (others < leastOthers) return;
		const i = f * kept + (this.count[f]++ % kept);
		this.play[i] = medianOf(ways, 0, others) - begunShare;
		this.apart[i] = quantileOf(ways, others, 1) - quantileOf(ways, others, 0);
		this.at[i] = hand.outAt[place];
	}
}

/** Numbers in `told` for each channel. */
const toldLength = 5;

/** Used within one call only. */
const figures = new Float64Array(kept);
const ways = new Float64Array(32);

/** When channel `a` first rises past a share of its trip's way, seconds, between its frames; NaN if not until `until`. */
function reaches(features: Features, a: number, place: number, share: number, from: number, until: number): number {
	const {history, analog} = features;
	const {trips} = analog;
	const {times} = history;
	const readings = history.columns[analog.columns[a]];
	const start = trips.startValue[place];
	const way = trips.way[place];
	let before = Number.NaN;
	let beforeAt = 0;
	for (let frame = Math.max(from, trips.startFrame[place]); frame < history.count; frame++) {
		const at = times[frame & frameMask];
		if (at > until) break;
		const gone = (readings[frame & frameMask] - start) / way;
		if (Number.isNaN(gone)) continue;
		if (before < share && gone >= share) return beforeAt + ((share - before) / (gone - before)) * (at - beforeAt);
		before = gone;
		beforeAt = at;
	}
	return Number.NaN;
}

/** Share of its trip's way that channel `a` has gone at time `t`, between its frames; not looked for before frame `from`. */
function wayAt(features: Features, a: number, place: number, t: number, from: number): number {
	const {history, analog} = features;
	const {trips} = analog;
	const readings = history.columns[analog.columns[a]];
	const start = trips.startValue[place];
	const way = trips.way[place];
	let frame = Math.max(from, history.firstAt(t));
	while (frame < history.count - 1 && Number.isNaN(readings[frame & frameMask])) frame++;
	const later = (readings[frame & frameMask] - start) / way;
	let earlier = frame - 1;
	while (earlier > from && Number.isNaN(readings[earlier & frameMask])) earlier--;
	if (earlier < from || Number.isNaN(readings[earlier & frameMask])) return later;
	const sooner = (readings[earlier & frameMask] - start) / way;
	const one = history.time(earlier);
	const two = history.time(frame);
	const share = two > one ? Math.max(0, Math.min(1, (t - one) / (two - one))) : 1;
	return sooner + share * (later - sooner);
}
