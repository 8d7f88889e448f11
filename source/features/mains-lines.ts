import {medianOf} from '../math/nth-smallest.ts';
import {companyOf} from './company.ts';
import type {Features, Watch} from './features.ts';
import {decidedUntil, isRestOver} from './rests.ts';
import {aliasOf, fitLine} from './spectrum.ts';
import type {StateBlock} from './state-block.ts';

/** Mains frequencies of the world, Hz. */
const mains = [50, 60] as const;

/** An alias this close to zero is a slow drift or a constant: hum can't be told there (the oracle's definition). */
const leastAliasHertz = 2;

/** A hand itself moves to and fro up to here: scratching and tapping reach 7 Hz, tremor 12 (check-values H16, H17). */
const handHertz = 12;

/** Two lines nearer than this look the same: a window of two seconds shows lines half a hertz wide. */
const apartHertz = 0.75;

/** A window; one of more than the second figure holds a pause. One begins every so many blocks. */
const windowSeconds = 2;
const longestSeconds = 2.6;
const everyBlocks = 2;

/** Too few readings tell no line from a slope. */
const leastReadings = 16;

/** Faster streams are averaged in groups down to about this rate: four readings a mains period are enough. */
const enoughPerSecond = 250;

/** The grid stays within ±0.2 Hz and the frame rate is known to some tenths of a percent: where the line may lie, Hz. */
const detunes = [0, -0.2, 0.2, -0.4, 0.4];

/** Where a narrow line has nothing, Hz: beyond two of its widths. Tremor and scratching are wider than that. */
const besides = [-1.75, -1.25, 1.25, 1.75];

/** What the definition calls no hum (share of full scale, peak): a smoother channel needs no look. */
const leastShare = 0.005;

/** From here on a window shows a line (share of full scale, peak): half of the definition's must. */
const showsShare = 0.0075;

/** The latest windows at rest, and in motion, that count: they overlap by three quarters. */
const kept = 6;

/** In motion the line is still there: half as high as at rest, twice as high as what movement leaves beside it. */
const ofRest = 0.5;
const narrowInMotion = 2;

/** Half the second difference against the roughness of a row, which is rms of the second difference over √6. */
const eOfRough = Math.sqrt(6) / 2;

/** Used within one call only: what is fitted in a window, its times as they came and as the board spaced them, and the answer. */
const held = 4096;
const bends = new Float64Array(held);
const times = new Float64Array(held);
const even = new Float64Array(held);
const taken = {count: 0, step: 0};
const found = {peak: 0, narrow: 0};

/**
 * The mains line on each analog channel: a sinusoid of 50 or 60 Hz, or of its alias at this frame rate, fitted to
 * x[n] − (x[n−1] + x[n+1])/2, in which a hand's movement is all but gone, and told as the peak of the readings themselves.
 * Taken in windows of two seconds: at rest (the other fingers make no trip) and in motion, since hum stays through both and
 * is narrow.
 */
