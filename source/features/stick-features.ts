import type {AnalogFeatures} from './analog-features.ts';
import type {Features, Watch} from './features.ts';
import {FrameHistory, frameMask} from './frame-history.ts';
import type {Scale} from './scale.ts';
import {slidingRange} from './sliding-range.ts';
import type {StateBlock} from './state-block.ts';
import {type Alike, type Side, StickPushes} from './stick-pushes.ts';
import {StickRest} from './stick-rest.ts';
import {StickTurns} from './stick-turns.ts';

/** A stick lies still where its readings stay for so long within this share of full scale, or so many rest noises (§5.4). */
const stillSeconds = 0.2;
const stillShare = 0.006;
const stillNoises = 6;

/** Of an axis noisier than this share of full scale, rms, nobody can tell whether it lies still: that is excess-noise. */
const noisyShare = 0.015;

/** A rest point this far from the one in force, as a share of half scale, makes another thing of every push before it. */
const otherRestShare = 0.22;

/** Both axes of a stick rest this near to the middle of the scale it is read by, unless something is wrong (stick-off-centre). */
const centredShare = 0.06;

/** Nearer to mid-scale than this share of half scale a direction means nothing. */
const directedShare = 0.3;

/** Used within one call of `close` only: the frames of a block with both readings, those just before it in front. */
const times = new Float64Array(FrameHistory.capacity);
const readings = [new Float64Array(FrameHistory.capacity), new Float64Array(FrameHistory.capacity)] as const;
const ranges = [new Float64Array(FrameHistory.capacity), new Float64Array(FrameHistory.capacity)] as const;
const means = [new Float64Array(FrameHistory.capacity), new Float64Array(FrameHistory.capacity)] as const;
const middles = [new Float64Array(FrameHistory.capacity), new Float64Array(FrameHistory.capacity)] as const;
const ways = [new Float64Array(FrameHistory.capacity), new Float64Array(FrameHistory.capacity)] as const;
const offMiddles = [new Float64Array(FrameHistory.capacity), new Float64Array(FrameHistory.capacity)] as const;
const run = {readings: middles, ways, times, noises: new Float64Array(2)};
const axes = [0, 1] as const;
/** Likewise: rest noise of both axes, counts. */
const ownNoise = new Float64Array(2);

/** The stick: where it rests, how far each side reaches, how often it was pushed, let go and turned around. */
export class StickFeatures implements Watch {
	/** Places of the axes among the analog channels. */
	readonly x: number;
	readonly y: number;
	/** Either place alone. */
	readonly onlyX: readonly number[];
	readonly onlyY: readonly number[];
	/** Farthest reach from mid-scale in eight directions, share of half scale: right, then every 45° counter-clockwise. */
	readonly reach: Float64Array;
	private readonly rest: StickRest;
	private readonly pushes: StickPushes;
	private readonly turning: StickTurns;
	/** Rest points that pushes are measured from, counts; NaN before a rest. */
	private readonly point: Float64Array;
	/** The low rail that positions were taken by: signed readings show late. */
	private readonly railLow: Float64Array;

	constructor(
		x: number,
		y: number,
		private readonly scale: Scale,
		state: StateBlock,
	) {
		this.x = x;
		this.y = y;
		this.onlyX = [x];
		this.onlyY = [y];
		this.reach = state.floats(8);
		this.rest = new StickRest(scale, x, state);
		this.pushes = new StickPushes(state);
		this.turning = new StickTurns(state);
		this.point = state.floats(2, Number.NaN);
		this.railLow = state.floats(1);
	}

	close(features: Features): void {
		const {analog} = features;
		if (this.railLow[0] !== this.scale.lowOf(this.x)) {
			this.forget(this.x);
			this.railLow[0] = this.scale.lowOf(this.x);
		}
		const {rows} = analog;
		const newest = rows.slot(rows.count - 1);
		const rate = features.framesPerSecond ?? rows.frames[newest] / (rows.end[newest] - rows.start[newest]);
		const frames = Math.min(FrameHistory.capacity / 2, Math.max(2, Math.floor(stillSeconds * rate + 1e-6)));
		const from = Math.max(features.epochFrame, features.history.oldest, rows.firstFrame[newest] - frames + 1);
		const seconds = 1 / rate;
		const first = this.gather(features, from, rows.firstFrame[newest], 0);
		const count = this.gather(features, rows.firstFrame[newest], features.history.count, first);
		ownNoise[0] = analog.noise.of(this.x);
		ownNoise[1] = analog.noise.of(this.y);
		for (const axis of axes) {
			slidingRange(readings[axis], count, frames, ranges[axis], means[axis]);
			this.measureWays(axis, first, count);
		}
		this.rest.begin();
		for (let i = first; i < count; i++) this.takeFrame(i, frames, seconds);
		this.settleRest();
	}

