import {forEachReading, GlitchFilter} from '../fit/glitch-filter.ts';
import {turnShare} from '../fit/turning.ts';

/** A reading has come to rest once it has kept within the band for this long. */
const settleSeconds = 0.15;
const leastSettleFrames = 4;

/** A pull is on its way back once this share of it is left, or less. */
const backShare = 0.4;

/** Held out and still for this long, it is no pull but a new rest level: the glove was put on. */
const newRestSeconds = 4;

/** A wobble is a way back within this time; slower ones are the hand's. */
const wobbleSeconds = 0.1;

/** One movement away from the rest level and back. Levels in the unit of the readings. */
export type Pull = {
	readonly column: number;
	readonly from: number;
	readonly peakAt: number;
	readonly to: number;
	readonly before: number;
	readonly after: number;
	/** Farthest way from `before`, signed. */
	readonly excursion: number;
	/** Largest quick step back on the way out, or out on the way back. */
	readonly wobble: number;
	/** Short jumps during it. */
	readonly dropouts: number;
};

/**
 * Watches one channel for pulls: away from its rest level by `enter` or more, and back. Short jumps are left out of
 * the levels and counted. Constant time per reading.
 */
export class PullTracker {
	readonly column: number;
	/** How far a reading must leave its rest level to count as pulled, and within what band it is at rest. */
	enter: number;
	band: number;
	private glitches: GlitchFilter;
	private state: 'home' | 'out' | 'back' = 'home';
	private base = Number.NaN;
	private before = 0;
	private sign = 1;
	private from = 0;
	private farthest = 0;
	private farthestAt = 0;
	private nearest = 0;
	private nearestAt = 0;
	private retreat = 0;
	private wobble = 0;
	private dropsBefore = 0;
	private anchor = Number.NaN;
	private anchorAt = 0;
	private anchorSum = 0;
	private anchorFrames = 0;
	private completed: Pull | undefined;
	private mayRest = true;

	constructor(column: number, enter: number, band: number) {
		this.column = column;
		this.enter = enter;
		this.band = band;
		this.glitches = this.newFilter();
	}

	/**
	 * Takes the next reading; answers with the pull that it completes. `mayRest` is false while another channel is
	 * pulled: a neighbour that follows a little and stops there must not be taken for resting.
	 */
	push(t: number, reading: number, fullScale: number, mayRest = true): Pull | undefined {
		this.completed = undefined;
		this.mayRest = mayRest;
		this.glitches.push(t, reading, fullScale);
		return this.completed;
	}

	/** Begins anew, without a rest level. */
	forget(): void {
		this.glitches = this.newFilter();
		this.state = 'home';
		this.base = Number.NaN;
		this.anchor = Number.NaN;
	}

	private newFilter(): GlitchFilter {
		return new GlitchFilter(through => forEachReading(through, (t, reading) => this.follow(t, reading)));
	}

	/** The pull under way, as far as it has gone; undefined at rest. */
	get underWay(): {readonly from: number; readonly excursion: number} | undefined {
		return this.state === 'home' ? undefined : {from: this.from, excursion: this.sign * this.farthest};
	}

	/** The rest level; NaN before the first rest. */
	get rest(): number {
		return this.base;
	}

	/** Seconds for which the reading has kept within its band. */
	stillFor(t: number): number {
		return Number.isNaN(this.anchor) ? 0 : t - this.anchorAt;
	}

	/** Short jumps so far. */
	get dropouts(): number {
		return this.glitches.dropped;
	}

	private follow(t: number, reading: number): void {
		const isSettled = this.settle(t, reading);
		if (Number.isNaN(this.base)) {
			if (isSettled) this.base = this.anchorSum / this.anchorFrames;
			return;
		}

		if (this.state === 'home') this.atHome(t, reading, isSettled);
		else if (this.state === 'out') this.goingOut(t, this.sign * (reading - this.before));
		else this.comingBack(t, this.sign * (reading - this.before), isSettled);
	}

	private settle(t: number, reading: number): boolean {
		if (Number.isNaN(this.anchor) || Math.abs(reading - this.anchor) > this.band) {
			this.anchor = reading;
			this.anchorAt = t;
			this.anchorSum = 0;
			this.anchorFrames = 0;
		}

		this.anchorSum += reading;
		this.anchorFrames++;
		return t - this.anchorAt >= settleSeconds && this.anchorFrames >= leastSettleFrames;
	}

	private atHome(t: number, reading: number, isSettled: boolean): void {
		const away = reading - this.base;
		if (Math.abs(away) >= this.enter) this.start(t, this.base, away < 0 ? -1 : 1, Math.abs(away));
		else if (isSettled && this.mayRest) this.base = this.anchorSum / this.anchorFrames;
	}

	private start(t: number, before: number, sign: number, way: number): void {
		this.state = 'out';
		this.before = before;
		this.sign = sign;
		this.from = t;
		this.farthest = way;
		this.farthestAt = t;
		this.retreat = 0;
		this.wobble = 0;
		this.dropsBefore = this.glitches.dropped;
	}

	private goingOut(t: number, way: number): void {
		if (way > this.farthest) {
			if (t - this.farthestAt <= wobbleSeconds) this.wobble = Math.max(this.wobble, this.retreat);
			this.farthest = way;
			this.farthestAt = t;
			this.retreat = 0;
		} else this.retreat = Math.max(this.retreat, this.farthest - way);
		if (way <= backShare * this.farthest) {
			this.state = 'back';
			this.nearest = way;
			this.nearestAt = t;
			this.retreat = 0;
			this.crossed(t, way);
		} else if (this.stillFor(t) >= newRestSeconds) {
			this.state = 'home';
			this.base = this.anchorSum / this.anchorFrames;
		}
	}

	private comingBack(t: number, way: number, isSettled: boolean): void {
		if (way < this.nearest) {
			if (t - this.nearestAt <= wobbleSeconds) this.wobble = Math.max(this.wobble, this.retreat);
			this.nearest = way;
			this.nearestAt = t;
			this.retreat = 0;
		} else this.retreat = Math.max(this.retreat, way - this.nearest);
		if (this.crossed(t, way)) return;
		if (isSettled) {
			const after = this.anchorSum / this.anchorFrames;
			this.complete(t, after);
			this.state = 'home';
			this.base = this.mayRest ? after : this.before;
		} else if (way >= this.nearest + Math.max(this.enter, turnShare * this.farthest)) {
			// Pulled again before it came to rest.
			const after = this.before + this.sign * this.nearest;
			this.complete(this.nearestAt, after);
			this.start(t, after, this.sign, way - this.nearest);
		}
	}

	/** Through the rest level to the other side without a stop there: a stick pushed from side to side. */
	private crossed(t: number, way: number): boolean {
		if (way > -this.enter) return false;
		this.complete(t, this.before);
		this.start(t, this.before, -this.sign, -way);
		return true;
	}

	private complete(to: number, after: number): void {
		this.completed = {
			column: this.column,
			from: this.from,
			peakAt: this.farthestAt,
			to,
			before: this.before,
			after,
			excursion: this.sign * this.farthest,
			wobble: this.wobble,
			dropouts: this.glitches.dropped - this.dropsBefore,
		};
	}
}
