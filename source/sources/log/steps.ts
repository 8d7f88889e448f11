/** Steps between values, and what they say together. */
export function judgeSteps(values: readonly number[]): {
	risingShare: number;
	notFallingShare: number;
	unitShare: number;
	meanStep: number;
	regular: boolean;
} {
	const steps = values.slice(1).map((value, index) => value - values[index]!);
	const count = steps.length || 1;
	const rising = steps.filter(step => step > 0).sort((a, b) => a - b);
	const median = rising[rising.length >> 1] ?? 0;
	// Restarts and long gaps say nothing about the time between two lines; the gaps between two clumps of lines do.
	const forward = steps.filter(step => step >= 0);
	const meanForward = mean(forward);
	const usual = forward.filter(step => step <= 100 * meanForward);
	return {
		risingShare: rising.length / count,
		notFallingShare: steps.filter(step => step >= 0).length / count,
		unitShare: steps.filter(step => step === 1).length / count,
		meanStep: mean(usual),
		regular: median > 0 && rising[Math.floor(rising.length * 0.9)]! <= 4 * median,
	};
}

/** The printed step of a stamp where it is too coarse for the lines to be told apart by it, else 0. */
export function coarseStep(decimals: number, divisor: number, meanIntervalSeconds: number): number {
	const printed = 10 ** -decimals / divisor;
	// Stamps in steps of up to half an interval still say which line came when; beyond that, rounding is all they show.
	return printed > meanIntervalSeconds / 2 ? printed : 0;
}

function mean(values: readonly number[]): number {
	return values.reduce((sum, value) => sum + value, 0) / (values.length || 1);
}
