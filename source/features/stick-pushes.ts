import {binomialTail} from './binomial-tail.ts';
import type {StateBlock} from './state-block.ts';

/** Pushes to a side that are compared with each other. */
const kept = 16;

/** A push goes beyond this share of half scale, and so many rest noises (check-values D5.4, stick-short-throw). */
const pushShare = 0.22;
const pushNoises = 10;

/** It lasts longer than a contact's jump (60 ms, check-values D5.4, dropout), and is seen in three frames. */
const lastsSeconds = 0.065;
const lastsFrames = 3;

/** Frames this near to a push's end, of half scale, are part of its end. */
const endShare = 0.03;

/**
 * A push aside, more than 30° off its axis, ends at the gate of the stick and tells nothing of the stop on that axis: on
 * a round gate a whole push at 45° reaches 71 %.
 */
const mostTangent = Math.tan(Math.PI / 6);

/** Proven (check-values D2): both sides this far, of half scale … */
const provenShare = 0.25;
/** … and back to rest so often. */
const provenReturns = 2;
/** So much there is to be seen of it in all. */
export const towardsProofNeeded = 2 + provenReturns;

/** Low and high readings of an axis; the place of a side is 2 × axis + side. */
export type Side = 0 | 1;

/** Frames of both axes (0 and 1), one behind the other: readings in counts, ways from the rest point in shares of half scale, times in seconds. */
type StickRun = {
	readonly readings: readonly [Float64Array, Float64Array];
	readonly ways: readonly [Float64Array, Float64Array];
	readonly times: Float64Array;
	/** Rest noise of each axis, share of half scale. */
	readonly noises: Float64Array;
};

/** How pushes to a side end. */
export type Alike = {readonly pushes: number; readonly alike: number; readonly chance: number};

/** Pushes of a stick's two axes (0 and 1) to either side, measured from the rest point in shares of half scale. */
export class StickPushes {
	/** Farthest reading of a push to each side, counts; NaN before one. */
	readonly farthest: Float64Array;
	/** Pushes of each side, those aside included. */
	readonly count: Int32Array;
	private readonly straight: Int32Array;
	/** Ends of the last `kept` straight pushes of each side. */
	private readonly ends: Float64Array;
	/** The push under way on each side: frames, beginning, farthest way and reading, least tangent of its direction near its end. */
	private readonly frames: Int32Array;
	private readonly from: Float64Array;
	private readonly end: Float64Array;
	private readonly reading: Float64Array;
	private readonly tangent: Float64Array;
	/** When each side was last as far out as a proof asks, seconds; NaN before. */
	private readonly provenAt: Float64Array;
	/** 1 where an axis has been so far out since it last came back to rest. */
	private readonly isOut: Uint8Array;
	private readonly returns: Int32Array;
	/** When it came back to rest, the last `provenReturns` times. */
	private readonly returnedAt: Float64Array;

	constructor(state: StateBlock) {
		this.farthest = state.floats(4, Number.NaN);
		this.count = state.ints(4);
		this.straight = state.ints(4);
		this.ends = state.floats(4 * kept);
		this.frames = state.ints(4);
		this.from = state.floats(4);
		this.end = state.floats(4);
		this.reading = state.floats(4);
		this.tangent = state.floats(4);
		this.provenAt = state.floats(4, Number.NaN);
		this.isOut = state.bytes(2);
		this.returns = state.ints(2);
		this.returnedAt = state.floats(2 * provenReturns);
	}

	/** Takes frame `i` of a run for one axis. Numbers come in arrays, since those that cross a call are allocated. */
	take(axis: number, run: StickRun, i: number): void {
		// Within this it begins no push, and ends none.
		if (Math.abs(run.ways[axis][i]) <= pushShare && this.frames[2 * axis] === 0 && this.frames[2 * axis + 1] === 0)
			return;
		this.follow(2 * axis, run, i);
		this.follow(2 * axis + 1, run, i);
	}

	/** Whether an axis has been pushed since it last came back to rest: only then does it matter that it lies still. */
	isAway(axis: number): boolean {
		return this.isOut[axis] === 1;
	}