export class MainsLines implements Watch {
	/** Windows at rest taken so far, and windows in motion in which a line that shows at rest was looked for. */
	readonly rests: Int32Array;
	readonly motions: Int32Array;
	/** Peak and narrowness of each window at rest, per mains frequency. */
	private readonly peaks: Float64Array;
	private readonly narrows: Float64Array;
	/** Of the latest windows at rest: place of the stronger line in `mains`, median of its peak and narrowness. */
	private readonly strongest: Uint8Array;
	private readonly middlePeak: Float64Array;
	private readonly middleNarrow: Float64Array;
	private readonly heldOn: Uint8Array;
	private readonly shownFrom: Float64Array;
	private readonly shownAt: Float64Array;
	private readonly takenTo: Int32Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.rests = state.ints(channels);
		this.motions = state.ints(channels);
		this.peaks = state.floats(channels * mains.length * kept);
		this.narrows = state.floats(channels * mains.length * kept);
		this.strongest = state.bytes(channels);
		this.middlePeak = state.floats(channels);
		this.middleNarrow = state.floats(channels);
		this.heldOn = state.bytes(channels * kept);
		this.shownFrom = state.floats(channels, Number.NaN);
		this.shownAt = state.floats(channels, Number.NaN);
		this.takenTo = state.ints(channels);
	}

	close(features: Features): void {
		for (let a = 0; a < this.channels; a++) this.take(features, a);
	}

	/** Peak of the stronger line, counts: median of the latest windows at rest; 0 before any. */
	peak(a: number): number {
		return this.middlePeak[a];
	}

	/** How many times higher the line stands than what is beside it: median of the latest windows at rest; 0 before any. */
	narrow(a: number): number {
		return this.middleNarrow[a];
	}

	/** Which mains it is, Hz: both where they would look the same at this frame rate. */
	hertz(a: number, framesPerSecond: number): 50 | 60 | '50 or 60' {
		const [one, other] = mains.map(hertz => aliasOf(hertz, framesPerSecond));
		return Math.abs(one - other) < apartHertz ? '50 or 60' : mains[this.strongest[a]];
	}

	/** Where the line shows at this frame rate, Hz. */
	alias(a: number, framesPerSecond: number): number {
		return aliasOf(mains[this.strongest[a]], framesPerSecond);
	}

	/** Share of the latest windows in motion in which the line went on; NaN before any. */
	inMotion(a: number): number {
		const count = Math.min(this.motions[a], kept);
		let sum = 0;
		for (let i = 0; i < count; i++) sum += this.heldOn[a * kept + i];
		return count === 0 ? Number.NaN : sum / count;
	}

	/** Windows at rest taken so far. */
	windows(a: number): number {
		return this.rests[a];
	}

	/** Since when each window at rest has shown a line, seconds; NaN where the latest showed none. */
	since(a: number): number {
		return this.shownFrom[a];
	}

	/** When a line was last seen at rest, seconds; NaN before. */
	seenAt(a: number): number {
		return this.shownAt[a];
	}

	forget(a: number): void {
		this.rests[a] = 0;
		this.motions[a] = 0;
		this.middlePeak[a] = 0;
		this.middleNarrow[a] = 0;
		this.shownFrom[a] = Number.NaN;
		this.shownAt[a] = Number.NaN;
		this.takenTo[a] = 0;
	}

	private medianOf(ring: Float64Array, a: number, line: number): number {
		const first = (a * mains.length + line) * kept;
		return this.rests[a] === 0 ? 0 : medianOf(ring, first, Math.min(this.rests[a], kept));
	}

	private take(features: Features, a: number): void {
		const {rows} = features.analog;
		const others = companyOf(features, a);
		const until = decidedUntil(features, others);
		let first = Math.max(this.takenTo[a], rows.oldest);
		for (; first < rows.count; first += everyBlocks) {
			const start = rows.start[rows.slot(first)];
			if (start + windowSeconds > until + 1e-9) break;
			let last = first;
			while (last < rows.count - 1 && rows.end[rows.slot(last)] < start + windowSeconds - 1e-9) last++;
			const end = rows.end[rows.slot(last)];
			if (end < start + windowSeconds - 1e-9) break;
			if (end - start > longestSeconds || !isWhole(features, a, first, last)) continue;
			if (isRestOver(features.analog, others, first, last)) this.takeRest(features, a, first, last);
			else if (this.peak(a) >= showsShare * features.scale.fullScale) this.takeMotion(features, a, first, last);
		}
		this.takenTo[a] = first;
	}

	private takeRest(features: Features, a: number, first: number, last: number): void {
		const {rows} = features.analog;
		const i = this.rests[a]++ % kept;
		let highest = 0;
		for (let line = 0; line < mains.length; line++) {
			measure(features, a, first, last, mains[line]);
			const place = (a * mains.length + line) * kept + i;
			this.peaks[place] = found.peak;
			this.narrows[place] = found.narrow;
			highest = Math.max(highest, found.peak);
		}
		const one = this.medianOf(this.peaks, a, 0);
		const other = this.medianOf(this.peaks, a, 1);
		const strongest = other > one ? 1 : 0;
		this.strongest[a] = strongest;
		this.middlePeak[a] = strongest === 1 ? other : one;
		this.middleNarrow[a] = this.medianOf(this.narrows, a, strongest);
		if (highest < showsShare * features.scale.fullScale) {
			this.shownFrom[a] = Number.NaN;
			return;
		}
		if (Number.isNaN(this.shownFrom[a])) this.shownFrom[a] = rows.start[rows.slot(first)];
		this.shownAt[a] = rows.end[rows.slot(last)];
	}

	private takeMotion(features: Features, a: number, first: number, last: number): void {
		measure(features, a, first, last, mains[this.strongest[a]]);
		const goesOn = found.peak >= ofRest * this.peak(a) && found.narrow >= narrowInMotion;
		this.heldOn[a * kept + (this.motions[a] % kept)] = goesOn ? 1 : 0;
		this.motions[a]++;
	}
}

/** Whether the channel has readings of its epoch in all of these blocks. */
function isWhole({analog, history, epochFrame}: Features, a: number, first: number, last: number): boolean {
	const {rows} = analog;
	if (rows.firstFrame[rows.slot(first)] < Math.max(history.oldest, epochFrame)) return false;
	for (let number = first; number <= last; number++) if (Number.isNaN(rows.mean[rows.at(number, a)])) return false;
	return true;
}

