import type {Scale} from './scale.ts';
import type {StateBlock} from './state-block.ts';
import {StillLevels} from './still-levels.ts';

/** Releases kept. */
const kept = 64;

/** The middle quarter of full scale: this far to either side of mid-scale (check-values D5.4, stick-no-return). */
const middleShare = 0.125;

/**
 * A level this far off mid-scale is 80 % of half scale, which a sound stick reaches: it may be held against its stop
 * there. It is no rest where the axis has also lain in the middle quarter for so long.
 */
const atStopShare = 0.4;
const middleSeconds = 0.5;

/** Releases of a sound stick lie this near to each other (the must not of stick-no-return), as a share of full scale. */
const nearShare = 0.02;

/** Mid-scale and how far the middle quarter reaches to either side, counts; used within one block only. */
const middleQuarter = new Float64Array(2);

/** Where a stick rests: the level at which each axis lies still, and the places to which it comes back when it is let go. */
export class StickRest {
	/** Releases so far; the last `kept` are held. */
	private readonly count: Int32Array;
	/** When each began, seconds, and the lowest and highest level at which it has lain still until the next push, per axis. */
	private readonly at: Float64Array;
	private readonly low: Float64Array;
	private readonly high: Float64Array;
	private readonly levels: StillLevels;
	/** 1 once the stick has been outside the middle quarter since its last release. */
	private readonly wasOut: Uint8Array;
	/** Frames in a row inside the middle quarter on both axes. */
	private readonly inside: Int32Array;
	/** When an axis first lay still, seconds. */
	private readonly stillFrom: Float64Array;
	/** The rest point of each axis as last worked out, counts, NaN without one; by which middle of the scale, NaN where it is out of date. */
	private readonly points: Float64Array;
	private readonly pointsBy: Float64Array;

	/** `first`: analog place of an axis; both share a scale. */
	constructor(
		private readonly scale: Scale,
		private readonly first: number,
		state: StateBlock,
	) {
		this.count = state.ints(1);
		this.at = state.floats(kept);
		this.low = state.floats(2 * kept);
		this.high = state.floats(2 * kept);
		this.levels = new StillLevels(2, state);
		this.wasOut = state.bytes(1);
		this.inside = state.ints(1);
		this.stillFrom = state.floats(2, Number.NaN);
		this.points = state.floats(2, Number.NaN);
		this.pointsBy = state.floats(2, Number.NaN);
	}

	/** An axis (0 or 1) has lain still for `seconds` more, at place `i` of these levels, counts, and times, seconds. */
	takeStill(axis: number, levels: Float64Array, times: Float64Array, i: number, seconds: number): void {
		const {scale} = this;
		const level = levels[i];
		if (Number.isNaN(this.stillFrom[axis])) this.stillFrom[axis] = times[i];
		this.levels.add(axis, level, (level - scale.lowOf(this.first)) / scale.fullScale, seconds);
		this.pointsBy[axis] = Number.NaN;
	}

	/** To be called before the frames of a block are taken. */
	begin(): void {
		middleQuarter[0] = this.scale.middleOf(this.first);
		middleQuarter[1] = middleShare * this.scale.fullScale;
	}

	/**
	 * Takes the frame at place `i` of both axes' readings; `still` where both have lain still for its last `frames` frames, at
	 * these `means`, counts. Numbers come in arrays, since those that cross a call are allocated.
	 */
	takeFrame(
		readings: readonly [Float64Array, Float64Array],
		means: readonly [Float64Array, Float64Array],
		times: Float64Array,
		i: number,
		still: boolean,
		frames: number,
	): void {
		if (
			Math.abs(readings[0][i] - middleQuarter[0]) > middleQuarter[1] ||
			Math.abs(readings[1][i] - middleQuarter[0]) > middleQuarter[1]
		) {
			this.wasOut[0] = 1;
			this.inside[0] = 0;
			return;
		}
		this.inside[0]++;
		if (!still || this.inside[0] < frames) return;
		const x = means[0][i];
		const y = means[1][i];
		const t = times[i];
		if (this.wasOut[0] === 1) {
			this.wasOut[0] = 0;
			const place = this.count[0]++ % kept;
			this.at[place] = t;
			for (const axis of [0, 1]) {
				this.low[2 * place + axis] = axis === 0 ? x : y;
				this.high[2 * place + axis] = axis === 0 ? x : y;
			}
		} else if (this.count[0] > 0) {
			const place = (this.count[0] - 1) % kept;
			this.widen(2 * place, x);
			this.widen(2 * place + 1, y);
		}
	}

