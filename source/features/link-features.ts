import type {BadLineKind} from '../framing/frame-sink.ts';
import type {Timing} from '../stream/source-item.ts';
import {
	type Arrival,
	Arrivals,
	arrivalLength,
	cameAt,
	clockNow,
	counterNow,
	pauseBefore,
	sinceLast,
} from './link/arrivals.ts';
import {Clumps} from './link/clumps.ts';
import {FrameLosses} from './link/frame-losses.ts';
import {FramePace} from './link/frame-pace.ts';
import {IntervalSketch} from './link/interval-sketch.ts';
import {Junk} from './link/junk.ts';
import {LineLoad} from './link/line-load.ts';
import {LineSpacing} from './link/line-spacing.ts';
import {Outages} from './link/outages.ts';
import {RestartSigns} from './link/restart-signs.ts';
import {TextList} from './link/text-list.ts';
import {TickHistory} from './link/tick-history.ts';
import {StateBlock} from './state-block.ts';

/** A column without a name that rises for so many seconds is a clock; the slowest sweep of a finger takes less. */
const doubtSeconds = 4;

/** The frame that is being taken in. */
const arrival: Arrival = new Float64Array(arrivalLength);

/** How often pace and clumps are looked at, in ticks: they are taken over ten seconds. */
const lookTicks = 2;

/** A board that starts again shows it by its counter, its clock or more text within a second. */
const settleSeconds = 1;

const straysKept = 64;
const textBytes = 200;
const histogramBins = 60;

// Places in `totals`, `times` and `tick`.
const byteTotal = 0;
const badTotal = 1;
const strayTotal = 2;
const junkTotal = 3;
const eatenTotal = 4;
const totalCount = 5;
const firstByte = 0;
const lastByte = 1;
const firstFrame = 2;
const lastFrame = 3;
const portLost = 4;
const reattached = 5;
const epochAt = 6;
const nowAt = 7;
const clockDoubtedTo = 8;
const leftOut = 9;
const timeCount = 10;
const byteTick = 0;
const frameTick = 1;
const badTick = 2;
const miscountTick = 3;
const countedTick = 4;
const lostTick = 5;
const tickCount = 6;

/**
 * Everything measured on the link: how bytes, lines and frames arrive. Times in seconds. Totals are of the session; what
 * was learned of the sender (its spacing, counter, clock) is of the epoch.
 */
export class LinkFeatures {
	readonly timing: Timing;
	readonly baud: number | null;
	readonly targetRate: number;
	readonly ticks: TickHistory;
	readonly arrivals: Arrivals;
	readonly spacing: LineSpacing;
	readonly losses: FrameLosses;
	readonly pace: FramePace;
	readonly clumps: Clumps;
	readonly load: LineLoad;
	readonly junk: Junk;
	readonly outages: Outages;
	readonly restarts: RestartSigns;
	/** Lines between the frames that are none, start-up text left out. */
	readonly strays: TextList;
	/** All intervals of the session. */
	readonly intervals: IntervalSketch;
	/** Counts of intervals: bin i covers 2^(i/4) … 2^((i+1)/4) × 0.1 ms. */
	readonly histogram: Float64Array;
	/** The latest bin of it, and the least and greatest interval that fell into it: what lies between needs no logarithm. Saves time only. */
	private readonly latest = Float64Array.of(0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY);
	/** 1 once the source is over: what was seen is all there is. */
	readonly over: Uint8Array;
	/** Of the session: state that no epoch forgets. */
	private readonly kept = new StateBlock();
	/** Learned in this epoch, and of the columns of this layout. */
	private readonly learned = new StateBlock();
	private readonly columns = new StateBlock();
	private readonly blank: ReturnType<StateBlock['copy']>;
	private readonly blankColumns: ReturnType<StateBlock['copy']>;
	private readonly totals: Float64Array;
	private readonly times: Float64Array;
	/** Of the tick under way. */
	private readonly tick: Float64Array;
	private readonly clockUnit: Float64Array;
	private readonly lastBad: TextList;
	private readonly portDetail: TextList;

