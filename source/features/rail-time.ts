import type {Features, Watch} from './features.ts';
import {frameMask} from './frame-history.ts';
import type {StateBlock} from './state-block.ts';

/** The hand moves where half of the other fingers go so far, as shares of their own span and rest noises, in half a second. */
const ofSpan = 0.05;
const noises = 4;
const halfSeconds = 0.25;
const mostFingers = 0.5;

/** At a rail: within this share of full scale. */
const railShare = 0.003;

/** It has left the rail once it is off it by more than a still channel's means differ (check-values D5.4, stuck-*). */
const leftShare = 0.015;

/** Used within one call only: columns of the other fingers, and the way from which each moves, counts. */
const otherColumns = new Int32Array(1024);
const leastWays = new Float64Array(1024);

/** How much of the hand's moving time each finger spends at a rail, where it runs into it before its travel ends. */
export class RailTime implements Watch {
	/** Frames in which the other fingers moved, and of these the ones at the low and at the high rail. */
	readonly moving: Float64Array;
	readonly low: Float64Array;
	readonly high: Float64Array;
	private readonly cursor: Float64Array;
	/** Frames of the stretch at a rail that goes on: they count once it is over, as what stays there is stuck. */
	private readonly pending: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.moving = state.floats(channels);
		this.low = state.floats(channels);
		this.high = state.floats(channels);
		this.cursor = state.floats(channels);
		this.pending = state.floats(channels);
	}

	/** Share of the hand's moving time at a rail, 0…1; 0 before it moved. */
	share(a: number): number {
		return this.moving[a] === 0 ? 0 : (this.low[a] + this.high[a]) / this.moving[a];
	}

	/** Share of the other fingers of its hand that lie at a rail for at least a share of the moving time. */
	besides(features: Features, a: number, least: number): number {
		const others = (features.handAt(a)?.others(a) ?? []).filter(o => this.moving[o] > 0);
		return others.length === 0 ? 0 : others.filter(o => this.share(o) >= least).length / others.length;
	}

	close(features: Features): void {
		const {rows} = features.analog;
		const newest = rows.slot(rows.count - 1);
		const rate = rows.frames[newest] / (rows.end[newest] - rows.start[newest]);
		const half = Math.max(1, Math.round(halfSeconds * rate));
		for (let a = 0; a < this.channels; a++) if (features.isFinger(a)) this.take(features, a, half);
	}

	forget(a: number): void {
		this.moving[a] = 0;
		this.low[a] = 0;
		this.high[a] = 0;
		this.pending[a] = 0;
	}

	private take(features: Features, a: number, half: number): void {
		const {history, analog, scale} = features;
		const {columns} = analog;
		const readings = history.columns[columns[a]];
		const last = history.count - half;
		let frame = Math.max(this.cursor[a], features.epochFrameOf(a) + half, history.oldest + half);
		const {others, known} = takeOthers(features, a, frame - half);
		const needed = Math.max(1, mostFingers * known);
		if (others < needed && this.pending[a] === 0) {
			this.cursor[a] = Math.max(frame, last);
			return;
		}
		const band = railShare * scale.fullScale;
		const lowRail = scale.railLow + band;
		const highRail = scale.railHigh - band;
		const left = leftShare * scale.fullScale;
		const lowLeft = scale.railLow + left;
		const highLeft = scale.railHigh - left;
		for (; frame < last; frame++) {
			const reading = readings[frame & frameMask];
			if (this.pending[a] !== 0 && reading > lowLeft && reading < highLeft) this.settle(a);
			const later = (frame + half) & frameMask;
			const earlier = (frame - half) & frameMask;
			let moving = 0;
			for (let o = 0; o < others; o++) {
				const other = history.columns[otherColumns[o]];
				const way = Math.abs(other[later] - other[earlier]);
				if (way >= leastWays[o]) moving++;
			}
			if (moving < needed) continue;
			this.moving[a]++;
			if (reading <= lowRail) this.pending[a]--;
			else if (reading >= highRail) this.pending[a]++;
		}
		this.cursor[a] = frame;
	}

	/** Frames at the low rail are counted below 0: between the two rails lies the rest of the scale. */
	private settle(a: number): void {
		if (this.pending[a] < 0) this.low[a] -= this.pending[a];
		else this.high[a] += this.pending[a];
		this.pending[a] = 0;
	}
}

/** Puts the other fingers of the hand that may have moved since a frame into `otherColumns` and `leastWays`: how many, and of how many. */
function takeOthers(features: Features, a: number, since: number): {readonly others: number; readonly known: number} {
	const {columns, spans, noise, rows} = features.analog;
	let others = 0;
	let known = 0;
	for (const o of features.handAt(a)?.others(a) ?? []) {
		if (!(spans.of(o) > 0)) continue;
		known++;
		const least = Math.max(ofSpan * spans.of(o), noises * noise.of(o));
		// One that stayed within less did not move.
		if (since >= features.epochFrameOf(o) && rows.rangeSince(since, o) < least) continue;
		otherColumns[others] = columns[o];
		leastWays[others++] = least;
	}
	return {others, known};
}
