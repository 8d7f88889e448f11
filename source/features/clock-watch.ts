/** A clock that falls back to less than this has started again. */
const nearZeroSeconds = 10;

/** After a fall the clock runs on from there: the next value is at most this far on. */
const confirmSeconds = 1;

/** The same where the unit is not sure: so many of the clock's usual steps, and a fall to less than this share. */
const confirmSteps = 50;
const fallenShare = 0.25;

/** A leap forward by more steps than this (and by more than a second) is confirmed by the next value or forgotten. */
const leapSteps = 200;

/** Follows the board's own clock: unwraps 16- and 32-bit counters, and tells when it began anew. */
export class ClockWatch {
	/** The board's time in seconds, unwrapped. */
	seconds = 0;
	private last = Number.NaN;
	private odd = Number.NaN;
	private offset = 0;
	/** A value far ahead that the next one has to confirm. */
	private leapt = Number.NaN;
	/** The latest step forward, in the clock's unit. */
	private step = 0;

	constructor(private readonly unitSeconds: number) {}

	/**
	 * Takes the next value. `restart`: the clock fell back to near zero one frame ago and runs on from there. `odd`: the
	 * value does not follow, `seconds` is left as it was; the next one tells.
	 */
	take(value: number): 'runs' | 'odd' | 'restart' {
		if (!Number.isFinite(value)) return 'odd';
		if (!Number.isNaN(this.odd)) {
			const on = value - this.odd;
			// Neither before nor after fits: the number between was damaged, and this one is judged afresh.
			const nearZero = this.odd * this.unitSeconds < nearZeroSeconds || this.odd < fallenShare * this.last;
			const follows = on * this.unitSeconds <= confirmSeconds || on <= confirmSteps * this.step;
			const restarted = on > 0 && follows && nearZero;
			this.odd = Number.NaN;
			if (restarted) {
				this.offset += this.last;
				this.set(value);
				return 'restart';
			}
		}
		// Two numbers run together make a leap that the next one does not confirm.
		if (
			this.step > 0 &&
			value - this.last > leapSteps * this.step &&
			value - this.last > confirmSeconds / this.unitSeconds
		) {
			if (Number.isNaN(this.leapt)) {
				this.leapt = value;
				return 'odd';
			}
			const on = value - this.leapt;
			if (!(on > 0 && on <= confirmSteps * this.step)) {
				this.leapt = value;
				return 'odd';
			}
		}
		this.leapt = Number.NaN;
		if (value < this.last) {
			const wrap = [2 ** 16, 2 ** 32].find(
				modulus => this.last < modulus && this.last > 0.95 * modulus && value < 0.05 * modulus,
			);
			if (wrap === undefined) {
				this.odd = value;
				return 'odd';
			}
			this.offset += wrap;
		}
		this.set(value);
		return 'runs';
	}

	private set(value: number): void {
		if (value > this.last && !(value - this.last > leapSteps * this.step && this.step > 0))
			this.step = value - this.last;
		this.last = value;
		this.seconds = (this.offset + value) * this.unitSeconds;
	}
}
