import {medianOf} from '../math/nth-smallest.ts';
import {bestCopy} from './copies.ts';
import type {FrameHistory} from './frame-history.ts';
import type {RestNoise} from './rest-noise.ts';
import type {Spans} from './spans.ts';
import type {StateBlock} from './state-block.ts';
import type {Trips} from './trips.ts';

/** Proven (check-values D2): there and back twice … */
const waysNeeded = 4;

/** … by this many times its rest noise, and this share of the median span of the other proven fingers; % FS without any. */
export const noises = 12;
const ofMedian = 0.3;
export const unprovenWay = 0.03;

/** With its noise left aside a trip itself is enough. */
export const noisesAside = 10;

/** It moved alone where the channel before it went less than this share of its way. */
const mostOfWay = 0.05;

/** A ghost goes the same share of its span as its model; half of that is another movement. */
const mostOfShare = 0.5;

/** It is no ghost either where it lies off the best copy by so much: a share of the trip, and rest noises, twice. */
const offTrip = 0.01;
const offNoises = 3;
const offTrips = 2;

/** Moved alone beyond doubt: by so many rest noises, itself quiet (share of full scale, rms). */
const aloneNoises = 20;
const quietShare = 0.006;

/** Gains between which an open pin copies the channel read before it (check-values D5.4). */
export const ghostGain = {least: 0.3, most: 0.98} as const;

const up = 1;
const down = 2;

/** What speaks for a channel being wired: that it has moved by itself, or not as a copy, far enough and often enough. */
export class Proof {
	/** When it last moved by at least 20 rest noises, quiet itself, while the channel before it did not; NaN before, seconds. */
	readonly aloneAt: Float64Array;
	/** When it last moved by itself with its noise left aside, seconds, NaN before; and how far its level went, counts. */
	readonly asideAt: Float64Array;
	readonly asideWay: Float64Array;
	/** Bits `up` and `down`: ways it has gone while the channel before it did not; with its noise left aside likewise. */
	private readonly alone: Uint8Array;
	private readonly aloneAside: Uint8Array;
	private readonly off: Int32Array;
	private readonly offAside: Int32Array;
	/** Trips looked at so far. */
	private readonly seen: Int32Array;
	/** When the channel, not proven yet, last showed what an open pin shows, seconds; −∞ where it never did. What it did until then wires nothing. */
	readonly since: Float64Array;

	constructor(
		channels: number,
		private readonly trips: Trips,
		private readonly spans: Spans,
		private readonly noise: RestNoise,
		state: StateBlock,
	) {
		this.aloneAt = state.floats(channels, Number.NaN);
		this.asideAt = state.floats(channels, Number.NaN);
		this.asideWay = state.floats(channels);
		this.alone = state.bytes(channels);
		this.aloneAside = state.bytes(channels);
		this.off = state.ints(channels);
		this.offAside = state.ints(channels);
		this.seen = state.ints(channels);
		this.since = state.floats(channels, Number.NEGATIVE_INFINITY);
	}

	/** Looks at the trips that have settled since the last call. */
	close(history: FrameHistory, columns: readonly number[], fullScale: number): void {
		const {trips} = this;
		for (let a = 0; a < columns.length; a++) {
			for (let number = Math.max(this.seen[a], trips.oldest(a)); number < trips.count[a]; number++) {
				const place = trips.at(a, number);
				if (trips.settled[place] === 0) break;
				this.seen[a] = number + 1;
				const way = Math.abs(trips.way[place]);
				if (!this.counts(a, place) || way < Math.max(noisesAside * this.noise.of(a), unprovenWay * fullScale)) continue;
				if (a === 0) this.takeFirst(place, way, fullScale);
				else this.look(a, place, history, columns, way, way >= noises * this.noise.of(a), fullScale);
			}
		}
	}

	/** Whether a channel is shown to be no ghost of the one before it; the first in scan order has none before it. */
	isItself(a: number): boolean {
		return a === 0 || this.alone[a] === (up | down) || this.off[a] >= offTrips;
	}

	/** Likewise where its noise may hide what it does. */
	isItselfAside(a: number): boolean {
		return a === 0 || this.aloneAside[a] === (up | down) || this.offAside[a] >= offTrips;
	}

	/** Trips there and back so far, of the held ones, by at least so many counts and 12 rest noises. */
	ways(a: number, least: number, ofNoise = noises): number {
		const {trips} = this;
		const far = Math.max(least, ofNoise * this.noise.of(a));
		const newest = trips.count[a];
		let count = 0;
		for (let number = trips.oldest(a); number < newest; number++) {
			const place = trips.at(a, number);
			if (Math.abs(trips.way[place]) >= far && this.counts(a, place)) count++;
		}
		return count;
	}

