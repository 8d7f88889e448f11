import type {AnalogFeatures} from './analog-features.ts';
import {FrameHistory} from './frame-history.ts';
import type {Hand} from './hand.ts';

/** Movements kept per finger and direction. */
const kept = 12;

/**
 * Shares of the way at which a finger's times are compared with the others'. They lie evenly about the middle, so that
 * the mean lateness at the outer two, less the lateness in the middle, holds neither a late start nor another pace, nor a
 * delay (which is the same time at all three), nor a first-order lag (early as much shorter as late longer).
 */
const outer = [0.12, 0.88];
const middle = 0.5;

/** The passing times of each finger are kept at every fiftieth of the way. */
const gridSteps = 50;

/** A closing or opening of the whole hand: this share of the other fingers go this share of their way. */
const wholeShare = 0.6;
const wholeWay = 0.7;
const ownWay = 0.6;

/** A span that grows by more than this was not known before. */
const grownRatio = 1.15;

/** Play is sought in this range, as a share of the way that is left: w′ = w/(1 + w) of the play w. */
const leastPart = -0.25;
const mostPart = 0.65;

/** Whole movements of the hand from open to closed or back, and how each finger's reading kept up during them. */
export class Movements {
	/** Per finger and direction (closing first): play measured in each movement, share of the span. */
	readonly count: Int32Array;
	readonly lateness: Float64Array;
	/** Whole movements seen, both ways. */
	total = 0;
	/** Of these the ones in which most fingers went most of their way: closings and openings of the whole hand. */
	whole = 0;
	lastAt = Number.NaN;
	/** End of the latest movement that was measured, stream seconds; NaN before. */
	measuredAt = Number.NaN;
	/** Frames in which the hand lay at the low and at the high side of its aligned position: it rests where it is open. */
	lowFrames = 0;
	highFrames = 0;
	/** Per channel: how many whole movements had been seen when its span last grew by a seventh. */
	readonly grownAt: Int32Array;
	/** Per channel: whole movements since then in which it went most of its own span as well. */
	readonly tookPart: Int32Array;
	private readonly knownSpan: Float64Array;
	/** Play of each finger, and the count of movements that it was judged from. */
	private readonly plays: (Play | undefined)[];
	private readonly playOf: Int32Array;
	private readonly channels: number;
	private side: -1 | 0 | 1 = 0;
	private leftAt = 0;
	private pending: {from: number; to: number; due: number; up: boolean} | null = null;

	constructor(channels: number) {
		this.channels = channels;
		this.grownAt = new Int32Array(channels);
		this.tookPart = new Int32Array(channels);
		this.knownSpan = new Float64Array(channels);
		this.plays = new Array(channels).fill(undefined);
		this.playOf = new Int32Array(channels);
		this.count = new Int32Array(channels * 2);
		this.lateness = new Float64Array(channels * 2 * kept);
	}

	close(analog: AnalogFeatures, hand: Hand, history: FrameHistory, from: number, to: number): void {
		const mask = FrameHistory.capacity - 1;
		for (let frame = from; frame < to; frame++) {
			const {pending} = this;
			if (pending !== null && frame >= pending.due) {
				this.measure(analog, hand, history, pending.from, pending.due, pending.up);
				this.pending = null;
			}
			if (hand.members[frame & mask] < 2) {
				this.side = 0;
				continue;
			}
			const position = hand.position[frame & mask];
			if (position <= 0.25) {
				if (this.side === 1) this.arrived(history, frame, false);
				this.lowFrames++;
				this.side = -1;
				this.leftAt = frame;
			} else if (position >= 0.75) {
				if (this.side === -1) this.arrived(history, frame, true);
				this.highFrames++;
				this.side = 1;
				this.leftAt = frame;
			}
		}
	}

