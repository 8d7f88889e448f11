import {ChannelRows} from './channel-rows.ts';
import {type BlockFacts, Excursions, jumpShare} from './excursions.ts';
import type {FrameHistory} from './frame-history.ts';
import {LevelSteps} from './level-steps.ts';
import {RestNoise} from './rest-noise.ts';
import {lead, Run} from './run.ts';
import {RunningMoments} from './running-moments.ts';
import type {Scale} from './scale.ts';
import {Spans} from './spans.ts';
import type {StateBlock} from './state-block.ts';
import {StepSizes} from './step-sizes.ts';
import {Stillness} from './stillness.ts';
import {Trips} from './trips.ts';

/** A trip goes at least so many times the rest noise, and this share of the channel's own span (check-values D2). */
const tripNoises = 10;
const tripOfSpan = 0.2;

/** Nothing but noise: block means within this share of full scale or so many rest noises, the latter up to a limit (§5.4). */
const stillShare = 0.003;
const stillNoises = 3;
const stillMost = 0.015;

/** At a rail: within this share of full scale. */
const railShare = 0.003;

/** Near an end in the sense of stuck-low and stuck-high. */
const nearEndShare = 0.06;

/** A little beyond the rails is left to a scale that is not known yet; farther out is no reading of any converter. */
const beyondShare = 0.02;

/** The frame rate is that of so many blocks: in one alone, deliveries in clumps double it. */
const rateBlocks = 12;

/** The noise of the moment: what three in four of the latest blocks exceed, since a jump makes its own block rough. */
const noiseBlocks = 12;
const quietPlace = 3;

/** The longest converter that boards have, 16 bit. */
const mostOfWord = 65_535;

/** Used within one call of `close` only. */
const run = new Run();
const roughs = new Float64Array(noiseBlocks);
const steps = new Float64Array(2);

/**
 * Everything that is measured on each analog channel (fingers and stick axes) by itself. Work is done when a block
 * closes, in one pass per channel over the block's frames: constant time per reading, nothing allocated.
 */
export class AnalogFeatures {
	/** Frame column of each analog channel, in scan order. */
	readonly columns: readonly number[];
	readonly scale: Scale;
	readonly rows: ChannelRows;
	readonly noise: RestNoise;
	readonly spans: Spans;
	readonly trips: Trips;
	readonly still: Stillness;
	readonly excursions: Excursions;
	readonly stepSizes: StepSizes;
	readonly steps: LevelSteps;
	readonly moments: RunningMoments[];
	readonly lowest: Float64Array;
	readonly highest: Float64Array;
	/** Stream time of the last block in which the channel moved; NaN before. */
	readonly movedAt: Float64Array;
	/**
	 * Noise of a channel that jitters in every frame by now as a poor contact does, rms counts; 0 of any other. What was quiet may
	 * be so no more, and a trip goes so many times beyond the noise there is. Set from outside as blocks close.
	 */
	readonly jitter: Float64Array;
	/** The last readings of each channel before the block, `lead` of them. */
	private readonly before: Float64Array;
	private readonly whole: boolean;

	/** `whole`: readings are written as text, so that a digit can be lost. */
	constructor(columns: readonly number[], scale: Scale, whole: boolean, state: StateBlock) {
		const channels = columns.length;
		this.columns = columns;
		this.scale = scale;
		this.whole = whole;
		this.rows = new ChannelRows(channels, state);
		this.noise = new RestNoise(channels, state);
		this.spans = new Spans(channels, state);
		this.trips = new Trips(channels, state);
		this.still = new Stillness(channels, state);
		this.excursions = new Excursions(channels, state);
		this.stepSizes = new StepSizes(channels, state);
		this.steps = new LevelSteps(channels, state);
		this.moments = columns.map(() => new RunningMoments());
		this.lowest = state.floats(channels, Number.POSITIVE_INFINITY);
		this.highest = state.floats(channels, Number.NEGATIVE_INFINITY);
		this.movedAt = state.floats(channels, Number.NaN);
		this.jitter = state.floats(channels);
		this.before = state.floats(channels * lead, Number.NaN);
	}

