import {arrivalLength, counterNow, pauseBefore} from '../features/link/arrivals.ts';
import {ClockWatch} from '../features/link/clock-watch.ts';
import {CounterWatch} from '../features/link/counter-watch.ts';
import type {Layout} from '../framing/layout.ts';
import {quantileOf, upperMedianOf} from '../math/nth-smallest.ts';
import {fistMarks} from './fist-marks.ts';
import {GrownFloats} from './grown-floats.ts';
import {type Line, LowerHull} from './lower-hull.ts';
import {PressMarks} from './press-marks.ts';
import {wilson95} from './wilson.ts';

/** The frame whose counter is being taken. */
const arrival = new Float64Array(arrivalLength);

/** How losses are known: by the board's own count, or guessed from the times. */
type LossBy = 'counter' | 'spacing';

/** What came through, and how, between two times. */
export type Stretch = {
	readonly from: number;
	readonly to: number;
	/** The mark that it begins at, or null. */
	readonly mark: string | null;
	readonly frames: number;
	readonly lost: number;
	/** Of the frames that were sent, in per cent; null where none was. */
	readonly lostPercent: number | null;
	/** Its 95 % interval (Wilson), in per cent. */
	readonly lost95: readonly [number, number];
	/** Mean length of a run of lost frames; null where none was lost. */
	readonly meanBurst: number | null;
	/** Beyond the quickest frame, milliseconds; null without a clock of the board's own. */
	readonly delayMs: {readonly p50: number; readonly p95: number; readonly p99: number} | null;
	/** Gaps of at least 200 ms and five intervals, by when they ended; one that takes up all of the stretch counts, too. */
	readonly outages: number;
	readonly longestOutageMs: number | null;
	readonly verdict: LinkVerdict;
};

type LinkVerdict = 'good' | 'weak' | 'bad' | 'unproven';

export type LinkAccount = {
	readonly lossBy: LossBy | null;
	readonly whole: Stretch;
	readonly stretches: readonly Stretch[];
	/** The window (of the asked length) in which most was lost; null where none was lost. */
	readonly worst: Stretch | null;
	/** Windows of the asked length, for the chart. */
	readonly windows: readonly Stretch[];
	/** How fast arrival times run away from the board's clock, in millionths; null without a clock. */
	readonly skewPpm: number | null;
	/** Of each frame beyond the quickest, NaN where its clock was none; undefined without a clock. */
	readonly delaySeconds: Float64Array | undefined;
	readonly marks: readonly number[];
	/** What made the marks: a channel, `three fists`, or the source's own marks. */
	readonly markedBy: string | null;
	/** What is to be known about the figures, a sentence each. */
	readonly notes: readonly string[];
};

/**
 * What a stretch has to keep. Lost frames: the two limits of `lost-frames`, 0.5 % over the whole and 2 % in its worst 20 s.
 * A gap of 0.5 s is a `stall`. Late frames: a puppet that follows 50 ms later than it might is seen to lag by whoever works
 * it, and 150 ms make two people of one (common practice, no source).
 */
const linkLimits = {
	weakLostPercent: 0.5,
	badLostPercent: 2,
	badOutageMs: 500,
	weakDelayMs: 50,
	badDelayMs: 150,
	/** Fewer frames say nothing of a share of 1 %. */
	leastFrames: 100,
} as const;

const leastOutageSeconds = 0.2;
const outageIntervals = 5;

/** A damaged line may have been two frames (`frame-losses.ts`). */
const framesPerBadLine = 2;

/** A clock that never differs from the arrival times by more than they are rounded by is the arrival time itself. */
const sameClockSeconds = 2e-6;

/**
 * One line of the clock's speed serves for so long: a crystal that warms up by 10 °C runs otherwise by up to 10 millionths, which
 * is 6 ms in this time and would be 36 ms in an hour.
 */
const hullSeconds = 600;

export type AccountOptions = {
	readonly windowSeconds: number;
	/** Name of the channel whose presses are marks; without it the first button that was pressed, else three quick fists. */
	readonly mark?: string;
	/** Times of arrival are known. */
	readonly isTimed: boolean;
};