	/** Trips by at least 12 rest noises that set out at or after a time, seconds. */
	waysSince(a: number, since: number): number {
		const {trips} = this;
		let count = 0;
		const oldest = trips.oldest(a);
		for (let number = trips.count[a] - 1; number >= oldest; number--) {
			const place = trips.at(a, number);
			if (trips.startAt[place] < since) break;
			if (trips.held[place] === 1 && Math.abs(trips.way[place]) >= noises * this.noise.of(a)) count++;
		}
		return count;
	}

	/** Ways needed to be proven. */
	get needed(): number {
		return waysNeeded;
	}

	/**
	 * Ways of a finger that count towards its proof: measured by the other fingers that have gone there and back twice
	 * themselves; without any by full scale.
	 */
	waysAmong(a: number, fingers: readonly number[], fullScale: number, aside = false): number {
		const ofNoise = aside ? noisesAside : noises;
		const itself = (f: number) => (aside ? this.isItselfAside(f) : this.isItself(f));
		const spans = fingers
			.filter(f => f !== a && itself(f) && this.ways(f, unprovenWay * fullScale, ofNoise) >= waysNeeded)
			.map(f => this.spans.of(f));
		return this.ways(a, spans.length > 0 ? ofMedian * medianOf(spans) : unprovenWay * fullScale, ofNoise);
	}

	forget(a: number): void {
		this.aloneAt[a] = Number.NaN;
		this.seen[a] = 0;
		this.startAnew(a, Number.NEGATIVE_INFINITY);
	}

	/** The channel shows what an open pin shows at `t`, seconds: only what it does later can wire it. */
	startAnew(a: number, t: number): void {
		this.since[a] = t;
		this.asideAt[a] = Number.NaN;
		this.alone[a] = 0;
		this.aloneAside[a] = 0;
		this.off[a] = 0;
		this.offAside[a] = 0;
	}

	/** Whether a settled trip of channel `a`, at its place in the rings, counts towards its proof. */
	counts(a: number, place: number): boolean {
		return this.trips.held[place] === 1 && this.trips.startAt[place] >= this.since[a];
	}

	/** A trip of the first channel in scan order: there is none before it that it could copy. */
	private takeFirst(place: number, way: number, fullScale: number): void {
		const {trips, noise} = this;
		const level = Math.abs(trips.level[place]);
		if (level < Math.max(noisesAside * noise.of(0), unprovenWay * fullScale)) return;
		this.asideAt[0] = trips.outAt[place];
		this.asideWay[0] = level;
		if (way >= aloneNoises * noise.of(0) && noise.of(0) < quietShare * fullScale) this.aloneAt[0] = trips.outAt[place];
	}

	private look(
		a: number,
		place: number,
		history: FrameHistory,
		columns: readonly number[],
		way: number,
		isClear: boolean,
		fullScale: number,
	): void {
		const {trips, spans, noise} = this;
		const from = trips.outFrame[place];
		const to = Math.max(trips.inFrame[place], from + 3) + 1;
		const copy = bestCopy(
			history,
			columns[a - 1],
			columns[a],
			from,
			Math.min(to, history.count),
			ghostGain.least,
			ghostGain.most,
		);
		if (copy === undefined) return;
		const side = trips.way[place] > 0 ? up : down;
		const ofSpan = copy.modelRange / Math.max(Number.MIN_VALUE, spans.of(a - 1));
		// Hum adds to what a level does by itself.
		const level = Math.abs(trips.level[place]);
		const isFar = level >= Math.max(noisesAside * noise.of(a), unprovenWay * fullScale);
		const isAside = isFar && ofSpan <= (mostOfShare * level) / Math.max(Number.MIN_VALUE, spans.of(a));
		const crosses = trips.isOnTrip(a - 1, trips.outAt[place], trips.inAt[place]);
		if (isAside) {
			this.aloneAside[a] |= side;
			this.asideAt[a] = trips.outAt[place];
			this.asideWay[a] = level;
		}
		if (isAside && !crosses && way >= aloneNoises * noise.of(a) && noise.of(a) < quietShare * fullScale)
			this.aloneAt[a] = trips.outAt[place];
		const isOff = copy.residual >= Math.max(offTrip * way, offNoises * noise.of(a));
		if (!isAside && isOff) this.offAside[a]++;
		if (!isClear) return;
		const still = copy.modelRange < Math.max(10 * noise.of(a - 1), mostOfWay * way);
		if (still && !crosses) this.alone[a] |= side;
		else if (isOff) this.off[a]++;
	}
}