	constructor(timing: Timing, baud: number | null, targetRate: number) {
		this.timing = timing;
		this.baud = baud;
		this.targetRate = targetRate;
		const {kept, learned, columns} = this;
		this.ticks = new TickHistory(kept);
		this.arrivals = new Arrivals(kept);
		this.spacing = new LineSpacing(timing, learned, columns);
		this.losses = new FrameLosses(this.ticks, kept, learned, columns);
		this.pace = new FramePace(learned);
		this.clumps = new Clumps(learned);
		this.load = new LineLoad(this.ticks, baud ?? Number.NaN);
		this.junk = new Junk(kept);
		this.outages = new Outages(kept);
		this.restarts = new RestartSigns(kept);
		this.strays = new TextList(straysKept, textBytes, kept);
		this.intervals = new IntervalSketch(kept);
		this.histogram = kept.floats(histogramBins);
		this.over = kept.bytes(1);
		this.totals = kept.floats(totalCount);
		this.times = kept.floats(timeCount, Number.NaN);
		this.tick = kept.floats(tickCount);
		this.clockUnit = kept.floats(1, Number.NaN);
		this.lastBad = new TextList(1, textBytes, kept);
		this.portDetail = new TextList(1, textBytes, kept);
		this.blank = learned.copy();
		this.blankColumns = columns.copy();
	}

	/** Frames, bytes, damaged lines and lines that were never meant as frames, of the session. */
	get frames(): number {
		return this.arrivals.count;
	}

	get bytes(): number {
		return this.totals[byteTotal];
	}

	get badLines(): number {
		return this.totals[badTotal];
	}

	get strayLines(): number {
		return this.totals[strayTotal];
	}

	/** Time of the latest tick; NaN before the first. */
	get now(): number {
		return this.times[nowAt];
	}

	get firstByteAt(): number {
		return this.times[firstByte];
	}

	get lastByteAt(): number {
		return this.times[lastByte];
	}

	get firstFrameAt(): number {
		return this.times[firstFrame];
	}

	get lastFrameAt(): number {
		return this.times[lastFrame];
	}

	/** When the port went away and came back, and what was said of it; NaN before. */
	get portLostAt(): number {
		return this.times[portLost];
	}

	get reattachedAt(): number {
		return this.times[reattached];
	}

	/** The source says that lines were left out here, and nothing has come since: how long is nobody's silence. */
	get isLeftOut(): boolean {
		return this.times[leftOut] >= this.times[lastByte];
	}

	get portLostDetail(): string {
		return this.portDetail.latest;
	}

	/** When the epoch began: the start, or the latest restart or reattachment. */
	get epochFrom(): number {
		return Number.isNaN(this.times[epochAt]) ? 0 : this.times[epochAt];
	}

	/** The last damaged line, escaped. */
	get lastBadLine(): string {
		return this.lastBad.latest;
	}

	/** Spacing at the sender, seconds: the median interval of the epoch so far; 0 before it is known. */
	get nominal(): number {
		return this.spacing.median;
	}

	/** Stray lines so far after which a restart has had a second to show itself; those of a stream that is over all count. */
	get settledStrays(): number {
		let count = this.strays.count;
		while (this.over[0] === 0 && count > this.strays.oldest && this.strays.time(count - 1) > this.now - settleSeconds)
			count--;
		return count;
	}

	/** Times are those of arrival, not made up. */
	get isTimed(): boolean {
		return this.timing !== 'assumed';
	}

	/** A new layout, or new roles of its columns: its counter and clock start afresh. `named`: the clock is called one. */
	relayout(clockUnitSeconds: number | undefined, named = true): void {
		this.clockUnit[0] = clockUnitSeconds ?? Number.NaN;
		this.times[clockDoubtedTo] = named ? Number.NEGATIVE_INFINITY : (this.now || 0) + doubtSeconds;
		this.forgetColumns();
	}

