import {BlockHistory} from './block-history.ts';
import {Ends} from './ends.ts';
import {Excursions} from './excursions.ts';
import type {FrameHistory} from './frame-history.ts';
import {Leaps} from './leaps.ts';
import {LevelSteps} from './level-steps.ts';
import {medianOf} from './nth-smallest.ts';
import {lead, Run} from './run.ts';
import {RunningMoments} from './running-moments.ts';
import type {Scale} from './scale.ts';
import {Trips} from './trips.ts';

/** Smallest jump that counts as a contact's: 20 % of full scale by definition, less the noise that may hide 2 % of it. */
const jumpShare = 0.18;

/** Smallest leap in mid-travel that is looked at: well above what noise does to a step at a moderate speed. */
const leapShare = 0.06;

/** Speeds are taken over about 30 ms: long enough to rise above quantisation, short against any movement. */
const lagSeconds = 0.03;

/** A block is rough from here on (share of full scale, rms): half of what excess noise begins with. */
const roughShare = 0.0035;

/** Rest-noise values remembered per channel; their median is the channel's rest noise. */
const restKept = 32;

/** Used within one call of `close` only, so that a session's copies need not carry them. */
const run = new Run();
const arriving = {band: 0, way: 0, lag: 1, slice: 2};

/**
 * Everything that is measured on each analog channel (fingers and stick axes) by itself. Work is done when a block
 * closes, in one pass per channel over the block's frames: constant time per reading, nothing allocated.
 */
export class AnalogFeatures {
	/** Frame column of each analog channel, in scan order. */
	readonly columns: readonly number[];
	readonly blocks: BlockHistory;
	readonly trips: Trips;
	readonly excursions: Excursions;
	readonly ends: Ends;
	readonly steps: LevelSteps;
	readonly leaps: Leaps;
	readonly moments: RunningMoments[];
	readonly scale: Scale;
	readonly lowest: Float64Array;
	readonly highest: Float64Array;
	/** Slow-rising, quick-falling estimate of each channel's own noise, counts rms. */
	readonly floor: Float64Array;
	/** Stream time since which each channel has done nothing but noise (stuck or simply resting). */
	readonly stillSince: Float64Array;
	readonly stillLow: Float64Array;
	readonly stillHigh: Float64Array;
	/** Range of the readings themselves since then, counts. */
	readonly stillLowest: Float64Array;
	readonly stillHighest: Float64Array;
	/** Stream time of the last block in which the channel moved; NaN before. */
	readonly movedAt: Float64Array;
	/** Share of recent blocks in which the channel was not settled, 0…1; a floating pin never settles. */
	readonly restless: Float64Array;
	/** Stream time since which every block has been rough (its readings jitter whatever the hand does); NaN while smooth. */
	readonly roughSince: Float64Array;
	/** The last readings of each channel before the block, `lead` of them. */
	private readonly before: Float64Array;
	private readonly pivot: Float64Array;
	private readonly rest: Float64Array;
	private readonly restCount: Int32Array;
	/** The median, and the count of values it was taken of: asked for far more often than it changes. */
	private readonly restMedian: Float64Array;
	private readonly restMedianOf: Int32Array;
	private readonly whole: boolean;

	constructor(columns: readonly number[], scale: Scale, whole: boolean) {
		const channels = columns.length;
		this.columns = columns;
		this.scale = scale;
		this.whole = whole;
		this.blocks = new BlockHistory(channels);
		this.trips = new Trips(channels);
		this.excursions = new Excursions(channels);
		this.ends = new Ends(channels);
		this.steps = new LevelSteps(channels);
		this.leaps = new Leaps(channels);
		this.moments = columns.map(() => new RunningMoments());
		this.lowest = new Float64Array(channels).fill(Number.POSITIVE_INFINITY);
		this.highest = new Float64Array(channels).fill(Number.NEGATIVE_INFINITY);
		this.floor = new Float64Array(channels).fill(Number.NaN);
		this.stillSince = new Float64Array(channels).fill(Number.NaN);
		this.stillLow = new Float64Array(channels);
		this.stillHigh = new Float64Array(channels);
		this.stillLowest = new Float64Array(channels);
		this.stillHighest = new Float64Array(channels);
		this.movedAt = new Float64Array(channels).fill(Number.NaN);
		this.restless = new Float64Array(channels).fill(0.5);
		this.roughSince = new Float64Array(channels).fill(Number.NaN);
		this.before = new Float64Array(channels * lead).fill(Number.NaN);
		this.pivot = new Float64Array(channels).fill(Number.NaN);
		this.rest = new Float64Array(channels * restKept);
		this.restCount = new Int32Array(channels);
		this.restMedian = new Float64Array(channels);
		this.restMedianOf = new Int32Array(channels);
	}

	/** Median rms of the channel while it rested, counts; undefined before it has rested. */
	restNoise(a: number): number | undefined {
		const count = Math.min(this.restCount[a], restKept);
		if (count === 0) return undefined;
		if (this.restMedianOf[a] !== this.restCount[a]) {
			this.restMedian[a] = medianOf(this.rest, a * restKept, count);
			this.restMedianOf[a] = this.restCount[a];
		}
		return this.restMedian[a];
	}