	/**
	 * Play of one finger as a share of its span, each way: mean over the latest movements, and how sure that is (standard
	 * error of the mean of both). Undefined before three movements each way. A finger whose reading is no straight line
	 * of its bending shows that as play one way and as its opposite the other: only the mean of both counts.
	 */
	play(a: number): Play | undefined {
		// Asked for far more often than it changes.
		const measured = this.count[a] + this.count[this.channels + a];
		if (this.playOf[a] !== measured) {
			this.plays[a] = this.judgePlay(a);
			this.playOf[a] = measured;
		}
		return this.plays[a];
	}

	private judgePlay(a: number): Play | undefined {
		const up = this.spread(a);
		const down = this.spread(this.channels + a);
		if (up === undefined || down === undefined) return undefined;
		return {
			closing: up.mean,
			opening: down.mean,
			play: (up.mean + down.mean) / 2,
			error: Math.sqrt(up.variance / up.count + down.variance / down.count) / 2,
			movements: up.count + down.count,
		};
	}

	/** Mean without the most extreme value on either side, and variance, of what is kept of a row. */
	private spread(row: number): {mean: number; variance: number; count: number} | undefined {
		const count = Math.min(this.count[row], kept);
		if (count < 3) return undefined;
		const values = this.lateness.slice(row * kept, row * kept + count).sort();
		const inner = count >= 5 ? values.subarray(1, count - 1) : values;
		let sum = 0;
		for (const value of inner) sum += value;
		const mean = sum / inner.length;
		let squares = 0;
		for (const value of values) squares += (value - mean) ** 2;
		return {mean, variance: squares / (count - 1), count};
	}

	private arrived(history: FrameHistory, frame: number, up: boolean): void {
		this.total++;
		this.lastAt = history.time(frame);
		const length = frame - this.leftAt;
		// From 25 % to 75 % a minimum-jerk movement takes 0.29 of its time: as much again on either side, and some rest.
		const margin = Math.max(3, Math.ceil(1.3 * length));
		const from = this.leftAt - margin;
		const seconds = history.time(frame) - history.time(Math.max(history.oldest, this.leftAt));
		if (length < 3 || from < history.oldest || seconds > 1.2) return;
		this.pending = {from, to: frame, due: frame + margin, up};
	}

	private measure(
		analog: AnalogFeatures,
		hand: Hand,
		history: FrameHistory,
		from: number,
		to: number,
		up: boolean,
	): void {
		const {columns, ends} = analog;
		const {values} = history;
		// The ends of the way as means over a twentieth of it, or noise would shift every share.
		const pad = Math.max(1, Math.round((to - from) / 20));
		const members: number[] = [];
		let far = 0;
		const starts: number[] = [];
		const ways: number[] = [];
		for (const a of hand.fingers) {
			const start = meanOf(values, history, columns[a], from, from + pad);
			const way = meanOf(values, history, columns[a], to - pad, to) - start;
			if (Math.abs(way) >= wholeWay * ends.span(a) && ends.span(a) >= 0.1 * analog.scale.fullScale) far++;
			if (Math.abs(way) < 0.4 * ends.span(a) || ends.span(a) < 0.1 * analog.scale.fullScale) continue;
			members.push(a);
			starts.push(start);
			ways.push(way);
		}
		if (far >= wholeShare * (hand.fingers.length - 1)) this.whole++;
		for (const a of hand.fingers) {
			if (ends.span(a) > grownRatio * this.knownSpan[a]) {
				this.knownSpan[a] = ends.span(a);
				this.grownAt[a] = this.whole;
				this.tookPart[a] = 0;
			} else if (far >= wholeShare * (hand.fingers.length - 1)) {
				const way = values[history.base(to) + columns[a]] - values[history.base(from) + columns[a]];
				if (Math.abs(way) >= ownWay * ends.span(a)) this.tookPart[a]++;
			}
		}
		if (members.length < 3) return;
		this.measuredAt = history.time(to);
		const times = members.map((a, k) => passingTimes(history, columns[a], starts[k], ways[k], from, to));
		for (let m = 0; m < members.length; m++) {
			const play = playOf(times, m);
			if (Number.isNaN(play)) continue;
			const row = up ? members[m] : this.channels + members[m];
			this.lateness[row * kept + (this.count[row] % kept)] = play;
			this.count[row]++;
		}
	}
}