	/** Forgets what was learned of the sender: the epoch begins with frame number `first`, at `t`. */
	beginEpoch(t: number, first: number): void {
		this.learned.putBack(this.blank);
		this.forgetColumns();
		this.arrivals.beginEpoch(first);
		this.losses.begunAt[0] = t;
		this.times[epochAt] = t;
	}

	/** What happened to the port, and not in its bytes. */
	takeEvent(t: number, event: string, detail = ''): void {
		if (event === 'port-lost') {
			this.times[portLost] = t;
			this.portDetail.add(detail, t);
		} else if (event === 'reattached') this.times[reattached] = t;
		else if (event === 'dtr') this.restarts.opened(t);
		else if (event === 'gap') this.times[leftOut] = t;
	}

	takeBytes(t: number, bytes: Uint8Array): void {
		if (bytes.length === 0) return;
		// Text that reads well needs no sample.
		if (this.tick[frameTick] === 0) this.junk.sample(bytes);
		if (this.bytes === 0) this.times[firstByte] = t;
		this.totals[byteTotal] += bytes.length;
		this.tick[byteTick] += bytes.length;
		this.times[lastByte] = t;
	}

	/**
	 * Takes a line that was meant as a frame; `text` is an escaped excerpt. True where start-up text is glued to it: then the
	 * board started again, and the cut frame is part of that.
	 */
	takeBadLine(t: number, kind: BadLineKind, text: string): boolean {
		this.totals[badTotal]++;
		this.lastBad.add(`${kind}: ${text}`, t);
		// What comes before the first frame is a partial line or start-up text that looks a little like frames.
		if (this.arrivals.inEpoch === 0) return false;
		if (this.restarts.takeText(text, t, this.lastFrameAt, this.frames, true)) return true;
		this.tick[badTick]++;
		if (kind === 'short' || kind === 'merged') this.tick[miscountTick]++;
		this.losses.takeBadLine();
		arrival[cameAt] = t;
		this.spacing.takeLine(arrival);
		return false;
	}

	/** A frame with a number in it that no converter gives: two of its numbers have run together. */
	takeImpossible(): void {
		this.tick[badTick]++;
		this.tick[miscountTick]++;
	}

	/** Takes a line that was never meant as a frame, as an escaped excerpt. True where it tells that the board started again. */
	takeStrayLine(t: number, text: string): boolean {
		this.totals[strayTotal]++;
		if (this.arrivals.inEpoch === 0) {
			this.restarts.takeBanner(text, t);
			return false;
		}
		if (this.restarts.takeText(text, t, this.lastFrameAt, this.frames, false)) return true;
		this.strays.add(text, t);
		return false;
	}

