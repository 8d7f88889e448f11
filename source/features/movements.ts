import type {AnalogFeatures} from './analog-features.ts';
import {FrameHistory} from './frame-history.ts';
import type {Hand} from './hand.ts';
import {gridSteps, PlayWatch} from './play-watch.ts';

/** A closing or opening of the whole hand: this share of the other fingers go this share of their way. */
const wholeShare = 0.6;
const wholeWay = 0.7;
const ownWay = 0.6;

/** A span that grows by more than this was not known before. */
const grownRatio = 1.15;

/** Whole movements of the hand from open to closed or back, and how each finger's reading kept up during them. */
export class Movements {
	/** How each finger's play shows in them. */
	readonly plays: PlayWatch;
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
	private side: -1 | 0 | 1 = 0;
	private leftAt = 0;
	private pending: {from: number; to: number; due: number; up: boolean} | null = null;

	constructor(channels: number) {
		this.grownAt = new Int32Array(channels);
		this.tookPart = new Int32Array(channels);
		this.knownSpan = new Float64Array(channels);
		this.plays = new PlayWatch(channels);
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
		this.plays.take(members, times, up);
	}
}

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

function meanOf(values: Float64Array, history: FrameHistory, column: number, from: number, to: number): number {
	let sum = 0;
	for (let frame = from; frame <= to; frame++) sum += values[history.base(frame) + column];
	return sum / (to - from + 1);
}
