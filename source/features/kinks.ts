import type {Features, Watch} from './features.ts';
import {type FrameHistory, frameMask} from './frame-history.ts';
import {movesOfSpan, quarterSecond} from './movement.ts';
import type {StateBlock} from './state-block.ts';

/** A kink lies off the mean of its neighbours by the largest of these (check-values D5.4, rough-track). */
const ofFullScale = 0.015;
const ofSpan = 0.05;
const ofNoise = 6;

/** Its neighbours are alike, and go on by no more than that either: this share of the kink. */
const neighboursShare = 0.5;

/** Two kinks are at least so many frames apart; nor does one count this near to an end, or to a kink of another channel. */
const apartFrames = 3;
const nearFrames = 2;

/** At an end of its range: within this share of full scale. There a movement that is cut off has corners. */
const railShare = 0.002;

/** Frames that a kink is judged by, from its first on: itself, its neighbour and the next but one, all of them twice over. */
const reach = 3;

/** From this rate on a finger that taps (5–7 Hz) bends smoothly from frame to frame: 5.8 Hz is 0.29 of it, see `isKink`. */
const leastRate = 20;

/** What is counted fades with so many seconds of movement (or of rest), so that a part that was mended is believed. */
const fadeSeconds = 30;

/** Frames off the path of each channel while it moves and while it does not: a wiper that crackles on its track. */
export class Kinks implements Watch {
	/** Seconds of movement and of rest, lately, and kinks in each: fading sums. Of rest only since it began to crackle. */
	readonly moved: Float64Array;
	readonly rested: Float64Array;
	private readonly inMovement: Float64Array;
	private readonly atRest: Float64Array;
	/** When the latest kink in movement came, and the first of those that have come since there were none, seconds. */
	readonly latestAt: Float64Array;
	readonly firstAt: Float64Array;
	/** Frame of the latest kink. */
	private readonly latest: Float64Array;
	/** The next frame to judge. */
	private readonly cursor: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.moved = state.floats(channels);
		this.rested = state.floats(channels);
		this.inMovement = state.floats(channels);
		this.atRest = state.floats(channels);
		this.latestAt = state.floats(channels, Number.NaN);
		this.firstAt = state.floats(channels, Number.NaN);
		this.latest = state.floats(channels, Number.NEGATIVE_INFINITY);
		this.cursor = state.floats(channels, Number.NaN);
	}

	/** Kinks a minute of movement; undefined before any movement. */
	perMinute(a: number): number | undefined {
		return this.moved[a] > 0 ? (60 * this.inMovement[a]) / this.moved[a] : undefined;
	}

	/** Kinks a minute outside movement; 0 without any. */
	perMinuteAtRest(a: number): number {
		return this.rested[a] > 0 ? (60 * this.atRest[a]) / this.rested[a] : 0;
	}

	close(features: Features): void {
		const rate = features.framesPerSecond;
		if (rate === undefined) return;
		const half = quarterSecond(rate);
		// Kinks of others are looked for up to two frames later.
		const wait = Math.max(half, nearFrames + reach);
		for (let a = 0; a < this.channels; a++) {
			const first = Number.isNaN(this.cursor[a]) ? features.epochFrameOf(a) : this.cursor[a];
			const from = Math.max(first, features.epochFrameOf(a) + wait, features.history.oldest + wait);
			const to = features.history.count - wait;
			if (to <= from) continue;
			if (rate >= leastRate) this.judge(a, features, from, to, half, rate);
			this.cursor[a] = to;
		}
	}

	forget(a: number): void {
		for (const sums of [this.moved, this.rested, this.inMovement, this.atRest]) sums[a] = 0;
		this.latestAt[a] = Number.NaN;
		this.firstAt[a] = Number.NaN;
		this.latest[a] = Number.NEGATIVE_INFINITY;
		this.cursor[a] = Number.NaN;
	}

	private judge(a: number, features: Features, from: number, to: number, half: number, rate: number): void {
		const {history, analog} = features;
		const column = analog.columns[a];
		const moves = movesOfSpan * analog.spans.of(a);
		const least = leastKink(features, a);
		let moving = 0;
		let resting = 0;
		let kinks = 0;
		let restKinks = 0;
		const readings = history.columns[column];
		const offsets = least * neighboursShare;
		// Where it stayed within less it neither moved nor left its path.
		const range = analog.rows.rangeSince(from - half, a);
		if (range < offsets && !(moves > 0 && range >= moves)) {
			fade(this.rested, this.atRest, a, (to - from) / rate, 0);
			return;
		}
		let before = readings[(from - 1) & frameMask];
		for (let frame = from; frame < to; frame++) {
			// No reading there, no movement.
			const isMoving =
				moves > 0 && Math.abs(readings[(frame + half) & frameMask] - readings[(frame - half) & frameMask]) >= moves;
			if (isMoving) moving++;
			else resting++;
			// Hardly a frame is off the one before it by a kink.
			const reading = readings[frame & frameMask];
			const isOff = Math.abs(reading - before) >= offsets;
			before = reading;
			if (!isOff || frame - this.latest[a] < apartFrames || !isKink(history, column, frame, least)) continue;
			if (isNearEnd(features, a, frame) || this.isShared(features, a, frame)) continue;
			this.latest[a] = frame;
			if (this.inMovement[a] + kinks < 1 && this.atRest[a] + restKinks < 1) {
				// What was quiet before the crackle began says nothing of what it does at rest.
				this.rested[a] = 0;
				resting = 0;
			}
			if (!isMoving) {
				restKinks++;
				continue;
			}
			const t = history.time(frame);
			if (this.inMovement[a] + kinks < 1) this.firstAt[a] = t;
			this.latestAt[a] = t;
			kinks++;
		}
		fade(this.moved, this.inMovement, a, moving / rate, kinks);
		fade(this.rested, this.atRest, a, resting / rate, restKinks);
	}

	/** Whether another channel that is wired has a kink within two frames. */
	private isShared(features: Features, a: number, frame: number): boolean {
		const {history, analog, open} = features;
		for (let other = 0; other < this.channels; other++) {
			if (other === a || open[other] === 1) continue;
			const least = leastKink(features, other);
			for (let near = frame - nearFrames; near <= frame + nearFrames; near++)
				if (isKink(history, analog.columns[other], near, least)) return true;
		}
		return false;
	}
}

