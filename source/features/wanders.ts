import {medianOf} from '../math/nth-smallest.ts';
import {ChannelRows} from './channel-rows.ts';
import type {Features, Watch} from './features.ts';
import {decidedUntil, isRestOver} from './rests.ts';
import type {StateBlock} from './state-block.ts';

/** Looked at over five seconds, once a second. */
const windowBlocks = 20;
const everyBlocks = 4;

/** A turn to and fro goes at least so far (share of full scale): as far as the wander itself is asked to. */
const turnShare = 0.02;

/**
 * A second's rest: quarter-second means within this share of full scale, or so many rest noises: what a shaking supply leaves
 * in a mean is half of its noise, and four means lie within four times that.
 */
const restBlocks = 4;
const restShare = 0.006;
const restMeanNoises = 2;

/** By the letter of docs/faults.md: readings within this share, or so many rest noises up to a share. */
const restNoises = 6;
const restMost = 0.015;

/** Open pins wander to and fro, and never rest; a finger that is moved alone wanders, too, but rests between. */
export class Wanders implements Watch {
	/** rms of the block means of the latest five seconds about their median, counts, and their turns to and fro. */
	readonly rms: Float64Array;
	readonly turns: Int32Array;
	readonly from: Float64Array;
	/** 1 once the channel has rested for a second while the other fingers did. */
	readonly rested: Uint8Array;
	/** 1 once its readings themselves, noise and all, kept that still for a second. */
	readonly restedClosely: Uint8Array;
	/** Blocks in which the others rested, so that it could have. */
	readonly couldRest: Int32Array;
	private readonly restRun: Int32Array;
	private readonly restLow: Float64Array;
	private readonly restHigh: Float64Array;
	private readonly closeRun: Int32Array;
	private readonly closeLow: Float64Array;
	private readonly closeHigh: Float64Array;
	private readonly restedTo: Int32Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.rms = state.floats(channels);
		this.turns = state.ints(channels);
		this.from = state.floats(channels);
		this.rested = state.bytes(channels);
		this.restedClosely = state.bytes(channels);
		this.couldRest = state.ints(channels);
		this.restRun = state.ints(channels);
		this.restLow = state.floats(channels);
		this.restHigh = state.floats(channels);
		this.closeRun = state.ints(channels);
		this.closeLow = state.floats(channels);
		this.closeHigh = state.floats(channels);
		this.restedTo = state.ints(channels);
	}

	close(features: Features): void {
		const {rows} = features.analog;
		for (let a = 0; a < this.channels; a++) {
			if (this.restedClosely[a] === 0) this.lookForRest(features, a);
			if (rows.count % everyBlocks === 0 && rows.count - windowBlocks >= rows.oldest) this.measure(features, a);
		}
	}

	/** Seconds in which the other fingers rested, so that the channel could have rested with them. */
	couldRestSeconds(a: number): number {
		return this.couldRest[a] * ChannelRows.seconds;
	}

	forget(a: number): void {
		this.rms[a] = 0;
		this.turns[a] = 0;
		this.rested[a] = 0;
		this.restedClosely[a] = 0;
		this.closeRun[a] = 0;
		this.couldRest[a] = 0;
		this.restRun[a] = 0;
		this.restedTo[a] = 0;
	}

	private takeClosely(a: number, low: number, high: number, near: number): void {
		const begins = this.closeRun[a] === 0;
		const allLow = begins ? low : Math.min(this.closeLow[a], low);
		const allHigh = begins ? high : Math.max(this.closeHigh[a], high);
		const stays = allHigh - allLow <= near;
		this.closeRun[a] = stays ? this.closeRun[a] + 1 : high - low <= near ? 1 : 0;
		this.closeLow[a] = stays ? allLow : low;
		this.closeHigh[a] = stays ? allHigh : high;
		if (this.closeRun[a] >= restBlocks) this.restedClosely[a] = 1;
	}

	private measure(features: Features, a: number): void {
		const {rows} = features.analog;
		let count = 0;
		for (let number = rows.count - windowBlocks; number < rows.count; number++) {
			const mean = rows.mean[rows.at(number, a)];
			if (!Number.isNaN(mean)) means[count++] = mean;
		}
		const middle = count === 0 ? 0 : medianOf(means, 0, count);
		let squares = 0;
		for (let i = 0; i < count; i++) squares += (means[i] - middle) ** 2;
		this.rms[a] = Math.sqrt(squares / Math.max(1, count));
		this.turns[a] = countTurns(means, count, turnShare * features.scale.fullScale);
		this.from[a] = rows.start[rows.slot(rows.count - windowBlocks)];
	}

	private lookForRest(features: Features, a: number): void {
		const {analog, scale} = features;
		const {rows, noise} = analog;
		const others = features.handAt(a)?.others(a) ?? [];
		const until = decidedUntil(features, others);
		const least = restShare * scale.fullScale;
		const near = Math.max(least, Math.min(restMeanNoises * noise.of(a), restMost * scale.fullScale));
		const closely = Math.max(least, Math.min(restNoises * noise.of(a), restMost * scale.fullScale));
		let number = Math.max(this.restedTo[a], rows.oldest);
		for (; number < rows.count && rows.end[rows.slot(number)] <= until; number++) {
			const at = rows.at(number, a);
			if (!isRestOver(analog, others, number, number) || Number.isNaN(rows.mean[at])) {
				this.restRun[a] = 0;
				this.closeRun[a] = 0;
				continue;
			}
			this.couldRest[a]++;
			const mean = rows.mean[at];
			const low = this.restRun[a] === 0 ? mean : Math.min(this.restLow[a], mean);
			const high = this.restRun[a] === 0 ? mean : Math.max(this.restHigh[a], mean);
			const stays = high - low <= near;
			this.restRun[a] = stays ? this.restRun[a] + 1 : 1;
			this.restLow[a] = stays ? low : mean;
			this.restHigh[a] = stays ? high : mean;
			if (this.restRun[a] >= restBlocks) this.rested[a] = 1;
			this.takeClosely(a, rows.low[at], rows.high[at], closely);
		}
		this.restedTo[a] = number;
	}
}

/** Used within one call only. */
const means = new Float64Array(windowBlocks);

/** Turns of the first `count` values between extremes at least `least` apart. */
function countTurns(values: Float64Array, count: number, least: number): number {
	let low = values[0];
	let high = values[0];
	let heading = 0;
	let farthest = 0;
	let turns = 0;
	for (let i = 0; i < count; i++) {
		const value = values[i];
		if (heading === 0) {
			low = Math.min(low, value);
			high = Math.max(high, value);
			if (value - low >= least) heading = 1;
			else if (high - value >= least) heading = -1;
			farthest = value;
		} else if ((value - farthest) * heading > 0) farthest = value;
		else if ((farthest - value) * heading >= least) {
			turns++;
			heading = -heading;
			farthest = value;
		}
	}
	return turns;
}
