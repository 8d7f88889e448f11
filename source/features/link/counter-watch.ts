import {StateBlock} from '../state-block.ts';
import {type Arrival, counterNow, pauseBefore} from './arrivals.ts';

/** Where counters of the usual widths go back to 0; others are learnt when they wrap. */
const usualModuli = [100, 128, 256, 1000, 1024, 4096, 10_000, 32_768, 65_536, 100_000, 1_000_000, 2 ** 31, 2 ** 32];

/** Frames lost at a wrap that are still believed: more than that is a restart. */
const wrapReach = 40;

/** Nominal intervals that pass at the least while a board starts again. */
const restartPause = 4;

/** A counter that fell back counts on from there: the next value is at most this far on. */
const confirmReach = 8;

/** A counter that stands lower than this after a fall has started again: two seconds of frames at 100 a second. */
const nearZero = 200;

/** A leap beyond this is a damaged number, not thousands of lost frames. */
const longestSkip = 1000;

/** Where no times tell whether the board paused: a fall from in front of a number this round to 0 or 1 is a wrap. */
const roundNumber = 10;

type CounterStep =
	/** `lost` frames are missing before this one; 0 is the ordinary case. */
	| {readonly kind: 'step'; readonly lost: number}
	/** The counter fell back to near zero where no counter wraps, one frame ago, and counts on from there. */
	| {readonly kind: 'restart'};

const noLoss: CounterStep = {kind: 'step', lost: 0};

/** Follows a frame counter: skips, wraps of any usual width, and falls back to zero. */
export class CounterWatch {
	private readonly last: Float64Array;
	/** A value that did not follow: either damaged, or the first after a restart. */
	private readonly odd: Float64Array;
	private readonly oddPause: Float64Array;
	private readonly modulus: Float64Array;

	constructor(state = new StateBlock()) {
		this.last = state.floats(1, Number.NaN);
		this.odd = state.floats(1, Number.NaN);
		this.oddPause = state.floats(1);
		this.modulus = state.floats(1);
	}

	/** Takes the counter of the next frame; the pause before it is Infinity where it is unknown. */
	take(frame: Arrival): CounterStep {
		const value = frame[counterNow];
		const pause = frame[pauseBefore];
		if (!Number.isFinite(value)) return noLoss;
		const last = this.last[0];
		if (Number.isNaN(last)) {
			this.last[0] = value;
			return noLoss;
		}
		if (!Number.isNaN(this.odd[0])) return this.resolve(value);
		const step = value - last;
		if (step === 0) return noLoss;
		if (step >= 1 && step <= longestSkip) {
			this.last[0] = value;
			return step === 1 ? noLoss : {kind: 'step', lost: step - 1};
		}
		const modulus = step < 0 ? this.wrapAt(last, value, pause) : undefined;
		if (modulus !== undefined && !(pause > 25 && Number.isFinite(pause) && modulus > 1024)) {
			this.modulus[0] = modulus;
			this.last[0] = value;
			return {kind: 'step', lost: Math.max(0, modulus - last - 1 + value)};
		}
		this.odd[0] = value;
		this.oddPause[0] = pause;
		return noLoss;
	}

	/** The value after an odd one tells which of the two was right. */
	private resolve(value: number): CounterStep {
		const last = this.last[0];
		const odd = this.odd[0];
		this.odd[0] = Number.NaN;
		this.last[0] = value;
		const onFromOdd = value - odd;
		if (onFromOdd >= 1 && onFromOdd <= confirmReach) {
			// Starting again takes a board longer than a few frames; a line cut short costs no time.
			return odd <= nearZero && odd < last && this.oddPause[0] >= restartPause ? {kind: 'restart'} : noLoss;
		}
		const onFromLast = value - last;
		// Two on from the last good one: only the number between was damaged.
		return onFromLast >= 2 && onFromLast <= longestSkip ? {kind: 'step', lost: onFromLast - 2} : noLoss;
	}

	/** The modulus at which going from `last` to `value` is a wrap with few losses, if there is one. */
	private wrapAt(last: number, value: number, pause: number): number | undefined {
		const known = this.modulus[0];
		for (const modulus of known > 0 ? [known, ...usualModuli] : usualModuli) {
			if (last < modulus && modulus - last <= wrapReach && modulus - last + value <= wrapReach + 1) return modulus;
		}
		// A counter of minutes or of loops, wrapping at 60 or 720: where times are known the missing pause tells.
		const isRound = (last + 1 - value) % roundNumber === 0 && value >= 0 && value <= 1;
		return !Number.isFinite(pause) && isRound ? last + 1 - value : undefined;
	}
}
