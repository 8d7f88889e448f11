import {medianOf} from '../math/nth-smallest.ts';
import type {Features, Watch} from './features.ts';
import {type FrameHistory, frameMask} from './frame-history.ts';
import {ceilingShares} from './scaling.ts';
import type {StateBlock} from './state-block.ts';
import {Trips} from './trips.ts';

/** Tops within this share of full scale of each other are one level. */
const alike = 0.01;

/** That four of five tops, spread over a sixth of the scale, lie so close together is chance once in five thousand gloves: 20·(0.003/0.16)³. */
const alikeClosely = 0.003;
const leastClose = 4;

/**
 * A movement that ends short of the ceiling says nothing against it. Fingers that are stopped there more than once are enough
 * where four of them agree within two counts of 10 bit: no four reels are mounted so alike, for that is half a degree of a 270°
 * track (by chance once in 25,000 gloves: 20·(0.002/0.16)³). An open hand would lie there for most of the time.
 */
const alikeStops = 0.002;
const mostFlat = 0.5;
const leastStops = 2;

/** Flat at its top: within this share of full scale. */
const flatShare = 0.003;

/**
 * Closed ends that a finger has shown, and how many of the latest lie at the top: fists differ from one to the next by several
 * per cent, a ceiling does not.
 */
const leastClosings = 3;
const closingsLookedAt = 8;
const endShare = 0.006;
const atTopShare = 0.7;

/**
 * How abruptly a way ends: the time from nine tenths to 99 % over that from half to nine tenths. A hand brakes (0.56 for the
 * smoothest stroke, minimum jerk, Flash and Hogan 1985; 0.48 for a cosine), a ceiling that cuts a twentieth of it off does not
 * (0.37 and 0.34): halfway between.
 */
const mostBraked = 0.42;

/** By which sign fingers are gathered. */
type Sign = 'stopped' | 'close' | 'stops';

const none: Ceiling = {fingers: [], level: 0};

/** Used within one call only. */
const shown = new Int32Array(1024);

/** Numbers kept of one answer about arrivals. */
const toldLength = 9;

/** Fingers that flatten at one level below full scale at the closed end. */
export type Ceiling = {readonly fingers: readonly number[]; readonly level: number};

