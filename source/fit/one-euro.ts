import {noiseLeft} from './smoothing.ts';

// Formulas with sources and worked examples: docs/fit.md.

/** Weight of a new reading in the RC form the 1€ filter uses: 1 / (1 + τ·fs), τ = 1/(2π·f). */
export function weightForCornerRc(cornerHz: number, framesPerSecond: number): number {
	return 1 / (1 + framesPerSecond / (2 * Math.PI * cornerHz));
}

/** The corner a weight of the RC form stands for, Hz. */
export function cornerOfWeightRc(weight: number, framesPerSecond: number): number {
	return (framesPerSecond * weight) / (2 * Math.PI * (1 - weight));
}

/** Parameters of the 1€ filter for readings mapped to 0…1. */
export type OneEuro = {
	/** Corner at rest, Hz. */
	readonly minCutoffHz: number;
	/** Hz of corner per span a second. */
	readonly beta: number;
	/** Corner for the speed, Hz: the authors' value. */
	readonly derivativeCutoffHz: number;
	/** rms noise left at rest, share of the span. */
	readonly restNoise: number;
	/** Lag at the speed of an ordinary movement, ms. */
	readonly movingLagMs: number;
};

/** How far behind a moving finger the filter may be: under one frame of a usual display (16.7 ms). */
const movingLagSeconds = 0.01;
const leastCutoffHz = 0.3;

/**
 * Parameters of the 1€ filter (G. Casiez, N. Roussel, D. Vogel, CHI 2012; from memory): the corner at rest so that
 * the noise falls to `target`, and beta so that at `speed` the corner is high enough for 10 ms of lag. In the RC form a
 * corner f lags by 1/(2π·f). `noise` and `target` as shares of the span, `speed` in spans per second.
 */
export function oneEuro(
	noise: number,
	correlation: number,
	framesPerSecond: number,
	target: number,
	speed: number,
): OneEuro {
	// Noise left falls steadily with the corner: halve the interval.
	let low = leastCutoffHz;
	let high = framesPerSecond / 2;
	if (noise * left(high, correlation, framesPerSecond) <= target) low = high;
	for (let step = 0; step < 60 && high - low > 1e-6; step++) {
		const middle = (low + high) / 2;
		if (noise * left(middle, correlation, framesPerSecond) > target) high = middle;
		else low = middle;
	}

	const minCutoffHz = low;
	const movingCutoffHz = Math.max(minCutoffHz, 1 / (2 * Math.PI * movingLagSeconds));
	return {
		minCutoffHz,
		beta: (movingCutoffHz - minCutoffHz) / speed,
		derivativeCutoffHz: 1,
		restNoise: noise * left(minCutoffHz, correlation, framesPerSecond),
		movingLagMs: 1000 / (2 * Math.PI * movingCutoffHz),
	};
}

function left(cornerHz: number, correlation: number, framesPerSecond: number): number {
	return noiseLeft(weightForCornerRc(cornerHz, framesPerSecond), correlation);
}