/** Takes the frames of a stream and gives the account of its link: time and memory grow with the frames, eight numbers each. */
export class LinkAccountant {
	private readonly options: AccountOptions;
	private readonly times = new GrownFloats();
	/** Frames lost before each frame, by the counter. */
	private readonly lost = new GrownFloats();
	/** The board's seconds at each frame, and which run of its clock that was. */
	private readonly clock = new GrownFloats();
	private readonly run = new GrownFloats();
	private fingers: GrownFloats[] = [];
	private fingerColumns: number[] = [];
	private presses: {readonly name: string; readonly column: number; readonly marks: PressMarks}[] = [];
	private readonly sourceMarks: {readonly t: number; readonly mark: string}[] = [];
	private counterColumn = -1;
	private clockColumn = -1;
	private counterWatch = new CounterWatch();
	private clockWatch = new ClockWatch(1);
	private runs = 0;
	private badLines = 0;
	private counted = false;

	constructor(options: AccountOptions) {
		this.options = options;
	}

	/** The columns of the frames that follow. */
	layout({channels}: Layout): void {
		this.counterColumn = channels.find(({role}) => role === 'counter')?.index ?? -1;
		const clock = channels.find(({role}) => role === 'clock');
		this.clockColumn = clock?.index ?? -1;
		this.clockWatch = new ClockWatch(clock?.clockUnitSeconds ?? 1);
		this.counterWatch = new CounterWatch();
		this.runs++;
		const fingers = channels.filter(({role}) => role === 'finger').map(({index}) => index);
		if (this.times.length === 0) {
			this.fingers = fingers.map(() => new GrownFloats());
			this.presses = channels
				.filter(({name, role}) => role === 'button' || name === this.options.mark)
				.map(({name, index}) => ({name, column: index, marks: new PressMarks()}));
		}

		this.fingerColumns = fingers.slice(0, this.fingers.length);
	}

	badLine(): void {
		this.badLines++;
	}

	mark(t: number, mark: string): void {
		this.sourceMarks.push({t, mark});
	}

	frame(t: number, values: Float64Array): void {
		this.times.push(t);
		this.lost.push(this.takeCounter(values));
		const clock = this.clockColumn < 0 ? Number.NaN : values[this.clockColumn];
		let seconds = Number.NaN;
		if (!Number.isNaN(clock)) {
			const step = this.clockWatch.take(clock);
			if (step === 'restart') this.runs++;
			if (step !== 'odd') seconds = this.clockWatch.seconds;
		}

		this.clock.push(seconds);
		this.run.push(this.runs);
		for (let i = 0; i < this.fingers.length; i++)
			this.fingers[i].push(this.fingerColumns[i] === undefined ? Number.NaN : values[this.fingerColumns[i]]);
		for (const {column, marks} of this.presses) marks.take(t, values[column]);
	}

	/** Seconds of the latest frame; NaN before the first. */
	get lastAt(): number {
		return this.times.values[this.times.length - 1] ?? Number.NaN;
	}

	/** What came between two times of the last ten minutes, while the walk goes on. */
	stretchNow(from: number, to: number): Stretch {
		const {frames} = this.measured(lowerBound(this.times.values, to - hullSeconds));
		return stretchOf(frames, from, to, null, false);
	}

	/** The account of what came, up to `end` seconds. */
	account(end: number): LinkAccount {
		const {options} = this;
		const {frames, lossBy, skewPpm} = this.measured(0);
		const {times, delays} = frames;
		const start = times[0] ?? 0;
		const stretch = (from: number, to: number, mark: string | null, isLast: boolean): Stretch =>
			stretchOf(frames, from, to, mark, isLast);
		const {marks, markedBy, names} = this.marks();
		const last = Math.max(end, times[times.length - 1] ?? 0);
		const windows: Stretch[] = [];
		for (let from = 0; from < last; from += options.windowSeconds) {
			const to = Math.min(last, from + options.windowSeconds);
			windows.push(stretch(from, to, null, to === last));
		}

		const isMarked = marks.length >= 2;
		const edges = isMarked ? [start, ...marks, last] : [];
		const stretches = isMarked
			? edges
					.slice(0, -1)
					.map((from, i) => stretch(from, edges[i + 1], i === 0 ? null : names[i - 1], i === edges.length - 2))
			: windows;
		const worst = windows
			.filter(({lost: count, frames}) => count > 0 && frames + count > 0)
			.reduce<Stretch | null>(
				(most, one) => (most === null || one.lostPercent! > most.lostPercent! ? one : most),
				null,
			);
		const whole = stretch(start, last, null, true);
		return {
			lossBy,
			whole,
			stretches,
			worst,
			windows,
			skewPpm,
			delaySeconds: delays,
			marks,
			markedBy,
			notes: notesOf({lossBy, hasDelay: delays !== undefined, isTimed: options.isTimed, marks, whole}),
		};
	}

