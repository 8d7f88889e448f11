import {StateBlock} from '../state-block.ts';

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
	/** Seconds per unit of the clock. */
	private readonly unit: Float64Array;
	private readonly run: Float64Array;
	private readonly last: Float64Array;
	private readonly odd: Float64Array;
	private readonly offset: Float64Array;
	/** A value far ahead that the next one has to confirm. */
	private readonly leapt: Float64Array;
	/** The latest step forward, in the clock's unit. */
	private readonly step: Float64Array;

	constructor(unitSeconds: number, state = new StateBlock()) {
		this.unit = state.floats(1, unitSeconds);
		this.run = state.floats(1);
		this.last = state.floats(1, Number.NaN);
		this.odd = state.floats(1, Number.NaN);
		this.offset = state.floats(1);
		this.leapt = state.floats(1, Number.NaN);
		this.step = state.floats(1);
	}

	/** The board's time in seconds, unwrapped. */
	get seconds(): number {
		return this.run[0];
	}

	/** The clock of another layout: seconds per unit. */
	setUnit(seconds: number): void {
		this.unit[0] = seconds;
	}

	/**
	 * Takes the next value. `restart`: the clock fell back to near zero one frame ago and runs on from there. `odd`: the
	 * value does not follow, `seconds` is left as it was; the next one tells.
	 */
	take(value: number): 'runs' | 'odd' | 'restart' {
		if (!Number.isFinite(value)) return 'odd';
		if (!Number.isNaN(this.odd[0])) {
			const on = value - this.odd[0];
			// Neither before nor after fits: the number between was damaged, and this one is judged afresh.
			const nearZero = this.odd[0] * this.unit[0] < nearZeroSeconds || this.odd[0] < fallenShare * this.last[0];
			const follows = on * this.unit[0] <= confirmSeconds || on <= confirmSteps * this.step[0];
			const restarted = on > 0 && follows && nearZero;
			this.odd[0] = Number.NaN;
			if (restarted) {
				this.offset[0] += this.last[0];
				this.set(value);
				return 'restart';
			}
		}
		// Two numbers run together make a leap that the next one does not confirm.
		if (
			this.step[0] > 0 &&
			value - this.last[0] > leapSteps * this.step[0] &&
			value - this.last[0] > confirmSeconds / this.unit[0]
		) {
			// No number where none leapt before, which confirms nothing.
			const on = value - this.leapt[0];
			if (!(on > 0 && on <= confirmSteps * this.step[0])) {
				this.leapt[0] = value;
				return 'odd';
			}
		}
		this.leapt[0] = Number.NaN;
		if (value < this.last[0]) {
			const wrap = wrapBetween(this.last[0], value);
			if (wrap === 0) {
				this.odd[0] = value;
				return 'odd';
			}
			this.offset[0] += wrap;
		}
		this.set(value);
		return 'runs';
	}

	private set(value: number): void {
		if (value > this.last[0] && !(value - this.last[0] > leapSteps * this.step[0] && this.step[0] > 0))
			this.step[0] = value - this.last[0];
		this.last[0] = value;
		this.run[0] = (this.offset[0] + value) * this.unit[0];
	}
}

/** By how much a counter of 16 or 32 bits wrapped where it fell from `last` to `value`; 0 where it did not. */
function wrapBetween(last: number, value: number): number {
	for (const modulus of [2 ** 16, 2 ** 32])
		if (last < modulus && last > 0.95 * modulus && value < 0.05 * modulus) return modulus;
	return 0;
}
