/** Where counters of the usual widths go back to 0; others are learnt when they wrap. */
const usualModuli = [100, 128, 256, 1000, 1024, 4096, 10_000, 32_768, 65_536, 100_000, 1_000_000, 2 ** 31, 2 ** 32];

/** Frames lost at a wrap that are still believed: more than that is a restart. */
const wrapReach = 40;

/** Nominal intervals that pass at the least while a board starts again. */
const restartPause = 4;

/** A counter that fell back counts on from there: the next value is at most this far on. */
const confirmReach = 8;

export type CounterStep =
	/** `lost` frames are missing before this one; 0 is the ordinary case. */
	| {readonly kind: 'step'; readonly lost: number}
	/** The counter fell back to near zero where no counter wraps, one frame ago, and counts on from there. */
	| {readonly kind: 'restart'};

const noLoss: CounterStep = {kind: 'step', lost: 0};

/** Follows a frame counter: skips, wraps of any usual width, and falls back to zero. */
export class CounterWatch {
	private last = Number.NaN;
	/** A value that did not follow: either damaged, or the first after a restart. */
	private odd = Number.NaN;
	private oddPause = 0;
	private modulus = 0;

	/** Takes the next value; `pause` is the time since the frame before, in nominal intervals; Infinity where unknown. */
	take(value: number, pause: number): CounterStep {
		if (!Number.isFinite(value)) return noLoss;
		const {last, odd} = this;
		if (Number.isNaN(last)) {
			this.last = value;
			return noLoss;
		}
		if (!Number.isNaN(odd)) return this.resolve(value);
		const step = value - last;
		if (step === 0) return noLoss;
		// A leap by thousands is a damaged number, not thousands of lost frames.
		if (step >= 1 && step <= 1000) {
			this.last = value;
			return step === 1 ? noLoss : {kind: 'step', lost: step - 1};
		}
		const modulus = step < 0 ? this.wrapAt(last, value) : undefined;
		if (modulus !== undefined && !(pause > 25 && Number.isFinite(pause) && modulus > 1024)) {
			this.modulus = modulus;
			this.last = value;
			return {kind: 'step', lost: Math.max(0, modulus - last - 1 + value)};
		}
		this.odd = value;
		this.oddPause = pause;
		return noLoss;
	}

	/** The value after an odd one tells which of the two was right. */
	private resolve(value: number): CounterStep {
		const {last, odd} = this;
		this.odd = Number.NaN;
		const onFromOdd = value - odd;
		this.last = value;
		if (onFromOdd >= 1 && onFromOdd <= confirmReach) {
			// Starting again takes a board longer than a few frames; a line cut short costs no time.
			return odd <= 200 && odd < last && this.oddPause >= restartPause ? {kind: 'restart'} : noLoss;
		}
		const onFromLast = value - last;
		// Two on from the last good one: only the number between was damaged.
		return onFromLast >= 2 && onFromLast <= 1000 ? {kind: 'step', lost: onFromLast - 2} : noLoss;
	}

	/** The modulus at which going from `last` to `value` is a wrap with few losses, if there is one. */
	private wrapAt(last: number, value: number): number | undefined {
		for (const modulus of this.modulus > 0 ? [this.modulus, ...usualModuli] : usualModuli) {
			if (last < modulus && modulus - last <= wrapReach && modulus - last + value <= wrapReach + 1) return modulus;
		}
		return undefined;
	}
}