	/** Releases so far in this epoch. */
	get releases(): number {
		return this.count[0];
	}

	/** Seconds for which an axis has lain still near its rest point, of late ones where there are many. */
	seconds(axis: number): number {
		const point = this.point(axis);
		if (point === undefined) return 0;
		const share = (point - this.scale.lowOf(this.first)) / this.scale.fullScale;
		return this.levels.secondsWithin(axis, share - nearShare, share + nearShare);
	}

	/** When an axis first lay still, seconds; NaN before. */
	from(axis: number): number {
		return this.stillFrom[axis];
	}

	/** Level at which an axis lies still for most of the time, counts; undefined before it has. */
	point(axis: number): number | undefined {
		const {scale, points, pointsBy} = this;
		const middle = scale.middleOf(this.first);
		if (pointsBy[axis] !== middle) {
			points[axis] = this.pointOf(axis) ?? Number.NaN;
			pointsBy[axis] = middle;
		}
		return Number.isNaN(points[axis]) ? undefined : points[axis];
	}

	private pointOf(axis: number): number | undefined {
		const {scale} = this;
		const level = this.levels.median(axis);
		if (level === undefined || Math.abs(level - scale.middleOf(this.first)) < atStopShare * scale.fullScale)
			return level;
		const from = 0.5 - middleShare;
		const to = 0.5 + middleShare;
		return this.levels.secondsWithin(axis, from, to) >= middleSeconds ? this.levels.median(axis, from, to) : level;
	}

	/**
	 * Where an axis came to rest at each of the last releases, at most `most` of them, oldest first, counts. Of a release
	 * in which it lay still at several places (a light push that was held) the place nearest to the rest point counts.
	 */
	places(axis: number, most = kept): number[] {
		const point = this.point(axis);
		if (point === undefined) return [];
		const places: number[] = [];
		for (let number = Math.max(0, this.count[0] - Math.min(most, kept)); number < this.count[0]; number++) {
			const place = 2 * (number % kept) + axis;
			places.push(Math.max(this.low[place], Math.min(this.high[place], point)));
		}
		return places;
	}

	/** How far apart these places lie, counts; undefined without any. Asked four times a second. */
	scatter(axis: number, most: number): number | undefined {
		const point = this.point(axis);
		const first = Math.max(0, this.count[0] - Math.min(most, kept));
		if (point === undefined || first === this.count[0]) return undefined;
		let lowest = Number.POSITIVE_INFINITY;
		let highest = Number.NEGATIVE_INFINITY;
		for (let number = first; number < this.count[0]; number++) {
			const place = 2 * (number % kept) + axis;
			const level = Math.max(this.low[place], Math.min(this.high[place], point));
			lowest = Math.min(lowest, level);
			highest = Math.max(highest, level);
		}
		return highest - lowest;
	}

	/** When the oldest of the last `most` releases began, seconds; NaN without any. */
	placesFrom(most = kept): number {
		if (this.count[0] === 0) return Number.NaN;
		return this.at[Math.max(0, this.count[0] - Math.min(most, kept)) % kept];
	}

	forget(): void {
		this.count[0] = 0;
		this.wasOut[0] = 0;
		this.inside[0] = 0;
		this.stillFrom.fill(Number.NaN);
		this.pointsBy.fill(Number.NaN);
		this.levels.forget(0);
		this.levels.forget(1);
	}

	private widen(place: number, level: number): void {
		if (level < this.low[place]) this.low[place] = level;
		if (level > this.high[place]) this.high[place] = level;
	}
}
