import {meanOf} from '../../math/sums.ts';

const daySeconds = 86_400;

/** What the steps from each value to the next say together. */
type Steps = {
	readonly risingShare: number;
	readonly notFallingShare: number;
	/** Share of steps of exactly one. */
	readonly unitShare: number;
	/** In the values' unit, without long gaps and falls. */
	readonly meanStep: number;
	/** True where nine of ten rising steps are within four times their median. */
	readonly regular: boolean;
};

/** @param wraps A clock time in seconds: a fall by most of a day is midnight. */
export function judgeSteps(values: readonly number[], wraps = false): Steps {
	const steps = values.slice(1).map((value, index) => {
		const step = value - values[index]!;
		return wraps && step < -daySeconds / 2 ? step + daySeconds : step;
	});
	const count = steps.length || 1;
	const rising = steps.filter(step => step > 0).sort((a, b) => a - b);
	const median = rising[rising.length >> 1] ?? 0;
	return {
		risingShare: rising.length / count,
		notFallingShare: steps.filter(step => step >= 0).length / count,
		unitShare: steps.filter(step => step === 1).length / count,
		meanStep: meanOfUsual(steps),
		regular: median > 0 && rising[Math.floor(rising.length * 0.9)]! <= 4 * median,
	};
}

/**
 * How far apart lines are, and how finely their stamps were printed where that is too coarse to tell them apart.
 *
 * @param values Stamps in their unit; `divisor` of them make a second.
 * @param decimals Digits they were printed with.
 */
export function lineSpacing(
	values: readonly number[],
	decimals: number,
	divisor: number,
): {meanIntervalSeconds: number; coarseSeconds: number} {
	const {meanStep} = judgeSteps(values);
	const printedSeconds = 10 ** -decimals / divisor;
	// Stamps in steps of up to half an interval still say which line came when; beyond that, rounding is all they show.
	if (values.length < 2 || printedSeconds <= meanStep / divisor / 2) {
		return {meanIntervalSeconds: meanStep / divisor, coarseSeconds: 0};
	}

	// The first and the last stamp may have lost lines to the ends of the log: only whole ones count lines right.
	const first = values.findIndex(value => value !== values[0]);
	const last = values.indexOf(values.at(-1)!);
	const whole = first > 0 && last > first ? values.slice(first, last + 1) : values;
	const {meanStep: wholeStep} = judgeSteps(whole);
	return {meanIntervalSeconds: wholeStep / divisor, coarseSeconds: printedSeconds};
}

/**
 * Restarts, damaged digits and long gaps say nothing about the time between two lines; the gaps between two clumps of
 * lines do. The few largest steps are left out while the usual size is found, so that one of them cannot set it.
 */
function meanOfUsual(steps: readonly number[]): number {
	const forward = steps.filter(step => step >= 0).sort((a, b) => a - b);
	if (forward.length === 0) return 0;
	const rising = forward.filter(step => step > 0);
	const usualMean = meanOf(forward.slice(0, Math.ceil(forward.length * 0.98)));
	// Of coarse stamps hardly any step is not zero; then the size of those that aren't tells.
	const limit = Math.max(100 * usualMean, 20 * (rising[rising.length >> 1] ?? 0));
	return meanOf(forward.filter(step => step <= limit));
}

/**
 * True for values that go on like a clock of the board's. A finger that bends rises too, but not for long, and never
 * steadily: noise and rests see to that. Readings of a 12-bit converter end at 4095, so above that a few lines are
 * enough.
 */
export function goesLikeClock(values: readonly number[]): boolean {
	const {notFallingShare, risingShare, regular} = judgeSteps(values);
	const least = values.filter(value => value > 4095).length > 0.9 * values.length ? 5 : 30;
	return values.length >= least && notFallingShare >= 0.97 && risingShare >= 0.9 && (regular || onlyClimbs(values));
}

/** Values that rise for long without one fall, beyond what any converter of 12 bits gives: a clock, however unsteady its steps. */
function onlyClimbs(values: readonly number[]): boolean {
	return (
		values.length >= 100 &&
		values.at(-1)! - values[0]! > 4095 &&
		values.every((value, i) => i === 0 || value >= values[i - 1]!)
	);
}
