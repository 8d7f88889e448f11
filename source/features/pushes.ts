import {medianOf} from '../math/nth-smallest.ts';
import {bestCopy} from './copies.ts';
import type {Features, Watch} from './features.ts';
import type {FrameHistory} from './frame-history.ts';
import type {StateBlock} from './state-block.ts';

/** The latest trips of the channel before that count. */
const kept = 8;

/** Trips by so many rest noises of their channel: of less, a push of a tenth would drown in noise. */
const noises = 20;

/** A finger is moved alone where no other goes more than this share of its way (as the definition was run). */
const alone = 0.75;

/** A channel of another group is still where the rest of its group stays within the first share of full scale, itself within the second. */
const stillShare = 0.03;
const pushedMost = 0.2;

/** In the same scan, to a frame; and to two standard errors of what the channel's noise leaves of that, which hold 19 of 20. */
const frameApart = 1;
const delayErrors = 2;

/** Looked at besides before and after the middle four fifths of a way: a ramp without its corners is as well a later one. */
const besideShare = 0.25;

/**
 * What each trip of a channel does to the one read just after it: to the next finger of the same hand how far it follows, how
 * soon, and how far the finger on the other side does; a channel of another group that is still: how far it is pushed.
 */
export class Pushes implements Watch {
	/** Trips of the channel before that were chances, per channel. */
	readonly count: Int32Array;
	/** Per trip: the share of its way that the channel goes with it (across groups the gain, signed), … */
	private readonly shares: Float64Array;
	/** … the share that the finger on the other side goes (across groups the correlation), frames of delay, and its time. */
	private readonly besides: Float64Array;
	private readonly delays: Float64Array;
	/** Standard error of the delay, frames. */
	private readonly delayErrors: Float64Array;
	private readonly outAt: Float64Array;
	private readonly lastAt: Float64Array;
	/** Medians of the first three. */
	private readonly middles: Float64Array;
	private readonly takenTo: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.count = state.ints(channels);
		this.shares = state.floats(channels * kept);
		this.besides = state.floats(channels * kept);
		this.delays = state.floats(channels * kept);
		this.delayErrors = state.floats(channels * kept);
		this.outAt = state.floats(channels * kept);
		this.lastAt = state.floats(channels, Number.NaN);
		this.middles = state.floats(channels * 3);
		this.takenTo = state.floats(channels, Number.NEGATIVE_INFINITY);
	}

	/** How far the channel goes with the one before it, as a share of its way; across groups the gain. Medians; 0 before any trip. */
	share(a: number): number {
		return this.middles[a];
	}

	/** How far the finger on the other side of the moved one goes, as a share of its way; across groups the correlation. */
	beside(a: number): number {
		return this.middles[this.channels + a];
	}

	/** Frames by which the channel comes after the one before it. */
	delay(a: number): number {
		return this.middles[2 * this.channels + a];
	}

	/** Part of the trips in which the channel comes within a frame of the one before it, as far as its noise lets that be seen; 0 before any. */
	together(a: number): number {
		const count = Math.min(this.count[a], kept);
		let sum = 0;
		for (let i = a * kept; i < a * kept + count; i++)
			if (Math.abs(this.delays[i]) <= frameApart + delayErrors * this.delayErrors[i]) sum++;
		return count === 0 ? 0 : sum / count;
	}

	/** How much the share differs from trip to trip: the least over the greatest; 0 before any. */
	evenness(a: number): number {
		const shares = this.shares.subarray(a * kept, a * kept + Math.min(this.count[a], kept));
		return shares.length === 0 ? 0 : Math.max(0, Math.min(...shares)) / Math.max(Number.MIN_VALUE, Math.max(...shares));
	}

	/** When the oldest of the trips that count set out, and the latest arrived, seconds; NaN before any. */
	from(a: number): number {
		if (this.count[a] === 0) return Number.NaN;
		return this.outAt[a * kept + (this.count[a] > kept ? this.count[a] % kept : 0)];
	}

	seenAt(a: number): number {
		return this.lastAt[a];
	}

	close(features: Features): void {
		const {trips} = features.analog;
		for (let a = 1; a < this.channels; a++) {
			const source = a - 1;
			if (!isUsable(features, source) || !isUsable(features, a)) continue;
			let number = trips.count[source];
			while (number > trips.oldest(source) && trips.startAt[trips.at(source, number - 1)] > this.takenTo[a]) number--;
			for (; number < trips.count[source]; number++) {
				const place = trips.at(source, number);
				if (trips.settled[place] === 0) break;
				this.takenTo[a] = trips.startAt[place];
				this.take(features, source, a, place);
			}
		}
	}

	forget(a: number): void {
		for (const b of [a, a + 1]) {
			if (b >= this.channels) continue;
			this.count[b] = 0;
			this.lastAt[b] = Number.NaN;
			for (const part of [0, 1, 2]) this.middles[part * this.channels + b] = 0;
			this.takenTo[b] = Number.NEGATIVE_INFINITY;
		}
	}

	private take(features: Features, source: number, a: number, place: number): void {
		const {history, analog} = features;
		const {trips, noise, columns} = analog;
		const way = Math.abs(trips.way[place]);
		const from = trips.outFrame[place];
		const to = Math.min(history.count, trips.inFrame[place] + 2);
		if (way < noises * noise.of(source) || from < Math.max(history.oldest, features.epochFrameOf(a))) return;
		const copy = bestCopy(history, columns[source], columns[a], from, to);
		if (copy === undefined) return;
		const i = a * kept + (this.count[a] % kept);
		const goes = (f: number): number => rangeOf(history, columns[f], from, to);
		if (isSameHand(features, source, a)) {
			if (features.handAt(a)?.fingers.some(f => f !== source && goes(f) > alone * way)) return;
			const hasOtherSide = source > 0 && isSameHand(features, source, source - 1);
			// From a tenth to nine tenths of the way both go that much of theirs.
			this.shares[i] = copy.copyRange / copy.modelRange;
			this.besides[i] = hasOtherSide ? goes(source - 1) / copy.modelRange : 0;
			const beside = Math.round(besideShare * (to - from));
			const first = Math.max(from - beside, history.oldest + 1, features.epochFrameOf(a) + 1);
			const last = Math.min(to + beside, history.count - 1);
			const {delay, slopes} = delayOf(history, columns[source], columns[a], first, last);
			this.delays[i] = delay;
			this.delayErrors[i] = noise.of(a) / slopes;
		} else {
			const full = features.scale.fullScale;
			if (copy.copyRange > pushedMost * full || groupOf(features, a).some(b => goes(b) > stillShare * full)) return;
			this.shares[i] = copy.gain;
			this.besides[i] = copy.correlation;
			this.delays[i] = 0;
		}
		this.outAt[i] = trips.outAt[place];
		this.lastAt[a] = trips.inAt[place];
		this.count[a]++;
		[this.shares, this.besides, this.delays].forEach((ring, part) => {
			this.middles[part * this.channels + a] = this.middle(ring, a);
		});
	}

	private middle(ring: Float64Array, a: number): number {
		return medianOf(ring, a * kept, Math.min(this.count[a], kept));
	}
}