	/** Begins a new epoch of an axis; what both axes show together is forgotten with either. */
	forget(a: number): void {
		if (a !== this.x && a !== this.y) return;
		this.reach.fill(0);
		this.point.fill(Number.NaN);
		this.rest.forget();
		this.turning.forget();
		for (const axis of [0, 1]) this.pushes.forget(axis);
	}

	/** Where an axis rests, counts: the level at which it lies still for most of the time; undefined before it has. */
	restPoint(axis: 'x' | 'y'): number | undefined {
		return this.rest.point(axis === 'x' ? 0 : 1);
	}

	/** Rest positions that look like releases: within `reachCounts` of the rest point on both axes, oldest first, counts. */
	releases(axis: 'x' | 'y', reachCounts: number): number[] {
		const point = [0, 1].map(one => this.rest.point(one) ?? Number.NaN);
		const places = [0, 1].map(one => this.rest.places(one));
		const own = axis === 'x' ? 0 : 1;
		return places[own].filter((_, i) => [0, 1].every(one => Math.abs(places[one][i] - point[one]) <= reachCounts));
	}

	/** Releases so far. */
	get releaseCount(): number {
		return this.rest.releases;
	}

	/** How far apart the places lie at which the axis at place `a` came to rest at its last `most` releases, counts; undefined without any. */
	scatter(a: number, most: number): number | undefined {
		return this.rest.scatter(this.axisOf(a), most);
	}

	/** When the oldest of the last `most` releases began, seconds. */
	releasesFrom(most: number): number {
		return this.rest.placesFrom(most);
	}

	/** Seconds for which the axis has lain still near its rest point. */
	restSeconds(a: number): number {
		return this.rest.seconds(this.axisOf(a));
	}

	/** When the axis first lay still, seconds; NaN before. */
	restFrom(a: number): number {
		return this.rest.from(this.axisOf(a));
	}

	/**
	 * How far off mid-scale the axis rests, signed, in counts; undefined before it has. Where the readings allow other
	 * scales, and by one of them both axes rest near its middle, it is by that one.
	 */
	offMiddle(a: number): number | undefined {
		const {scale} = this;
		const axis = this.axisOf(a);
		const own = this.rest.point(axis);
		const other = this.rest.point(1 - axis);
		if (own === undefined) return undefined;
		const low = scale.lowOf(a);
		let by = scale.fullScale;
		for (const fullScale of scale.plausible) {
			const isCentred =
				other !== undefined &&
				Math.abs((own - low) / fullScale - 0.5) <= centredShare &&
				Math.abs((other - low) / fullScale - 0.5) <= centredShare;
			if (!isCentred) continue;
			by = fullScale;
			break;
		}
		return ((own - low) / by - 0.5) * scale.fullScale;
	}

	/** Pushes of the axis to either side. */
	pushCount(a: number): number {
		const first = 2 * this.axisOf(a);
		return this.pushes.count[first] + this.pushes.count[first + 1];
	}

	/** Pushes straight to a side of the axis (0: low readings, 1: high ones), and how many of them end like the farthest. */
	straightPushes(a: number, side: Side, near: number): Alike {
		return this.pushes.alike(this.axisOf(a), side, near);
	}

	/** How far the axis has been pushed to a side, from its rest point or from mid-scale, whichever is more; share of half scale. */
	reachTo(a: number, side: Side, {spans}: AnalogFeatures): number {
		const axis = this.axisOf(a);
		const {scale} = this;
		const pushed = this.pushes.farthest[2 * axis + side];
		const farthest = Number.isNaN(pushed) ? (side === 0 ? spans.low[a] : spans.high[a]) : pushed;
		const point = this.rest.point(axis) ?? scale.middleOf(a);
		const sign = side === 0 ? -1 : 1;
		const way = Math.max(0, sign * (farthest - point), sign * (farthest - scale.middleOf(a)));
		return way / (scale.fullScale / 2);
	}

	/** Turns all the way round so far, either way. */
	get turns(): number {
		return this.turning.count;
	}

