import {medianOf} from '../math/nth-smallest.ts';
import type {Features, Watch} from './features.ts';
import {type FrameHistory, frameMask} from './frame-history.ts';
import type {StateBlock} from './state-block.ts';

/**
 * Equal within the larger of two counts of 10 bit, as a share of full scale, and three rest noises (check-values D5.4): those of the
 * quieter one, since readings of one voltage are alike in what is noise. Where one hums and the other doesn't they are two.
 */
const counts = 2 / 1023;
const noises = 3;

/** A quarter second in which more than this share of the frames differ ends a stretch: no cut line damages so many. */
const mostInBlock = 0.1;

/** Trips that prove it: by so many rest noises, and this share of the median span of the other fingers. */
const tripNoises = 20;
const ofMedian = 0.3;

/** A stretch that was not there from the epoch's beginning is one of many: more trips have to tell it from chance. */
const laterTrips = 3;

export type EqualPair = {
	/** Analog place of the earlier channel. */
	readonly with: number;
	/** Share of the frames of the stretch in which the two are equal, 0…1. */
	readonly share: number;
	/** Trips that each of them made in it, at the least. */
	readonly trips: number;
	/** When the stretch began, seconds. */
	readonly from: number;
};

/** Stretches in which two channels read the same, frame by frame. */
export class EqualPairs implements Watch {
	/** Per pair, `placeOf`: when the stretch up to now began, seconds (NaN while they differ), its frames, those that differ. */
	private readonly since: Float64Array;
	private readonly frames: Float64Array;
	private readonly differing: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		const pairs = (channels * (channels - 1)) / 2;
		this.since = state.floats(pairs, Number.NaN);
		this.frames = state.floats(pairs);
		this.differing = state.floats(pairs);
	}

	close(features: Features): void {
		const {analog, history, scale} = features;
		const {rows, noise, columns} = analog;
		const newest = rows.count - 1;
		const slot = rows.slot(newest);
		const from = Math.max(history.oldest, rows.firstFrame[slot]);
		const to = rows.firstFrame[slot] + rows.frames[slot];
		for (let a = 1; a < this.channels; a++) {
			for (let b = 0; b < a; b++) {
				const i = placeOf(a, b);
				const near = Math.max(counts * scale.fullScale, noises * Math.min(noise.of(a), noise.of(b)));
				// A lone leap takes one end and the mean along, not both ends: where all three are far apart most frames differ.
				const one = rows.at(newest, a);
				const other = rows.at(newest, b);
				const isApart =
					Math.abs(rows.low[one] - rows.low[other]) > near &&
					Math.abs(rows.mean[one] - rows.mean[other]) > near &&
					Math.abs(rows.high[one] - rows.high[other]) > near;
				const differing = isApart ? to - from : countDiffering(history, columns[a], columns[b], from, to, near);
				if (!(differing <= mostInBlock * (to - from))) {
					this.since[i] = Number.NaN;
					continue;
				}
				if (Number.isNaN(this.since[i])) {
					this.since[i] = rows.start[slot];
					this.frames[i] = 0;
					this.differing[i] = 0;
				}
				this.frames[i] += to - from;
				this.differing[i] += differing;
			}
		}
	}

	/**
	 * The earlier channel that has been most equal to channel `a` over `trips` trips of each, thrice as many where they became
	 * equal later than their epoch began; undefined without one.
	 */
	of(features: Features, a: number, trips: number): EqualPair | undefined {
		let best: EqualPair | undefined;
		for (let b = 0; b < a; b++) {
			const i = placeOf(a, b);
			const from = this.since[i];
			if (Number.isNaN(from) || areOfTwoHands(features, a, b)) continue;
			const share = 1 - this.differing[i] / this.frames[i];
			if (best !== undefined && share <= best.share) continue;
			const made = Math.min(tripsSince(features, a, b, from), tripsSince(features, b, a, from));
			const begun = Math.max(features.epochFromOf(a), features.epochFromOf(b));
			const isFromStart = from <= begun + features.blockSeconds;
			if (made >= (isFromStart ? trips : laterTrips * trips)) best = {with: b, share, trips: made, from};
		}
		return best;
	}

	forget(a: number): void {
		for (let b = 0; b < this.channels; b++)
			if (b !== a) this.since[placeOf(Math.max(a, b), Math.min(a, b))] = Number.NaN;
	}
}

/** Two gloves in one stream that do the same: each has its own channels. */
function areOfTwoHands(features: Features, a: number, b: number): boolean {
	const one = features.handAt(a);
	const other = features.handAt(b);
	return one !== undefined && other !== undefined && one !== other;
}

function placeOf(a: number, b: number): number {
	return (a * (a - 1)) / 2 + b;
}

/** Trips of channel `a` since a time, seconds, that are far enough to tell it from channel `b` (−1: from any). */
export function tripsSince(features: Features, a: number, b: number, since: number): number {
	const {trips, noise, spans} = features.analog;
	const others = (features.handAt(a)?.others(a) ?? []).filter(f => f !== b).map(f => spans.of(f));
	const least = Math.max(tripNoises * noise.of(a), ofMedian * (others.length > 0 ? medianOf(others) : 0));
	let count = 0;
	const oldest = trips.oldest(a);
	for (let number = trips.count[a] - 1; number >= oldest; number--) {
		const place = trips.at(a, number);
		if (trips.startAt[place] < since) break;
		if (Math.abs(trips.way[place]) >= least) count++;
	}
	return count;
}

function countDiffering(
	history: FrameHistory,
	one: number,
	other: number,
	from: number,
	to: number,
	near: number,
): number {
	const ones = history.columns[one];
	const others = history.columns[other];
	let differing = 0;
	for (let frame = from; frame < to; frame++)
		if (Math.abs(ones[frame & frameMask] - others[frame & frameMask]) > near) differing++;
	return differing;
}
