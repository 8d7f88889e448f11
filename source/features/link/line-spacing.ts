import type {Timing} from '../../stream/source-item.ts';
import type {StateBlock} from '../state-block.ts';
import {type Arrival, cameAt, clockNow, sinceLast} from './arrivals.ts';
import {ClockWatch} from './clock-watch.ts';
import {InterarrivalJitter} from './interarrival-jitter.ts';
import {IntervalSketch} from './interval-sketch.ts';

/** A stop of the stream, no jitter of it: the definition of a stall. */
const pauseSeconds = 0.5;
const pauseMedians = 10;

/** A log's times are kept to whole microseconds: two columns that differ by no more are one. */
const sameSeconds = 5e-6;

/** Share of the frames in which a clock must differ from the arrival times to be another clock. */
const leastApart = 0.05;

/** Every third frame with the stamp of the one before: stamps are coarser than the frames. */
const coarseShare = 1 / 3;
const leastStamped = 20;

/** The percentile of the jitter that is told (definition). */
const told = 0.95;

/** Running jitter of RFC 3550 with the distribution of its values. */
class JitterMeter {
	private readonly jitter: InterarrivalJitter;
	private readonly values: IntervalSketch;

	constructor(state: StateBlock) {
		this.jitter = new InterarrivalJitter(state);
		this.values = new IntervalSketch(state);
	}

	/** Takes the difference of spacing at the receiver and at the sender, seconds. */
	add(difference: number): void {
		this.jitter.addDifference(difference);
		this.values.addAt(this.jitter.smoothed, 0);
	}

	get value(): number {
		return this.jitter.value;
	}

	get count(): number {
		return this.values.total;
	}

	get most(): number {
		return this.values.quantile(told) ?? 0;
	}
}

/**
 * How evenly lines come in this epoch. The sender's spacing is what its own clock says, where frames carry one that is not
 * the arrival time itself; else the median interval. All times in seconds.
 */
export class LineSpacing {
	readonly intervals: IntervalSketch;
	/** When the latest pause of half a second or more began and ended, and how many frames the counter missed in it. */
	readonly pauseFrom: Float64Array;
	readonly pauseTo: Float64Array;
	readonly pauseLost: Float64Array;
	private readonly clock: ClockWatch;
	private readonly bySpacing: JitterMeter;
	private readonly byClock: JitterMeter;
	private readonly usual: Float64Array;
	private readonly frameAt: Float64Array;
	private readonly lineAt: Float64Array;
	private readonly together: Float64Array;
	/** How much of a pause may yet be made up for by lines that were held back in it, seconds. */
	private readonly owed: Float64Array;
	private readonly clocked: Float64Array;
	private readonly apart: Float64Array;
	/** Arrival less the board's own time, at the latest frame that told it. */
	private readonly transit: Float64Array;

	/** `columns` is forgotten with each layout, `state` where an epoch begins. */
	constructor(
		private readonly timing: Timing,
		state: StateBlock,
		columns: StateBlock,
	) {
		this.intervals = new IntervalSketch(state);
		this.bySpacing = new JitterMeter(state);
		this.clock = new ClockWatch(1, columns);
		this.byClock = new JitterMeter(columns);
		this.clocked = columns.floats(1);
		this.apart = columns.floats(1);
		this.transit = columns.floats(1, Number.NaN);
		this.pauseFrom = state.floats(1, Number.NaN);
		this.pauseTo = state.floats(1, Number.NaN);
		this.pauseLost = state.floats(1);
		this.usual = state.floats(1);
		this.frameAt = state.floats(1, Number.NaN);
		this.lineAt = state.floats(1, Number.NaN);
		this.together = state.floats(1);
		this.owed = state.floats(1);
	}

	/** The median interval between frames, as known at the last tick; 0 before the first. */
	get median(): number {
		return this.usual[0];
	}

	/** Time since the frame before one that comes at `t`; NaN before the first. */
	since(t: number): number {
		return t - this.frameAt[0];
	}