	/** An axis that was away lies still, its way from the rest point a share of half scale. */
	takeStill(axis: number, way: number, t: number): void {
		if (Math.abs(way) > pushShare) return;
		this.isOut[axis] = 0;
		this.returnedAt[provenReturns * axis + (this.returns[axis]++ % provenReturns)] = t;
	}

	/** Whether what was seen of an axis at or after `since`, seconds, proves it. */
	isProven(axis: number, since = Number.NEGATIVE_INFINITY): boolean {
		const first = provenReturns * axis;
		return (
			this.returns[axis] >= provenReturns &&
			[0, 1].every(side => this.provenAt[2 * axis + side] >= since) &&
			[0, 1].every(turn => this.returnedAt[first + turn] >= since)
		);
	}

	/** Of what proves an axis, how much was seen: its two sides, and returns to rest. */
	towardsProof(axis: number): number {
		const sides = [0, 1].filter(side => !Number.isNaN(this.provenAt[2 * axis + side])).length;
		return sides + Math.min(provenReturns, this.returns[axis]);
	}

	/**
	 * Of the last straight pushes to a side: how many there are, how many end within `near` of the farthest of them, and the
	 * chance that of pushes that end anywhere, from where a push counts up to that farthest, so many do.
	 */
	alike(axis: number, side: Side, near: number): Alike {
		const place = 2 * axis + side;
		const pushes = Math.min(kept, this.straight[place]);
		const ends = this.ends.subarray(kept * place, kept * place + pushes);
		const farthest = ends.reduce((most, end) => Math.max(most, end), 0);
		const nearest = ends.filter(end => end >= farthest - near);
		const share = near / Math.max(near, farthest - pushShare);
		return {pushes, alike: nearest.length, chance: binomialTail(pushes - 1, nearest.length - 1, share)};
	}

	forget(axis: number): void {
		for (const place of [2 * axis, 2 * axis + 1]) {
			this.farthest[place] = Number.NaN;
			this.count[place] = 0;
			this.straight[place] = 0;
			this.frames[place] = 0;
			this.provenAt[place] = Number.NaN;
		}
		this.isOut[axis] = 0;
		this.returns[axis] = 0;
	}

	private follow(place: number, run: StickRun, i: number): void {
		const axis = place >> 1;
		const t = run.times[i];
		const way = place % 2 === 0 ? -run.ways[axis][i] : run.ways[axis][i];
		const noise = run.noises[axis];
		if (!(way > Math.max(pushShare, pushNoises * noise))) {
			if (this.frames[place] > 0) this.finish(place, t);
			return;
		}
		if (this.frames[place]++ === 0) {
			this.from[place] = t;
			this.end[place] = 0;
			this.tangent[place] = Number.POSITIVE_INFINITY;
		}
		const tangent = Math.abs(run.ways[1 - axis][i]) / way;
		// Farther than what was its end so far: what went before was on the way.
		if (way > this.end[place] + endShare) this.tangent[place] = tangent;
		else if (way >= this.end[place] - endShare) this.tangent[place] = Math.min(this.tangent[place], tangent);
		if (way > this.end[place]) {
			this.end[place] = way;
			this.reading[place] = run.readings[axis][i];
		}
		if (!this.lasts(place, t)) return;
		const own = this.reading[place];
		const farthest = this.farthest[place];
		if (Number.isNaN(farthest) || (place % 2 === 0 ? own < farthest : own > farthest)) this.farthest[place] = own;
		if (this.end[place] < Math.max(provenShare, pushNoises * noise)) return;
		this.provenAt[place] = t;
		this.isOut[axis] = 1;
	}

	private lasts(place: number, t: number): boolean {
		return this.frames[place] >= lastsFrames && t - this.from[place] >= lastsSeconds;
	}

	private finish(place: number, t: number): void {
		if (this.lasts(place, t)) {
			this.count[place]++;
			if (this.tangent[place] <= mostTangent)
				this.ends[kept * place + (this.straight[place]++ % kept)] = this.end[place];
		}
		this.frames[place] = 0;
	}
}