	/**
	 * A frame arrived. Columns of its counter and of its clock are −1 where the layout has none. True where it, or the one
	 * before it, is the first after a restart.
	 */
	takeFrame(t: number, values: Float64Array, counterColumn: number, clockColumn: number): boolean {
		const {spacing, losses, restarts} = this;
		const stopped = this.lastFrameAt;
		const interval = spacing.since(t);
		arrival[cameAt] = t;
		arrival[sinceLast] = interval;
		if (this.isTimed && !(this.times[leftOut] >= stopped)) this.outages.take(arrival, this.times, lastFrame);
		if (!Number.isNaN(interval)) this.takeInterval(arrival);
		if (this.frames === 0) this.times[firstFrame] = t;
		this.times[lastFrame] = t;
		this.arrivals.add(arrival);
		this.tick[frameTick]++;
		restarts.takeFrame(arrival);
		arrival[counterNow] = counterColumn < 0 ? Number.NaN : values[counterColumn];
		let lost = 0;
		let isRestart = false;
		if (!Number.isNaN(arrival[counterNow])) {
			const isKnown = this.nominal > 0 && !Number.isNaN(interval);
			arrival[pauseBefore] = !this.isTimed ? Number.POSITIVE_INFINITY : isKnown ? interval / this.nominal : 0;
			lost = losses.take(arrival);
			this.tick[countedTick]++;
			if (lost < 0)
				isRestart = restarts.noticed(
					'counter',
					t,
					this.stoppedBefore(t),
					this.frames - 2,
					`frame counter fell back to ${arrival[counterNow]}`,
				);
			else this.tick[lostTick] += lost;
		}
		const isDoubtful = clockColumn < 0 || t < this.times[clockDoubtedTo];
		arrival[clockNow] = isDoubtful ? Number.NaN : values[clockColumn];
		if (spacing.takeFrame(arrival, Math.max(0, lost)))
			isRestart =
				restarts.noticed(
					'clock',
					t,
					this.stoppedBefore(t),
					this.frames - 2,
					`board clock fell back to ${arrival[clockNow]}`,
				) || isRestart;
		return isRestart;
	}

	/** Closes the tick that ends at `end`. `nonText` is the framer's total of bytes that are no text; `eaten` likewise of digits. */
	closeTick(end: number, nonText: number, eaten: number, last = false): void {
		const {ticks, tick, totals} = this;
		const place = ticks.place(ticks.count);
		const junk = Math.max(0, nonText - totals[junkTotal]);
		totals[junkTotal] = nonText;
		ticks.bytes[place] = tick[byteTick];
		ticks.nonText[place] = junk;
		ticks.frames[place] = tick[frameTick];
		ticks.badLines[place] = tick[badTick];
		ticks.miscounted[place] = tick[miscountTick];
		// The total begins anew with each layout.
		ticks.eaten[place] = eaten >= totals[eatenTotal] ? eaten - totals[eatenTotal] : eaten;
		totals[eatenTotal] = eaten;
		ticks.lost[place] = tick[lostTick];
		ticks.counted[place] = tick[countedTick];
		ticks.close(end);
		this.times[nowAt] = end;
		if (last) this.over[0] = 1;
		this.junk.closeTick(end, tick[byteTick], junk, tick[frameTick]);
		tick.fill(0);
		this.spacing.closeTick(ticks.count);
		this.losses.closeTick(end, last);
		this.restarts.settle(this.frames, last);
		if (!last && ticks.count % lookTicks !== 0) return;
		this.pace.measure(this.arrivals);
		this.clumps.measure(this.arrivals);
	}

	/** Where the frames stopped before the one in front of the newest, which began after a restart. */
	private stoppedBefore(t: number): number {
		return this.arrivals.held > 2 ? this.arrivals.at(2) : t;
	}

	private forgetColumns(): void {
		this.columns.putBack(this.blankColumns);
		if (!Number.isNaN(this.clockUnit[0])) this.spacing.setClockUnit(this.clockUnit[0]);
	}

	private takeInterval(frame: Arrival): void {
		const interval = frame[sinceLast];
		this.intervals.addAt(frame, sinceLast);
		const {latest} = this;
		if (!(interval >= latest[1] && interval <= latest[2])) this.noteBin(interval, binOf(interval));
		this.histogram[latest[0]]++;
	}

	/** An interval beyond those of the latest bin falls into `bin`. */
	private noteBin(interval: number, bin: number): void {
		const {latest} = this;
		const isSame = bin === latest[0];
		latest[0] = bin;
		latest[1] = isSame && latest[1] < interval ? latest[1] : interval;
		latest[2] = isSame && latest[2] > interval ? latest[2] : interval;
	}
}

/** Bin of an interval in `histogram`. */
function binOf(interval: number): number {
	return interval <= 1e-4 ? 0 : Math.min(histogramBins - 1, Math.floor(4 * Math.log2(interval / 1e-4)));
}