	/** Of what proves an axis, how much was seen, 0 to 4: two sides, and back to rest twice. `a` is its analog place. */
	towardsProof(a: number): number {
		return this.pushes.towardsProof(this.axisOf(a));
	}

	/** Whether an axis has been proven (check-values D2): both sides pushed, and back to rest twice. `a` is its analog place. */
	isProven(a: number): boolean {
		return this.pushes.isProven(this.axisOf(a));
	}

	/** Likewise by what it did at or after a time, seconds. */
	provenSince(a: number, since: number): boolean {
		return this.pushes.isProven(this.axisOf(a), since);
	}

	private axisOf(a: number): 0 | 1 {
		return a === this.x ? 0 : 1;
	}

	/** Puts the frames `from` to `to` in which both axes have a reading behind the first `held`; how many there are then. */
	private gather({analog, history}: Features, from: number, to: number, held: number): number {
		const xs = history.columns[analog.columns[this.x]];
		const ys = history.columns[analog.columns[this.y]];
		let count = held;
		for (let frame = Math.max(from, history.oldest); frame < to && count < times.length; frame++) {
			const slot = frame & frameMask;
			if (Number.isNaN(xs[slot] + ys[slot])) continue;
			times[count] = history.times[slot];
			readings[0][count] = xs[slot];
			readings[1][count] = ys[slot];
			count++;
		}
		return count;
	}

	private takeFrame(i: number, frames: number, seconds: number): void {
		const isStillX = this.takeStill(0, i, seconds);
		const isStillY = this.takeStill(1, i, seconds);
		const still = isStillX && isStillY;
		if (still) this.turning.rest();
		this.rest.takeFrame(readings, means, times, i, still, frames);
		if (i < 2) return;
		this.widenReach(i);
		if (Number.isNaN(this.point[0] + this.point[1])) return;
		this.pushes.take(0, run, i);
		this.pushes.take(1, run, i);
		this.turning.take(ways, i);
	}

	/** The median of three readings of an axis (a lone glitch is no reach), and how far that is from the rest point and from mid-scale. */
	private measureWays(axis: 0 | 1, from: number, to: number): void {
		const half = this.scale.fullScale / 2;
		const middle = this.scale.middleOf(this.x);
		const own = readings[axis];
		const point = this.point[axis];
		run.noises[axis] = ownNoise[axis] / half;
		for (let i = Math.max(2, from); i < to; i++) {
			const a = own[i - 2];
			const b = own[i - 1];
			middles[axis][i] = Math.max(Math.min(a, b), Math.min(Math.max(a, b), own[i]));
			ways[axis][i] = (middles[axis][i] - point) / half;
			offMiddles[axis][i] = (middles[axis][i] - middle) / half;
		}
	}

	/**
	 * Whether an axis has lain still up to frame `i` of the block; takes that in, as `seconds` more.
	 */
	private takeStill(axis: 0 | 1, i: number, seconds: number): boolean {
		const {fullScale} = this.scale;
		const noise = ownNoise[axis];
		if (noise >= noisyShare * fullScale) return false;
		if (!(ranges[axis][i] <= Math.max(stillShare * fullScale, stillNoises * noise))) return false;
		this.rest.takeStill(axis, means[axis], times, i, seconds);
		if (!Number.isNaN(this.point[axis]) && this.pushes.isAway(axis))
			this.pushes.takeStill(axis, (means[axis][i] - this.point[axis]) / (fullScale / 2), times[i]);
		return true;
	}

	/** Takes how far out, from mid-scale, the stick is at frame `i`. */
	private widenReach(i: number): void {
		const x = offMiddles[0][i];
		const y = offMiddles[1][i];
		// The hypotenuse is at most √2 times the longer side.
		if (1.5 * Math.max(Math.abs(x), Math.abs(y)) < directedShare) return;
		const square = x * x + y * y;
		if (square < directedShare * directedShare) return;
		// The eighth of the circle it points into.
		const eighth = (Math.round(Math.atan2(y, x) / (Math.PI / 4)) + 8) % 8;
		if (square > this.reach[eighth] ** 2) this.reach[eighth] = Math.max(this.reach[eighth], Math.hypot(x, y));
	}

	private settleRest(): void {
		const {scale} = this;
		for (const axis of axes) {
			const point = this.rest.point(axis);
			if (point === undefined) continue;
			if (Math.abs(point - this.point[axis]) > (otherRestShare * scale.fullScale) / 2) {
				this.pushes.forget(axis);
				this.turning.forget();
			}
			this.point[axis] = point;
		}
	}
}