/** Whether the channels at two analog places are fingers of one hand. */
export function isSameHand(features: Features, a: number, b: number): boolean {
	const hand = features.handAt(a);
	return hand !== undefined && hand === features.handAt(b);
}

/** A stick axis, or a finger that is no open pin; not one that learns its range. */
function isUsable(features: Features, a: number): boolean {
	return features.handAt(a) === undefined ? features.learning[a] === 0 : features.isFinger(a);
}

/** The other channels of its group: of its hand, or the other stick axes. */
function groupOf(features: Features, a: number): number[] {
	const others: number[] = [];
	for (let b = 0; b < features.analog.columns.length; b++)
		if (b !== a && features.handAt(b) === features.handAt(a)) others.push(b);
	return others;
}

/** Range of a column's readings over some frames, counts. */
function rangeOf(history: FrameHistory, column: number, from: number, to: number): number {
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	for (let frame = from; frame < to; frame++) {
		const reading = history.reading(frame, column);
		if (reading < low) low = reading;
		if (reading > high) high = reading;
	}
	return Math.max(0, high - low);
}

/**
 * By how many frames one column comes after another over some frames: of y(t) = a + b·x(t − d) ≈ a + b·x − b·d·x′ the least squares
 * d; and the root of the sum of squares of b·x′, over which noise of y shifts it. Slopes of 0 where nothing tells.
 */
function delayOf(
	history: FrameHistory,
	x: number,
	y: number,
	from: number,
	to: number,
): {readonly delay: number; readonly slopes: number} {
	const at = (frame: number, column: number): number => history.reading(frame, column);
	const count = to - from;
	const means = [0, 0, 0];
	const each = (take: (level: number, slope: number, copy: number) => void): void => {
		for (let frame = from; frame < to; frame++)
			take(at(frame, x), (at(frame + 1, x) - at(frame - 1, x)) / 2, at(frame, y));
	};
	each((level, slope, copy) => {
		means[0] += level / count;
		means[1] += slope / count;
		means[2] += copy / count;
	});
	let levels = 0;
	let slopes = 0;
	let crossed = 0;
	let withLevel = 0;
	let withSlope = 0;
	each((level, slope, copy) => {
		const u = level - means[0];
		const v = slope - means[1];
		const w = copy - means[2];
		levels += u * u;
		slopes += v * v;
		crossed += u * v;
		withLevel += u * w;
		withSlope += v * w;
	});
	const determinant = levels * slopes - crossed * crossed;
	const gain = (withLevel * slopes - withSlope * crossed) / determinant;
	const delay = -(withSlope * levels - withLevel * crossed) / determinant / gain;
	if (!Number.isFinite(delay)) return {delay: Number.POSITIVE_INFINITY, slopes: Number.MIN_VALUE};
	return {delay, slopes: Math.abs(gain) * Math.sqrt(determinant / levels)};
}
