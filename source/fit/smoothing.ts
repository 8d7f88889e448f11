// Formulas with sources and worked examples: docs/fit.md.

/** Weight of a new reading in y += weight · (x − y) for a corner at `cornerHz`: 1 − exp(−2π·f/fs). */
export function weightForCorner(cornerHz: number, framesPerSecond: number): number {
	return 1 - Math.exp((-2 * Math.PI * cornerHz) / framesPerSecond);
}

/** The corner that a weight stands for, Hz; Infinity for weight 1 (no filter). */
export function cornerOfWeight(weight: number, framesPerSecond: number): number {
	return (-framesPerSecond * Math.log(1 - weight)) / (2 * Math.PI);
}

/**
 * Share of the rest noise (rms) that a first-order filter leaves. `correlation` of successive readings at rest: 0 for
 * white noise, √(w/(2 − w)) then; the more the firmware smooths already, the less is gained.
 *
 * Variance of a first-order filter driven by first-order noise, a = 1 − w: w/(2 − w) · (1 + aρ)/(1 − aρ).
 */
export function noiseLeft(weight: number, correlation = 0): number {
	const keep = 1 - weight;
	return Math.sqrt(((weight / (2 - weight)) * (1 + keep * correlation)) / (1 - keep * correlation));
}

/** How far the filter is behind a steady movement, seconds: (1 − w)/w frames. */
export function lagSeconds(weight: number, framesPerSecond: number): number {
	return (1 - weight) / weight / framesPerSecond;
}

/** Frames until 95 % of a step has come through, the first frame of the step counted. */
export function framesTo95(weight: number): number {
	return weight >= 1 ? 1 : Math.ceil(Math.log(0.05) / Math.log(1 - weight) - 1e-9);
}

/** One row of the table: a first-order filter and what it does here. */
export type SmoothingRow = {
	readonly weight: number;
	/** null for no filter. */
	readonly cornerHz: number | null;
	/** rms at rest afterwards, in the unit of the readings. */
	readonly noise: number;
	readonly lagMs: number;
	readonly framesTo95: number;
};

/** Weights of the table, as the integer arithmetic of small boards likes them: quarters, eighths, sixteenths. */
const tableWeights = [1, 0.75, 0.5, 0.375, 0.25, 0.125, 0.0625];

/** What each usual filter constant does to this noise at this frame rate. */
export function smoothingTable(noise: number, correlation: number, framesPerSecond: number): SmoothingRow[] {
	return tableWeights.map(weight => ({
		weight,
		cornerHz: weight >= 1 ? null : cornerOfWeight(weight, framesPerSecond),
		noise: noise * noiseLeft(weight, correlation),
		lagMs: 1000 * lagSeconds(weight, framesPerSecond),
		framesTo95: framesTo95(weight),
	}));
}

/**
 * The weakest filter of the table that brings the noise down to `target`, or, where none does within `mostLagMs`, the
 * strongest within it: beyond some 30 ms a puppet is felt to follow late (common practice).
 */
export function chooseRow(table: readonly SmoothingRow[], target: number, mostLagMs = 30): SmoothingRow {
	const quickEnough = table.filter(({lagMs}) => lagMs <= mostLagMs);
	return quickEnough.find(({noise}) => noise <= target) ?? quickEnough[quickEnough.length - 1] ?? table[0];
}