	/** Rest noise of a channel, rms counts; undefined before its first block. */
	restNoise(a: number): number | undefined {
		const noise = this.noise.of(a);
		return Number.isNaN(noise) ? undefined : noise;
	}

	/** Forgets the seen range of one channel. */
	forgetRange(a: number): void {
		this.spans.forget(a);
		this.lowest[a] = Number.POSITIVE_INFINITY;
		this.highest[a] = Number.NEGATIVE_INFINITY;
		this.moments[a] = new RunningMoments();
	}

	/** Begins a new epoch of one channel: nothing learned of it stays. */
	forget(a: number): void {
		const parts = [this.noise, this.spans, this.trips, this.still, this.steps, this.excursions, this.stepSizes];
		for (const part of parts) part.forget(a);
		this.rows.forget(a);
		this.movedAt[a] = Number.NaN;
		this.jitter[a] = 0;
	}

	/**
	 * Closes the block of frames `from` (included) to `to` (not included) that spans the times `start` to `end`; after the
	 * `last` one nothing comes.
	 */
	close(history: FrameHistory, from: number, to: number, start: number, end: number, last: boolean): void {
		const {rows, scale} = this;
		rows.open(start, end, from, to - from);
		const facts = {
			rate: this.rateNow(),
			fullScale: scale.fullScale,
			least: scale.lowestPossible - beyondShare * scale.fullScale,
			// Where no scale was declared a larger one may turn out to be right.
			most:
				(scale.declared === null ? Math.max(scale.railHigh, mostOfWord) : scale.railHigh) +
				beyondShare * scale.fullScale,
			whole: this.whole,
			last,
		};
		for (let a = 0; a < this.columns.length; a++) this.closeChannel(a, history, from, to, facts);
		rows.close();
	}

	/** Frames a second over the block that is being closed and those just before it. */
	private rateNow(): number {
		const {rows} = this;
		let frames = 0;
		let seconds = 0;
		for (let number = Math.max(rows.oldest, rows.count + 1 - rateBlocks); number <= rows.count; number++) {
			const slot = rows.slot(number);
			frames += rows.frames[slot];
			seconds += rows.end[slot] - rows.start[slot];
		}
		return frames / seconds;
	}

	/** Noise of a channel as it is now, rms counts: at rest, or of its quieter latest blocks where that is more. */
	private noiseNow(a: number): number {
		const {rows} = this;
		const first = Math.max(rows.oldest, rows.count - noiseBlocks);
		let count = 0;
		for (let number = first; number < rows.count; number++) {
			const rough = rows.rough[rows.at(number, a)];
			if (!Number.isNaN(rough)) roughs[count++] = rough;
		}
		const quiet = count > quietPlace ? roughs.subarray(0, count).sort()[quietPlace] : 0;
		return Math.max(quiet, this.noise.of(a) || 0);
	}

	private closeChannel(
		a: number,
		history: FrameHistory,
		from: number,
		to: number,
		facts: BlockFacts & {readonly last: boolean},
	): void {
		const {rows, scale, noise, spans, trips} = this;
		const count = run.gather(history, from, to, this.columns[a], this.before, a * lead);
		this.fillRow(a, count);
		if (count === 0) return;
		const at = rows.at(rows.count, a);
		scale.observe(a, run, rows);
		const full = scale.fullScale;
		const longest = steps[0];
		const isLong = longest >= jumpShare * full;
		// What has been at both ends of the scale was sent there: its leaps are no lost digits.
		const isSwept = this.lowest[a] <= scale.lowOf(a) && this.highest[a] >= scale.highOf(a);
		const seen = isLong && isSwept ? {...facts, whole: false} : facts;
		this.excursions.take(a, run, longest, isLong ? this.noiseNow(a) : 0, seen);
		this.stepSizes.take(a, run, full);
		noise.take(a, rows.rough[at], steps[1], rows.railLow[at] + rows.railHigh[at] === 0, full);
		spans.take(a, run, facts.rate);
		const own = noise.of(a);
		const least = Math.max(tripNoises * Math.max(own, this.jitter[a]), tripOfSpan * spans.of(a));
		trips.take(a, run, least, own, facts.rate, facts.last);
		this.steps.take(a, run, scale.lowOf(a), scale.highOf(a));
		this.judgeMotion(a, at, count);
		this.judgeStillness(a, count);
	}

