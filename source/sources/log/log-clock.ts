import type {StampShape} from './log-shape.ts';

const daySeconds = 86_400;

/** A host's clock that falls by up to this much is being set right, or lines are out of order; beyond it, it began anew. */
const smallFallSeconds = 2;

/** A pause of so long is the end of a session (design: 10 minutes). */
const sessionGapSeconds = 600;

/** Nobody pauses for a year within one file: a stamp so far ahead is a damaged one. */
const longestPauseSeconds = 366 * daySeconds;

/** A board that starts again counts from near zero; where its clock falls to more than this, another log begins. */
const restartedBelowSeconds = 5;

/** Turns the stamps of a log into seconds from the first one that never fall. */
export class LogClock {
	readonly #shape: StampShape;
	/** A step of a board's clock beyond this, either way, must be confirmed by the next line: damaged digits look like one. */
	readonly #jumpSeconds: number;
	/** A board's 32-bit counter starts again after 2³² (71 minutes of microseconds). */
	readonly #counterSeconds: number;
	#first = Number.NaN;
	#offset = 0;
	#steady = 0;
	#suspect = Number.NaN;
	#given = 0;
	#lastCoarse = Number.NaN;
	/** Why the line that was read last begins another session; undefined where it goes on. */
	sessionEnds: string | undefined;

	constructor(shape: StampShape) {
		this.#shape = shape;
		this.#jumpSeconds = Math.max(0.5, 20 * shape.meanIntervalSeconds);
		this.#counterSeconds = 2 ** 32 / shape.divisor;
	}

	/** Seconds of the last line, for lines without a stamp. */
	get now(): number {
		return this.#given;
	}

	/** Seconds for a line with this stamp, in the stamp's unit. Whole microseconds. */
	at(stamp: number): number {
		if (Number.isNaN(this.#first)) this.#first = stamp;
		const {foreign, wrapsAtMidnight, coarseSeconds, divisor} = this.#shape;
		let t = (stamp - this.#first) / divisor + this.#offset;
		const last = this.#steady;
		if (wrapsAtMidnight && t < last - daySeconds / 2) {
			this.#offset += daySeconds;
			t += daySeconds;
		}

		this.sessionEnds = undefined;
		t = foreign || wrapsAtMidnight ? this.#byHost(t) : this.#byBoard(t, stamp / divisor);
		if (t > last || this.#steady === 0) this.#steady = t;
		if (t !== last) this.#suspect = Number.NaN;
		return this.#give(coarseSeconds > 0 ? this.#spread(t) : t);
	}

	/** A host's clock: it is set right now and then, and falls far only where another session begins. */
	#byHost(t: number): number {
		const last = this.#steady;
		const step = t - last;
		if (step >= 0) {
			if (step < longestPauseSeconds) this.#notePause(step);
			return t;
		}

		if (step < -smallFallSeconds) {
			this.#offset -= step;
			this.sessionEnds = 'the times go back';
		}

		return last;
	}

	/** A board's own clock, of which `ownSeconds` are shown: it starts again with the board, and damaged digits look like jumps. */
	#byBoard(t: number, ownSeconds: number): number {
		const last = this.#steady;
		const step = t - last;
		if (step >= 0 && step <= this.#jumpSeconds) return t;
		const wrapped = t + this.#counterSeconds;
		if (step < 0 && wrapped - last < this.#jumpSeconds && wrapped >= last) {
			this.#offset += this.#counterSeconds;
			return wrapped;
		}

		const isConfirmed = t >= this.#suspect && t - this.#suspect <= this.#jumpSeconds;
		if (isConfirmed && step < -this.#jumpSeconds) {
			// The board started again: its clock goes on from where the stream is.
			const restarted = last + this.#shape.meanIntervalSeconds;
			if (ownSeconds > restartedBelowSeconds) this.sessionEnds = "the board's times go back";
			this.#offset += restarted - t;
			return restarted;
		}

		if (isConfirmed && step > 0) {
			this.#notePause(step);
			return t;
		}

		this.#suspect = t;
		return last;
	}

	#notePause(seconds: number): void {
		if (seconds >= sessionGapSeconds) this.sessionEnds = `a pause of ${Math.round(seconds / 60)} min`;
	}

	/** Several lines share a coarse stamp: they follow each other at the mean interval, up to the next stamp. */
	#spread(t: number): number {
		const {coarseSeconds, meanIntervalSeconds} = this.#shape;
		const fresh = t !== this.#lastCoarse;
		this.#lastCoarse = t;
		return fresh ? t : Math.min(this.#given + meanIntervalSeconds, t + coarseSeconds);
	}

	#give(t: number): number {
		this.#given = Math.max(this.#given, Math.round(t * 1e6) / 1e6);
		return this.#given;
	}
}