	private takeCounter(values: Float64Array): number {
		const counter = this.counterColumn < 0 ? Number.NaN : values[this.counterColumn];
		if (Number.isNaN(counter)) return 0;
		this.counted = true;
		const {times} = this;
		const pause = times.length > 1 ? times.values[times.length - 1] - times.values[times.length - 2] : 0;
		// In intervals of some 16 ms; only a long pause decides anything.
		arrival[counterNow] = counter;
		arrival[pauseBefore] = this.options.isTimed ? pause / 0.016 : Number.POSITIVE_INFINITY;
		const step = this.counterWatch.take(arrival);
		const damaged = framesPerBadLine * this.badLines;
		this.badLines = 0;
		return step.kind === 'step' ? Math.max(0, step.lost - damaged) : 0;
	}

	/** Times, losses and delays of the frames from number `first` on. */
	private measured(first: number): {frames: Frames; lossBy: LossBy | null; skewPpm: number | null} {
		const {isTimed} = this.options;
		const times = this.times.values.subarray(first);
		const spacing = upperMedianOf(Float64Array.from(times.subarray(1), (t, i) => t - times[i]).filter(gap => gap > 0));
		const lossBy: LossBy | null = this.counted ? 'counter' : isTimed && spacing > 0 ? 'spacing' : null;
		const lost = lossBy === 'spacing' ? bySpacing(times, spacing) : this.lost.values.subarray(first);
		const {delays, skewPpm} = isTimed ? this.delays(first) : {delays: undefined, skewPpm: null};
		const limit = Math.max(leastOutageSeconds, outageIntervals * (spacing || 0));
		return {
			frames: {times, lost, delays, outage: isTimed ? limit : Number.POSITIVE_INFINITY},
			lossBy,
			skewPpm,
		};
	}

	/**
	 * How long beyond the quickest each frame took, seconds, NaN where its clock was none: a hull for every run of the clock, and in
	 * it for every ten minutes. What is left over at the end is measured by the last ten minutes.
	 */
	private delays(first: number): {delays: Float64Array | undefined; skewPpm: number | null} {
		const times = this.times.values.subarray(first);
		const clock = this.clock.values.subarray(first);
		const run = this.run.values.subarray(first);
		const delays = new Float64Array(times.length).fill(Number.NaN);
		let longest = 0;
		let slope = Number.NaN;
		let most = 0;
		for (const {from, to, lineFrom} of hullStretches(times, run)) {
			const line = this.lineOf(first + lineFrom, first + to);
			if (line === undefined) continue;
			most = Math.max(most, delaysAbove(line, {times, clock, from, to}, delays));
			if (to - lineFrom > longest) {
				longest = to - lineFrom;
				slope = line.slope;
			}
		}

		return most > sameClockSeconds ? {delays, skewPpm: 1e6 * slope} : {delays: undefined, skewPpm: null};
	}

	/** The line below the delays of the frames from `from` to before `to`: over the clock's seconds since `origin`. */
	private lineOf(from: number, to: number): LineFrom | undefined {
		const times = this.times.values;
		const clock = this.clock.values;
		const hull = new LowerHull();
		// Clocks start anywhere: from the first value on few digits are lost.
		let origin = Number.NaN;
		for (let i = from; i < to; i++) {
			if (Number.isNaN(clock[i])) continue;
			if (Number.isNaN(origin)) origin = clock[i];
			hull.add(clock[i] - origin, times[i] - (clock[i] - origin));
		}

		const line = hull.line();
		return line && {...line, origin};
	}