	/** Writes the channel's row; its longest step and its smallest step other than 0 go to `steps`. */
	private fillRow(a: number, count: number): void {
		const {rows, scale} = this;
		const at = rows.at(rows.count, a);
		if (count === 0) {
			rows.clear(at);
			return;
		}
		const {readings} = run;
		const band = railShare * scale.fullScale;
		const lowRail = scale.lowOf(a) + band;
		const highRail = scale.highOf(a) - band;
		const pivot = readings[lead];
		let sum = 0;
		let squares = 0;
		let moment = 0;
		let bends = 0;
		let stepSquares = 0;
		let low = Number.POSITIVE_INFINITY;
		let high = Number.NEGATIVE_INFINITY;
		let lows = 0;
		let highs = 0;
		let longest = 0;
		let smallest = Number.POSITIVE_INFINITY;
		let beforePrevious = readings[lead - 2];
		let previous = readings[lead - 1];
		for (let i = 0; i < count; i++) {
			const reading = readings[lead + i];
			const offset = reading - pivot;
			sum += offset;
			squares += offset * offset;
			moment += i * offset;
			if (reading < low) low = reading;
			if (reading > high) high = reading;
			if (reading <= lowRail) lows++;
			if (reading >= highRail) highs++;
			const step = Math.abs(reading - previous);
			if (step > longest) longest = step;
			if (step > 0 && step < smallest) smallest = step;
			stepSquares += step * step;
			const bend = reading - 2 * previous + beforePrevious;
			bends += bend * bend;
			beforePrevious = previous;
			previous = reading;
		}
		run.low = low;
		run.high = high;
		const mean = sum / count;
		const centre = (count - 1) / 2;
		const placeSquares = (count * (count * count - 1)) / 12;
		rows.mean[at] = pivot + mean;
		rows.low[at] = low;
		rows.high[at] = high;
		rows.rough[at] = Math.sqrt(bends / (6 * count));
		rows.step[at] = Math.sqrt(stepSquares / count);
		rows.trend[at] = placeSquares > 0 ? ((moment - centre * sum) / placeSquares) * (count - 1) : 0;
		rows.railLow[at] = lows / count;
		rows.railHigh[at] = highs / count;
		this.moments[a].merge(count, pivot + mean, Math.max(0, squares - sum * mean));
		if (low < this.lowest[a]) this.lowest[a] = low;
		if (high > this.highest[a]) this.highest[a] = high;
		steps[0] = longest;
		steps[1] = smallest === Number.POSITIVE_INFINITY ? 0 : smallest;
	}

	/** Whether the channel moved during the newest block: for the eye, long before a trip is one. */
	private judgeMotion(a: number, at: number, count: number): void {
		const {rows} = this;
		const noise = this.noise.of(a);
		const before = rows.count > 0 ? rows.mean[rows.at(rows.count - 1, a)] : Number.NaN;
		const shift = Number.isNaN(before) ? 0 : Math.abs(rows.mean[at] - before);
		const rise = Math.abs(rows.trend[at]);
		const own = 0.03 * this.spans.of(a);
		// Standard errors: a mean of n readings has σ/√n, the rise of a fitted line σ·√(12/n).
		const moving =
			shift > Math.max(own, 5 * noise * Math.sqrt(2 / count)) ||
			rise > Math.max(own, 5 * noise * Math.sqrt(12 / count));
		rows.moving[at] = moving ? 1 : 0;
		if (moving) this.movedAt[a] = rows.end[rows.slot(rows.count)];
	}

	private judgeStillness(a: number, count: number): void {
		const {rows, scale, still} = this;
		const full = scale.fullScale;
		still.take(a, rows, stillRange(this.noise.of(a), full));
		still.takeEnds(a, rows, count, scale.lowOf(a), scale.highOf(a), nearEndShare * full);
	}
}

/** Range of block means that a channel which does nothing stays within, counts, by its rest noise and full scale, counts. */
export function stillRange(noise: number, fullScale: number): number {
	return Math.max(stillShare * fullScale, Math.min(stillNoises * noise, stillMost * fullScale));
}
