/** Where counters of the usual widths go back to 0; others are learnt when they wrap twice at the same place. */
const usualModuli = [100, 128, 256, 1000, 1024, 4096, 10_000, 32_768, 65_536, 100_000, 1_000_000, 2 ** 31, 2 ** 32];

/** Frames lost at a wrap that are still believed: more than that is a restart. */
const wrapReach = 40;

export type CounterStep =
	/** `lost` frames are missing before this one; 0 is the ordinary case. */
	| {readonly kind: 'step'; readonly lost: number}
	/** The counter fell back to near zero where no counter wraps. */
	| {readonly kind: 'restart'};

/** Follows a frame counter: skips, wraps of any usual width, and falls back to zero. */
export class CounterWatch {
	private last = Number.NaN;
	private modulus = 0;

	/** Takes the next value; `pause` is the time since the frame before, in nominal intervals. */
	take(value: number, pause: number): CounterStep {
		const last = this.last;
		if (!Number.isFinite(value)) return {kind: 'step', lost: 0};
		this.last = value;
		if (Number.isNaN(last)) return {kind: 'step', lost: 0};
		const step = value - last;
		if (step >= 1) {
			// A leap by thousands is a damaged number, not thousands of lost frames.
			return {kind: 'step', lost: step <= 5000 ? step - 1 : 0};
		}
		if (step === 0) return {kind: 'step', lost: 0};
		const modulus = this.wrapAt(last, value);
		if (modulus !== undefined && !(pause > 25 && modulus > 1024)) {
			this.modulus = modulus;
			return {kind: 'step', lost: Math.max(0, modulus - last - 1 + value)};
		}
		if (value <= 200 && value < last / 2) return {kind: 'restart'};
		return {kind: 'step', lost: 0};
	}

	/** The modulus at which going from `last` to `value` is a wrap with few losses, if there is one. */
	private wrapAt(last: number, value: number): number | undefined {
		for (const modulus of this.modulus > 0 ? [this.modulus, ...usualModuli] : usualModuli) {
			if (last < modulus && modulus - last <= wrapReach && modulus - last + value <= wrapReach + 1) return modulus;
		}
		return undefined;
	}
}