	/** Forgets the seen ranges (after a repair). */
	resetRanges(): void {
		for (let a = 0; a < this.columns.length; a++) {
			this.ends.reset(a);
			this.lowest[a] = Number.POSITIVE_INFINITY;
			this.highest[a] = Number.NEGATIVE_INFINITY;
			this.moments[a] = new RunningMoments();
		}
	}

	/** Closes the block of frames `from` (included) to `to` (not included) that spans the times `start` to `end`. */
	close(history: FrameHistory, from: number, to: number, start: number, end: number): void {
		const {blocks} = this;
		const slot = blocks.slot(blocks.count);
		blocks.start[slot] = start;
		blocks.end[slot] = end;
		blocks.frames[slot] = to - from;
		blocks.firstFrame[slot] = from;
		const rate = (to - from) / (end - start);
		// A little beyond the rails is left to a scale that is not known yet.
		this.excursions.least = this.scale.railLow - 0.02 * this.scale.fullScale;
		this.excursions.most = this.scale.railHigh + 0.02 * this.scale.fullScale;
		for (let a = 0; a < this.columns.length; a++) this.closeChannel(a, history, from, to, rate);
		blocks.count++;
		for (let a = 0; a < this.columns.length; a++) this.judgeMotion(a, start, end);
		this.multiply(history, from, to, blocks.count - 1);
	}