	private marks(): {marks: readonly number[]; markedBy: string | null; names: readonly string[]} {
		const numbered = (times: readonly number[]): string[] => times.map((_, i) => String(i + 1));
		const {mark} = this.options;
		const pressed = this.presses.find(
			({name, marks}) => (mark === undefined ? marks.times.length > 0 : name === mark) && marks.times.length > 0,
		);
		if (pressed !== undefined)
			return {marks: pressed.marks.times, markedBy: pressed.name, names: numbered(pressed.marks.times)};
		if (mark !== undefined) return {marks: [], markedBy: mark, names: []};
		if (this.sourceMarks.length > 0)
			return {
				marks: this.sourceMarks.map(({t}) => t),
				markedBy: 'marks of the recording',
				names: this.sourceMarks.map(each => each.mark),
			};
		const fists = fistMarks(
			this.times.values,
			this.fingers.map(({values}) => values),
		);
		return {marks: fists, markedBy: fists.length > 0 ? 'three quick fists' : null, names: numbered(fists)};
	}
}

/** A line over the clock's seconds since `origin`. */
type LineFrom = Line & {readonly origin: number};

/** Frames from `from` to before `to` whose delays one line measures, which is laid under those from `lineFrom` on. */
type HullStretch = {readonly from: number; readonly to: number; readonly lineFrom: number};

/** Every run of the clock in stretches of ten minutes; the last one reaches back over what the line before measured. */
function* hullStretches(times: Float64Array, run: ArrayLike<number>): Generator<HullStretch> {
	for (let start = 0, end = 0; start < times.length; start = end) {
		while (end < times.length && run[end] === run[start]) end++;
		for (let from = start, to = start; from < end; from = to) {
			const isWhole = times[end - 1] - times[from] >= hullSeconds;
			to = isWhole ? lowerBound(times, times[from] + hullSeconds) : end;
			const lineFrom = isWhole ? from : Math.max(start, lowerBound(times, times[end - 1] - hullSeconds));
			yield {from, to, lineFrom};
		}
	}
}

/** Writes how far each frame lies above a line into `delays`, frames without a clock left out. Gives the most. */
function delaysAbove(
	{origin, intercept, slope}: LineFrom,
	{
		times,
		clock,
		from,
		to,
	}: {readonly times: Float64Array; readonly clock: Float64Array; readonly from: number; readonly to: number},
	delays: Float64Array,
): number {
	let most = 0;
	for (let i = from; i < to; i++) {
		if (Number.isNaN(clock[i])) continue;
		const x = clock[i] - origin;
		delays[i] = Math.max(0, times[i] - x - intercept - slope * x);
		most = Math.max(most, delays[i]);
	}

	return most;
}

type Frames = {
	readonly times: Float64Array;
	readonly lost: Float64Array;
	readonly delays: Float64Array | undefined;
	/** Gaps of at least so many seconds are outages. */
	readonly outage: number;
};

function stretchOf(
	{times, lost, delays, outage}: Frames,
	from: number,
	to: number,
	mark: string | null,
	isLast: boolean,
): Stretch {
	const first = lowerBound(times, from);
	const last = isLast ? times.length : lowerBound(times, to);
	const {missing, bursts} = lossBetween(lost, first, last);
	const {outages, longest} = outagesBetween(times, first, last, outage);
	const count = Math.max(0, missing);
	const frames = last - first;
	const [low, high] = wilson95(count, frames + count);
	const delayMs = delays === undefined ? null : delayQuantiles(delays.subarray(first, last));
	const figures = {
		frames,
		lost: count,
		lostPercent: frames + count > 0 ? (100 * count) / (frames + count) : null,
		longestOutageMs: outages > 0 ? 1000 * longest : null,
		delayMs,
	};
	return {
		from,
		to,
		mark,
		...figures,
		lost95: [100 * low, 100 * high],
		meanBurst: bursts > 0 && count > 0 ? count / bursts : null,
		outages,
		verdict: verdictOf(figures),
	};
}