/** Whether a mains line shows at a frame rate at all, not as a constant or a slow drift. */
export function showsMains(framesPerSecond: number): boolean {
	return mains.some(hertz => aliasOf(hertz, framesPerSecond) >= leastAliasHertz);
}

/** Whether a line at this frequency is within reach of what a hand does, Hz. */
export function isHandLike(hertz: number): boolean {
	return hertz <= handHertz;
}

/** Fits the line of one mains frequency to the blocks `first` to `last`; the answer stands in `found`, peak in counts. */
function measure(features: Features, a: number, first: number, last: number, hertz: number): void {
	found.peak = 0;
	found.narrow = 0;
	const {rows} = features.analog;
	let frames = 0;
	let rough = 0;
	let range = 0;
	for (let number = first; number <= last; number++) {
		const at = rows.at(number, a);
		frames += rows.frames[rows.slot(number)];
		rough += rows.rough[at] ** 2;
		range += rows.high[at] - rows.low[at];
	}
	const seconds = rows.end[rows.slot(last)] - rows.start[rows.slot(first)];
	const rate = frames / seconds;
	// Where frames come unevenly a window's own rate is none that a line could be seen by.
	const isSeen = (perSecond: number): boolean => aliasOf(hertz, perSecond) >= leastAliasHertz;
	if (!isSeen(rate) || !isSeen(features.framesPerSecond ?? rate)) return;
	const blocks = last - first + 1;
	const least = leastShare * features.scale.fullScale;
	// What a line of the least peak would come to: any stretch of half a period holds its peak at least.
	if (eOfRough * Math.sqrt(rough / blocks) < (least * bendOf(hertz, rate)) / Math.SQRT2 || range / blocks < least)
		return;
	const group = Math.max(1, Math.floor(rate / enoughPerSecond));
	gather(features, a, first, last, group);
	if (taken.count >= leastReadings && isSeen(group / taken.step)) fitBest(features, hertz, group, least);
}

/** What x[n] − (x[n−1] + x[n+1])/2 makes of a line's peak. */
function bendOf(hertz: number, rate: number): number {
	return 1 - Math.cos((2 * Math.PI * hertz) / rate);
}

function fitBest(features: Features, hertz: number, group: number, least: number): void {
	const {count, step} = taken;
	const turn = (Math.PI * hertz * step) / group;
	// A group's mean takes off what turns within it.
	const left = group === 1 ? 1 : Math.sin(group * turn) / (group * Math.sin(turn));
	const toPeak = 1 / (bendOf(hertz, 1 / step) * left);
	// The board samples evenly while arrival wobbles, or frames are missing: the clearer line is believed.
	const clocks = features.link.timing === 'assumed' ? [even] : [even, times];
	let amplitude = 0;
	let share = 0;
	let at = hertz;
	let clock = even;
	for (const candidate of clocks) {
		for (const off of detunes) {
			const line = fitLine(candidate, bends, count, hertz + off);
			if (line !== undefined && line.share > share)
				[amplitude, share, at, clock] = [line.amplitude, line.share, hertz + off, candidate];
			// Nothing at the frequency itself: a quick look is enough.
			if (off === 0 && line !== undefined && line.amplitude * toPeak < least) break;
		}
	}
	found.peak = amplitude * toPeak;
	if (found.peak < least) return;
	let squares = 0;
	let beside = 0;
	for (const off of besides) {
		const line = fitLine(clock, bends, count, at + off);
		if (line === undefined) continue;
		squares += line.amplitude ** 2;
		beside++;
	}
	found.narrow = beside > 0 && squares > 0 ? amplitude / Math.sqrt(squares / beside) : 0;
}

/** Half the second differences of a window's readings, in groups of `group` frames, with their times. */
function gather(features: Features, a: number, first: number, last: number, group: number): void {
	const {history, analog} = features;
	const {rows, columns} = analog;
	const column = columns[a];
	const from = rows.firstFrame[rows.slot(first)];
	const to = rows.firstFrame[rows.slot(last)] + rows.frames[rows.slot(last)];
	const begun = history.time(from);
	const step = (group * (history.time(to - 1) - begun)) / Math.max(1, to - 1 - from);
	let count = 0;
	let before = Number.NaN;
	let reading = Number.NaN;
	let middle = begun;
	for (let frame = from; frame + group <= to && count < held; frame += group) {
		let sum = 0;
		let at = 0;
		for (let i = 0; i < group; i++) {
			sum += history.reading(frame + i, column);
			at += history.time(frame + i);
		}
		const next = sum / group;
		const bend = reading - (before + next) / 2;
		if (!Number.isNaN(bend)) {
			bends[count] = bend;
			times[count] = middle;
			even[count] = begun + (step * (frame - group - from)) / group;
			count++;
		}
		before = reading;
		reading = next;
		middle = at / group;
	}
	taken.count = count;
	taken.step = step;
}