/** Play of one finger as a share of its span. */
export type Play = {
	readonly closing: number;
	readonly opening: number;
	/** Mean of both ways. */
	readonly play: number;
	/** Standard error of that mean. */
	readonly error: number;
	readonly movements: number;
};

/**
 * When one finger passed each fiftieth of its way, seconds; NaN where it did not. Noise makes a reading pass early for the
 * first time and late for the last time: the mean of the two is in the middle.
 */
function passingTimes(
	history: FrameHistory,
	column: number,
	start: number,
	way: number,
	from: number,
	to: number,
): Float64Array {
	const times = new Float64Array(gridSteps + 1).fill(Number.NaN);
	const {values} = history;
	let next = 0;
	let before = (values[history.base(from) + column] - start) / way;
	for (let frame = from + 1; frame <= to && next <= gridSteps; frame++) {
		const now = (values[history.base(frame) + column] - start) / way;
		for (; next <= gridSteps && now >= next / gridSteps; next++)
			times[next] = passedAt(history, frame, before, now, next / gridSteps);
		before = now;
	}
	let last = next - 1;
	let after = (values[history.base(to) + column] - start) / way;
	for (let frame = to; frame > from && last >= 0; frame--) {
		const now = (values[history.base(frame - 1) + column] - start) / way;
		for (; last >= 0 && now < last / gridSteps; last--)
			times[last] = (times[last] + passedAt(history, frame, now, after, last / gridSteps)) / 2;
		after = now;
	}
	return times;
}

/** When a share of the way was passed between the frame before `frame`, at `before`, and `frame`, at `after`. */
function passedAt(history: FrameHistory, frame: number, before: number, after: number, share: number): number {
	const part = after > before ? Math.min(1, Math.max(0, (share - before) / (after - before))) : 1;
	return history.time(frame - 1) + part * (history.time(frame) - history.time(frame - 1));
}

/**
 * Play of member `m` in one movement, share of its span. A reading with play w has done (p − w′)/(1 − w′) of its way when
 * the finger has done p, w′ = w/(1 + w): it passes q when the finger passes q + w′(1 − q). The w′ is sought with which its
 * times are the others' mean times but for a constant. NaN where times are missing or no play explains them.
 */
function playOf(times: readonly Float64Array[], m: number): number {
	const others = new Float64Array(gridSteps + 1);
	for (let i = 0; i <= gridSteps; i++) {
		let sum = 0;
		for (let k = 0; k < times.length; k++) if (k !== m) sum += times[k][i];
		others[i] = sum / (times.length - 1);
	}
	const own = times[m];
	const late = (share: number, part: number): number => timeAt(own, share) - timeAt(others, share + part * (1 - share));
	const excess = (part: number): number => (late(outer[0], part) + late(outer[1], part)) / 2 - late(middle, part);
	const duration = timeAt(others, outer[1]) - timeAt(others, outer[0]);
	// Fingers that close one after another are no movement of the whole hand.
	if (!(Math.abs(late(middle, 0)) <= 0.6 * duration)) return Number.NaN;
	let low = leastPart;
	let high = mostPart;
	// The more play is allowed for, the less lateness is left early.
	if (!(excess(low) > 0 && excess(high) < 0)) return Number.NaN;
	for (let n = 0; n < 20; n++) {
		const part = (low + high) / 2;
		if (excess(part) > 0) low = part;
		else high = part;
	}
	const part = (low + high) / 2;
	return part / (1 - part);
}

/** Passing time at any share between 0 and 1. */
function timeAt(times: Float64Array, share: number): number {
	const place = Math.min(gridSteps - 1e-9, Math.max(0, share * gridSteps));
	const i = Math.floor(place);
	return times[i] + (place - i) * (times[i + 1] - times[i]);
}

function meanOf(values: Float64Array, history: FrameHistory, column: number, from: number, to: number): number {
	let sum = 0;
	for (let frame = from; frame <= to; frame++) sum += values[history.base(frame) + column];
	return sum / (to - from + 1);
}