/** Frames lost before each of those from `first` to before `last`, and how often any were. */
function lossBetween(lost: Float64Array, first: number, last: number): {missing: number; bursts: number} {
	let missing = 0;
	let bursts = 0;
	// Nothing is known of what came before the first frame of all.
	for (let i = Math.max(1, first); i < last; i++) {
		missing += lost[i];
		if (lost[i] > 0) bursts++;
	}

	return {missing, bursts};
}

/** Gaps that end at frames from `first` to before `last`. A stretch without a frame lies in a gap, however long. */
function outagesBetween(
	times: Float64Array,
	first: number,
	last: number,
	outage: number,
): {outages: number; longest: number} {
	if (first === last && first > 0 && first < times.length)
		return {outages: 1, longest: times[first] - times[first - 1]};
	let outages = 0;
	let longest = 0;
	for (let i = Math.max(1, first); i < last; i++) {
		const gap = times[i] - times[i - 1];
		if (!(gap >= outage)) continue;
		outages++;
		longest = Math.max(longest, gap);
	}

	return {outages, longest};
}

/** Delays in ms, those that are known; null where none is. */
function delayQuantiles(delays: Float64Array): Stretch['delayMs'] {
	const late = [...delays].filter(seconds => !Number.isNaN(seconds));
	if (late.length === 0) return null;
	const lateBy = (share: number): number => 1000 * quantileOf(late, late.length, share);
	return {p50: lateBy(0.5), p95: lateBy(0.95), p99: lateBy(0.99)};
}

function verdictOf({
	frames,
	lost,
	lostPercent,
	longestOutageMs,
	delayMs,
}: Pick<Stretch, 'frames' | 'lost' | 'lostPercent' | 'longestOutageMs' | 'delayMs'>): LinkVerdict {
	const {weakLostPercent, badLostPercent, badOutageMs, weakDelayMs, badDelayMs, leastFrames} = linkLimits;
	if ((longestOutageMs ?? 0) >= badOutageMs) return 'bad';
	if (frames + lost < leastFrames) return 'unproven';
	const share = lostPercent ?? 0;
	const late = delayMs?.p95 ?? 0;
	if (share >= badLostPercent || late >= badDelayMs) return 'bad';
	return share >= weakLostPercent || late >= weakDelayMs || longestOutageMs !== null ? 'weak' : 'good';
}

/**
 * Frames that seem to be missing before each frame, from the times alone: a gap of n spacings lacks n − 1. Frames that were
 * only late come on each other's heels; each such takes back one that seemed missing, so sums over a stretch are right
 * where single figures are not.
 */
function bySpacing(times: Float64Array, spacing: number): Float64Array {
	const lost = new Float64Array(times.length);
	let owed = 0;
	for (let i = 1; i < times.length; i++) {
		const missing = Math.round((times[i] - times[i - 1]) / spacing) - 1;
		if (missing > 0) {
			lost[i] = missing;
			owed += missing;
		} else if (missing < 0 && owed > 0) {
			lost[i] = -1;
			owed--;
		}
	}

	return lost;
}

function notesOf(of: {
	readonly lossBy: LossBy | null;
	readonly hasDelay: boolean;
	readonly isTimed: boolean;
	readonly marks: readonly number[];
	readonly whole: Stretch;
}): string[] {
	const notes: string[] = [];
	if (of.lossBy === 'spacing')
		notes.push(
			'No frame counter: losses are an estimate, from gaps in the times. Print a number that goes up by one each frame.',
		);
	if (!of.isTimed) notes.push('The log has no times, or none fine enough: delays and outages cannot be told.');
	else if (of.hasDelay)
		notes.push('Delays are beyond the quickest frame: how long that one took is not known from one side of the link.');
	else
		notes.push(
			'No clock of the board in the frames: a delay that stays the same cannot be seen, only the time between frames. Print its milliseconds.',
		);
	if (of.marks.length === 1) notes.push('One mark makes no stretch: the table is by time.');
	if (of.marks.length > 0 && of.whole.outages > 0)
		notes.push('A press made while the link was out cannot be seen: count the marks.');
	return notes;
}

/** Number of the first time at or after `t`. */
function lowerBound(times: Float64Array, t: number): number {
	let low = 0;
	let high = times.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if (times[middle] < t) low = middle + 1;
		else high = middle;
	}

	return low;
}