/** How long each finger has lain flat at its own top: what a ceiling of the supply makes of the end of a closing. */
export class Ceilings implements Watch {
	private readonly flat: Float64Array;
	private readonly frames: Float64Array;
	private readonly top: Float64Array;
	/** How each held trip ends, by its place in the rings; trips looked at so far. */
	private readonly braked: Float64Array;
	private readonly seen: Int32Array;
	/** What `arrivals` answered of the latest `closingsLookedAt` and of all, and by which state of the trips; saves time only. */
	private readonly told: Float64Array;
	/** Used within one call only; see `mostAlike`. */
	private readonly middle = new Int32Array(1);

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.flat = state.floats(channels);
		this.frames = state.floats(channels);
		this.top = state.floats(channels, Number.NaN);
		this.braked = state.floats(channels * Trips.kept);
		this.seen = state.ints(channels);
		this.told = state.floats(2 * channels * toldLength, Number.NaN);
	}

	/** Share of its frames in which a channel lies flat at its top, 0…1. */
	flatShareOf(a: number): number {
		return this.frames[a] === 0 ? 0 : this.flat[a] / this.frames[a];
	}

	/**
	 * Fingers that stop at one level when the hand closes, each flat there for at least a share of its frames; level in counts.
	 * They stop without braking, or so many agree so closely that it is no chance.
	 */
	group(features: Features, leastFlat: number): Ceiling {
		const stopped = this.largest(features, alike, leastFlat, 'stopped');
		const close = this.largest(features, alikeClosely, leastFlat, 'close');
		return close.fingers.length > stopped.fingers.length && close.fingers.length >= leastClose ? close : stopped;
	}

	/** Likewise of fingers that are stopped at one level again and again, and not at the end where the hand opens. */
	stops(features: Features, leastFlat: number): Ceiling {
		return this.largest(features, alikeStops, leastFlat, 'stops');
	}

	/** Whether `group` has at least so many fingers. Mostly not even so many tops are alike, whoever stops at them. */
	groupHas(features: Features, leastFlat: number, least: number): boolean {
		if (this.mostAlike(features, alike, this.candidates(features, leastFlat)) < least) return false;
		return this.group(features, leastFlat).fingers.length >= least;
	}

	/** The same of `stops`. */
	stopsHave(features: Features, leastFlat: number, least: number): boolean {
		if (this.mostAlike(features, alikeStops, this.candidates(features, leastFlat)) < least) return false;
		return this.stops(features, leastFlat).fingers.length >= least;
	}

	private passes(features: Features, f: number, sense: number, by: Sign): boolean {
		const flat = this.flatShareOf(f);
		if (by !== 'stops') return sense > 0 && this.endsAtTop(features, f, by === 'stopped');
		return sense >= 0 && flat <= mostFlat && this.told[this.arrivals(features, f, Trips.kept) + 1] >= leastStops;
	}

	/** Puts the fingers into `shown` that lie flat for so long at a top where a ceiling may be; how many there are. */
	private candidates(features: Features, leastFlat: number): number {
		const {scale, hands} = features;
		let count = 0;
		for (const {fingers} of hands) {
			for (const f of fingers) {
				// First what mostly refuses.
				if (this.flatShareOf(f) < leastFlat) continue;
				const share = (this.top[f] - scale.railLow) / scale.fullScale;
				if (share >= ceilingShares.least && share <= ceilingShares.most && features.isFinger(f)) shown[count++] = f;
			}
		}
		return count;
	}

	/** Of the first `count` of `shown`, how many tops are alike with one of them, at the most; `middle` holds that one. */
	private mostAlike({scale}: Features, within: number, count: number): number {
		let most = 0;
		for (let i = 0; i < count; i++) {
			let near = 0;
			for (let j = 0; j < count; j++) if (this.isNear(shown[i], shown[j], within * scale.fullScale)) near++;
			if (near > most) {
				most = near;
				this.middle[0] = shown[i];
			}
		}
		return most;
	}

	/** The largest group of fingers with tops alike, of those that pass. */
	private largest(features: Features, within: number, leastFlat: number, by: Sign): Ceiling {
		const {scale} = features;
		const candidates = this.candidates(features, leastFlat);
		let count = 0;
		for (let i = 0; i < candidates; i++) {
			const f = shown[i];
			if (this.passes(features, f, features.handAt(f)?.sense[f] ?? 0, by)) shown[count++] = f;
		}
		if (this.mostAlike(features, within, count) === 0) return none;
		const [middle] = this.middle;
		const fingers = Array.from(shown.subarray(0, count)).filter(f => this.isNear(middle, f, within * scale.fullScale));
		return {fingers, level: this.top[middle] - scale.railLow};
	}

	private isNear(one: number, other: number, counts: number): boolean {
		return Math.abs(this.top[other] - this.top[one]) <= counts;
	}

	close(features: Features): void {
		const {rows, spans} = features.analog;
		const band = flatShare * features.scale.fullScale;
		const newest = rows.count - 1;
		const frames = rows.frames[rows.slot(newest)];
		for (let a = 0; a < this.channels; a++) {
			this.takeEnds(features, a);
			const top = spans.high[a];
			if (Number.isNaN(top)) continue;
			// Where the top rises, what was flat below it was no top.
			if (!(Math.abs(top - this.top[a]) <= band)) {
				this.flat[a] = 0;
				this.top[a] = top;
			}
			const at = rows.at(newest, a);
			this.frames[a] += frames;
			if (rows.high[at] < top - band) continue;
			if (rows.low[at] >= top - band) this.flat[a] += frames;
			else this.flat[a] += this.countFlat(features, a, rows.firstFrame[rows.slot(newest)], frames, top - band);
		}
	}

	forget(a: number): void {
		this.flat[a] = 0;
		this.frames[a] = 0;
		this.top[a] = Number.NaN;
		this.seen[a] = 0;
		this.told.fill(Number.NaN, 2 * a * toldLength, 2 * (a + 1) * toldLength);
	}

	/** How the trips end that have settled since the last call. */
	private takeEnds({analog, history}: Features, a: number): void {
		const {trips, columns} = analog;
		for (let number = Math.max(this.seen[a], trips.oldest(a)); number < trips.count[a]; number++) {
			const place = trips.at(a, number);
			if (trips.settled[place] === 0) break;
			this.seen[a] = number + 1;
			this.braked[place] = brakingOf(history, history.columns[columns[a]], trips, place);
		}
	}

	/** Whether nearly all of a finger's latest closings end at its top, and are stopped there. */
	private endsAtTop(features: Features, a: number, isStopped: boolean): boolean {
		const {told} = this;
		const i = this.arrivals(features, a, closingsLookedAt);
		const rises = told[i];
		const atTop = told[i + 1];
		const braked = told[i + 2];
		return rises >= leastClosings && atTop >= atTopShare * rises && (!isStopped || braked <= mostBraked);
	}

	/**
	 * Of the latest rising trips, `most` at the most: how many there are, how many end at the top, and how those end. Answers
	 * where in `told` the three stand.
	 */
	private arrivals(features: Features, a: number, most: number): number {
		const {trips} = features.analog;
		const {told} = this;
		const i = (2 * a + (most === closingsLookedAt ? 0 : 1)) * toldLength;
		const count = trips.count[a];
		const newest = trips.at(a, Math.max(0, count - 1));
		const settled = trips.settled[newest];
		// Trips that are over stay as they are: only the newest may still settle, and counts from then on.
		const way = settled === 1 ? trips.way[newest] : 0;
		if (
			told[i] === count &&
			told[i + 1] === way &&
			told[i + 2] === settled &&
			told[i + 3] === this.top[a] &&
			told[i + 4] === features.scale.fullScale &&
			told[i + 5] === this.seen[a]
		)
			return i + 6;
		const {rises, atTop, braked} = this.countArrivals(features, a, most);
		told[i] = count;
		told[i + 1] = way;
		told[i + 2] = settled;
		told[i + 3] = this.top[a];
		told[i + 4] = features.scale.fullScale;
		told[i + 5] = this.seen[a];
		told[i + 6] = rises;
		told[i + 7] = atTop;
		told[i + 8] = braked;
		return i + 6;
	}

	private countArrivals({analog, scale}: Features, a: number, most: number) {
		const {trips} = analog;
		let rises = 0;
		let atTop = 0;
		const braked: number[] = [];
		const oldest = trips.oldest(a);
		for (let number = trips.count[a] - 1; number >= oldest && rises < most; number--) {
			const place = trips.at(a, number);
			if (trips.settled[place] === 0 || trips.way[place] < 0) continue;
			rises++;
			if (trips.startValue[place] + trips.way[place] < this.top[a] - endShare * scale.fullScale) continue;
			atTop++;
			braked.push(this.braked[place]);
		}
		return {rises, atTop, braked: atTop > 0 ? medianOf(braked) : 0};
	}

	private countFlat({history, analog}: Features, a: number, first: number, frames: number, least: number): number {
		let count = 0;
		for (let frame = first; frame < first + frames; frame++)
			if (history.reading(frame, analog.columns[a]) >= least) count++;
		return count;
	}
}

/** Shares of a trip's way, and when they were gone; used within one call only. */
const marks = [0.5, 0.9, 0.99] as const;
const goneAt = new Float64Array(marks.length);

/** How long a trip takes from nine tenths of its way to its end, over how long it took from half of it to nine tenths. */
function brakingOf(history: FrameHistory, readings: Float64Array, trips: Trips, place: number): number {
	const from = trips.startValue[place];
	const way = trips.way[place];
	const last = trips.endFrame[place];
	let frame = Math.max(trips.startFrame[place], history.oldest) + 1;
	for (let mark = 0; mark < marks.length; mark++) {
		const share = marks[mark];
		while (frame <= last && !((readings[frame & frameMask] - from) / way >= share)) frame++;
		if (frame > last) {
			goneAt[mark] = trips.endAt[place];
			continue;
		}
		// Between two frames.
		const before = (readings[(frame - 1) & frameMask] - from) / way;
		const now = (readings[frame & frameMask] - from) / way;
		const part = now > before ? (share - before) / (now - before) : 1;
		goneAt[mark] = history.time(frame - 1) + part * (history.time(frame) - history.time(frame - 1));
	}
	return (goneAt[2] - goneAt[1]) / (goneAt[1] - goneAt[0]);
}