	private closeChannel(a: number, history: FrameHistory, from: number, to: number, rate: number): void {
		const {blocks, scale} = this;
		const column = this.columns[a];
		const at = blocks.at(blocks.count, a);
		const {readings} = run;
		const count = run.gather(history, from, to, column, this.before, a * lead);
		if (count === 0) {
			blocks.mean[at] = Number.NaN;
			blocks.low[at] = Number.NaN;
			blocks.high[at] = Number.NaN;
			blocks.noise[at] = Number.NaN;
			blocks.rough[at] = Number.NaN;
			blocks.trend[at] = 0;
			blocks.sum[at] = 0;
			return;
		}
		if (Number.isNaN(this.pivot[a])) this.pivot[a] = readings[lead];
		const pivot = this.pivot[a];
		let sum = 0;
		let squares = 0;
		let moment = 0;
		let low = Number.POSITIVE_INFINITY;
		let high = Number.NEGATIVE_INFINITY;
		let roughness = 0;
		let longest = Math.abs(readings[lead - 1] - readings[lead - 2]);
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
			const step = reading - previous;
			if (step > longest) longest = step;
			else if (-step > longest) longest = -step;
			const bend = reading - 2 * previous + beforePrevious;
			roughness += bend * bend;
			beforePrevious = previous;
			previous = reading;
		}
		run.low = low;
		run.high = high;
		this.follow(a, longest, rate);
		const mean = sum / count;
		const deviations = Math.max(0, squares - sum * mean);
		// Least-squares line against the frame's place 0…count−1.
		const centre = (count - 1) / 2;
		const placeSquares = (count * (count * count - 1)) / 12;
		const slope = placeSquares > 0 ? (moment - centre * sum) / placeSquares : 0;
		const scatter = Math.max(0, deviations - slope * slope * placeSquares);
		blocks.mean[at] = pivot + mean;
		blocks.low[at] = low;
		blocks.high[at] = high;
		blocks.noise[at] = count > 2 ? Math.sqrt(scatter / (count - 2)) : 0;
		blocks.rough[at] = Math.sqrt(roughness / (6 * count));
		blocks.trend[at] = slope * (count - 1);
		blocks.sum[at] = sum;
		this.moments[a].merge(count, pivot + mean, deviations);
		if (low < this.lowest[a]) this.lowest[a] = low;
		if (high > this.highest[a]) this.highest[a] = high;
		scale.observe(low, high, readings, lead, lead + count);
		this.steps.take(a, run, scale.railLow, scale.railHigh);
	}

	/**
	 * Follows what the channel does from reading to reading: jumps, leaps, turns and arrivals at its ends. `longest` is the
	 * longest step of the block, the one into its first reading included.
	 */
	private follow(a: number, longest: number, rate: number): void {
		const {trips, excursions, ends, leaps} = this;
		const full = this.scale.fullScale;
		const span = ends.span(a);
		const jump = jumpShare * full;
		// Sampled slowly, every quick movement is a row of leaps.
		const leap = rate >= 40 ? leapShare * full : Number.POSITIVE_INFINITY;
		if (longest >= jump || excursions.isInside(a)) excursions.take(a, run, jump, rate, this.whole);
		else run.keepAll();
		if (longest >= leap) leaps.take(a, run, leap);
		// Below 40 frames/s a tap may be a single reading: the median of three would swallow it.
		trips.take(a, run, Math.max(0.4 * span, 0.06 * full), rate >= 40);
		arriving.band = Math.max(1.5 * stepOf(full), 0.005 * full);
		arriving.way = Math.max(0.3 * span, 0.1 * full);
		arriving.lag = Math.max(1, Math.round(lagSeconds * rate));
		arriving.slice = Math.max(2, Math.ceil(0.065 * rate));
		ends.take(a, run, arriving);
	}

	/** Decides whether the channel moved during the newest block, and keeps its rest statistics. */
	private judgeMotion(a: number, start: number, end: number): void {
		const {blocks} = this;
		const newest = blocks.count - 1;
		const at = blocks.at(newest, a);
		const mean = blocks.mean[at];
		if (Number.isNaN(mean)) {
			blocks.moving[at] = 0;
			blocks.settled[at] = 0;
			return;
		}
		const full = this.scale.fullScale;
		const count = blocks.frames[blocks.slot(newest)];
		const noise = blocks.noise[at];
		let floor = this.floor[a];
		// Quick down, slow up (25 s at four blocks a second): movement must not pass for noise.
		floor = Number.isNaN(floor)
			? noise
			: noise < floor
				? floor + 0.3 * (noise - floor)
				: floor + 0.01 * (noise - floor);
		this.floor[a] = floor;
		const step = newest > 0 ? mean - blocks.mean[blocks.at(newest - 1, a)] : 0;
		const shift = !Number.isNaN(step) ? Math.abs(step) : 0;
		const rise = Math.abs(blocks.trend[at]);
		const reach = blocks.high[at] - blocks.low[at];
		// Standard errors: a mean of n readings has σ/√n, the rise of a fitted line σ·√(12/n).
		const moving =
			shift > Math.max(0.008 * full, 5 * floor * Math.sqrt(2 / count)) ||
			rise > Math.max(0.012 * full, 5 * floor * Math.sqrt(12 / count)) ||
			reach > Math.max(0.03 * full, 9 * floor);
		const settled =
			shift <= 3 * noise * Math.sqrt(2 / count) + 0.003 * full &&
			rise <= 3.5 * noise * Math.sqrt(12 / count) + 0.003 * full;
		blocks.moving[at] = moving ? 1 : 0;
		blocks.settled[at] = settled ? 1 : 0;
		// About 6 s of memory.
		this.restless[a] += 0.04 * ((settled ? 0 : 1) - this.restless[a]);
		if (blocks.rough[at] < roughShare * full) this.roughSince[a] = Number.NaN;
		else if (Number.isNaN(this.roughSince[a])) this.roughSince[a] = start;
		if (moving) this.movedAt[a] = end;
		else {
			this.rest[a * restKept + (this.restCount[a] % restKept)] = noise;
			this.restCount[a]++;
		}
		this.followStill(a, mean, start, full);
	}

	/**
	 * Still means: block means within 0.3 % of full scale (the definition's range; means of blocks leave out the ADC's
	 * own noise), or anywhere within 1 % of a rail.
	 */
	private followStill(a: number, mean: number, start: number, full: number): void {
		const {blocks} = this;
		const at = blocks.at(blocks.count - 1, a);
		const low = Math.min(this.stillLow[a], mean);
		const high = Math.max(this.stillHigh[a], mean);
		const {railLow, railHigh} = this.scale;
		const narrow = Math.max(0.003 * full, stepOf(full));
		const atRail = high <= railLow + 0.01 * full || low >= railHigh - 0.01 * full;
		if (!Number.isNaN(this.stillSince[a]) && (high - low <= narrow || atRail)) {
			this.stillLow[a] = low;
			this.stillHigh[a] = high;
			this.stillLowest[a] = Math.min(this.stillLowest[a], blocks.low[at]);
			this.stillHighest[a] = Math.max(this.stillHighest[a], blocks.high[at]);
		} else {
			this.stillSince[a] = start;
			this.stillLow[a] = mean;
			this.stillHigh[a] = mean;
			this.stillLowest[a] = blocks.low[at];
			this.stillHighest[a] = blocks.high[at];
		}
	}

	/** Sums of products of all pairs over the block, and how often a pair agrees to within a count or two. */
	private multiply(history: FrameHistory, from: number, to: number, block: number): void {
		const {blocks, columns, pivot} = this;
		const {values, width} = history;
		const mask = values.length / width - 1;
		// Two counts of 10 bit; a coarser scale has no such slack: its counts must be equal.
		const near = 0.002 * this.scale.fullScale;
		const first = blocks.slot(block) * blocks.pairs;
		for (let b = 0; b < columns.length; b++) {
			const columnB = columns[b];
			const pivotB = pivot[b];
			for (let a = 0; a <= b; a++) {
				const columnA = columns[a];
				const pivotA = pivot[a];
				let product = 0;
				let close = 0;
				for (let frame = from; frame < to; frame++) {
					const base = (frame & mask) * width;
					const x = values[base + columnA];
					const y = values[base + columnB];
					const term = (x - pivotA) * (y - pivotB);
					if (!Number.isNaN(term)) product += term;
					const apart = x - y;
					if (apart <= near && apart >= -near) close++;
				}
				const place = first + (b * (b + 1)) / 2 + a;
				blocks.cross[place] = product;
				blocks.near[place] = close;
			}
		}
	}
}

/** One count, or a thousandth of full scale where readings are fractions. */
export function stepOf(fullScale: number): number {
	return fullScale >= 100 ? 1 : fullScale / 1000;
}