/** Adds a block's seconds and events to sums that fade with these seconds. */
function fade(seconds: Float64Array, events: Float64Array, a: number, added: number, happened: number): void {
	const left = Math.exp(-added / fadeSeconds);
	seconds[a] = seconds[a] * left + added;
	events[a] = events[a] * left + happened;
}

function leastKink({analog, scale}: Features, a: number): number {
	return Math.max(ofFullScale * scale.fullScale, ofSpan * analog.spans.of(a), ofNoise * (analog.restNoise(a) ?? 0));
}

/**
 * Whether one or two frames from `frame` on lie off the mean of their neighbours, which are alike and do not go on by more
 * either. Where a movement turns they do: a parabola that lies off by k goes on by 3k, a sine of ν Hz at r frames a second
 * by (1 + 2 cos 2πν/r) k, which is more than half up to ν = 0.29 r.
 */
function isKink(history: FrameHistory, column: number, frame: number, least: number): boolean {
	const a = history.reading(frame - 1, column);
	const b = history.reading(frame, column);
	// Hardly a frame is off the one before it by a kink.
	if (!(Math.abs(b - a) >= least * neighboursShare)) return false;
	const c = history.reading(frame + 1, column);
	const d = history.reading(frame + 2, column);
	const before = Math.abs(a - history.reading(frame - 2, column));
	const one = Math.abs(b - (a + c) / 2);
	if (
		one >= least &&
		Math.abs(a - c) <= neighboursShare * one &&
		before <= neighboursShare * one &&
		Math.abs(d - c) <= neighboursShare * one
	)
		return true;
	const two = Math.abs((b + c - a - d) / 2);
	if (!(two >= least && Math.abs(a - d) <= neighboursShare * two && Math.abs(b - c) <= neighboursShare * two))
		return false;
	const after = Math.abs(history.reading(frame + 3, column) - d);
	return Math.max(before, after) <= neighboursShare * two;
}

/** Whether the channel is at an end of the scale, or of all it has read, within two frames of a kink at `frame`. */
function isNearEnd({history, analog, scale}: Features, a: number, frame: number): boolean {
	const band = railShare * scale.fullScale;
	const low = Math.max(scale.lowOf(a), analog.lowest[a]) + band;
	const high = Math.min(scale.highOf(a), analog.highest[a]) - band;
	for (let near = frame - nearFrames; near <= frame + nearFrames + 1; near++) {
		const reading = history.reading(near, analog.columns[a]);
		if (reading <= low || reading >= high) return true;
	}
	return false;
}