	/** Seconds per unit of the layout's clock column. */
	setClockUnit(seconds: number): void {
		this.clock.setUnit(seconds);
	}

	/** Takes a frame, `lost` frames after the one before it. True where the clock has begun anew one frame ago. */
	takeFrame(frame: Arrival, lost: number): boolean {
		const t = frame[cameAt];
		const interval = frame[sinceLast];
		const clock = frame[clockNow];
		this.frameAt[0] = t;
		this.takeLine(frame);
		if (!Number.isNaN(interval)) {
			this.intervals.addAt(frame, sinceLast);
			if (interval === 0) this.together[0]++;
			if (interval >= pauseSeconds) {
				this.pauseFrom[0] = t - interval;
				this.pauseTo[0] = t;
				this.pauseLost[0] = lost;
			}
		}
		return !Number.isNaN(clock) && this.takeClock(t, clock);
	}

	/** Takes a line that was meant as a frame, or a frame: broken ones take their turn like others. */
	takeLine(line: Arrival): void {
		const interval = line[cameAt] - this.lineAt[0];
		this.lineAt[0] = line[cameAt];
		if (Number.isNaN(interval) || this.median <= 0) return;
		if (this.isPause(interval)) this.owed[0] = interval - this.median;
		else if (!this.isCatchingUp(interval - this.median)) this.bySpacing.add(interval - this.median);
	}

	/** A host that hung hands out at once what came meanwhile: that belongs to the stall and is no jitter of the stream. */
	private isCatchingUp(difference: number): boolean {
		this.owed[0] = difference < 0 ? Math.max(0, this.owed[0] + difference) : 0;
		return this.owed[0] > 0;
	}

	/** The stream was interrupted: the spacing across it is nobody's. */
	interrupt(): void {
		this.frameAt[0] = Number.NaN;
		this.lineAt[0] = Number.NaN;
		this.transit[0] = Number.NaN;
		this.owed[0] = 0;
	}

	/** Closes tick number `number`. The median hardly moves once some seconds have been seen, and walking it costs. */
	closeTick(number: number): void {
		if (this.intervals.total > 0 && (this.intervals.total < 1000 || number % 8 === 0))
			this.usual[0] = this.intervals.quantile(0.5) ?? 0;
	}

	/** A log whose stamps are coarser than the frames. */
	get stampsCoarse(): boolean {
		const {total} = this.intervals;
		return this.timing === 'column' && total >= leastStamped && this.together[0] > coarseShare * total;
	}

	/** Times made up, or stamped so coarsely that several frames share a stamp: spacing can't be judged. */
	get isKnown(): boolean {
		return this.timing !== 'assumed' && !this.stampsCoarse;
	}

	/** RFC 3550's jitter now. */
	get jitter(): number {
		return this.meter.value;
	}

	/** The jitter that 95 % of the lines so far stayed below. */
	get mostJitter(): number {
		return this.meter.most;
	}

	/** Lines whose spacing has been judged. */
	get judged(): number {
		return this.meter.count;
	}

	private get meter(): JitterMeter {
		// A column that is used as the arrival time is no second clock.
		const isOwn = this.timing !== 'column' || this.apart[0] > leastApart * this.clocked[0];
		return isOwn && 2 * this.byClock.count > this.bySpacing.count ? this.byClock : this.bySpacing;
	}

	private takeClock(t: number, value: number): boolean {
		const step = this.clock.take(value);
		if (step === 'odd') return false;
		const transit = t - this.clock.seconds;
		const difference = step === 'restart' ? Number.NaN : transit - this.transit[0];
		this.transit[0] = transit;
		if (Number.isNaN(difference)) return step === 'restart';
		this.clocked[0]++;
		if (Math.abs(difference) > sameSeconds) this.apart[0]++;
		if (!this.isPause(Math.abs(difference)) && this.owed[0] === 0) this.byClock.add(difference);
		return false;
	}

	private isPause(seconds: number): boolean {
		return seconds >= pauseSeconds && seconds >= pauseMedians * this.median;
	}
}
