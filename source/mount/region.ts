import {fQuantile} from './f-quantile.ts';
import {addOuter, rowsOf, symmetricEigen, zeros} from './linear.ts';
import {type Matrix, plus, scaled, type Vector} from './rotation.ts';

/** The share of regions that hold the true value. */
export const sureShare = 0.95;

/**
 * What three numbers are known to: their covariance, and the factor k with which the region (x − x̂)ᵀ C⁻¹ (x − x̂) ≤ k holds the
 * true values in 95 of 100 cases.
 */
export type Region = {readonly covariance: Matrix; readonly factor: number};

/** Least number of blocks of a jackknife: with fewer, the scatter of their scatter is too large to tell a region from. */
export const leastBlocks = 12;

/**
 * The delete-one-block jackknife: `estimates` are the results without each block in turn. Neighbouring readings may be
 * alike within a block as they please. Factor: Hotelling's T² of b blocks, 3(b − 1)/(b − 3)·F(3, b − 3).
 *
 * Source: Efron, The Jackknife, the Bootstrap and Other Resampling Plans (1982), chapter 3; Hotelling, Annals of
 * Mathematical Statistics 2 (1931), 360–378.
 */
export function jackknife(estimates: readonly Vector[]): Region {
	const b = estimates.length;
	const mean = scaled(
		estimates.reduce<Vector>((sum, each) => plus(sum, each), [0, 0, 0]),
		1 / b,
	);
	const sum = zeros();
	for (const estimate of estimates) {
		const off = plus(estimate, mean, -1);
		addOuter(sum, off, off, (b - 1) / b);
	}
	return {covariance: sum as unknown as Matrix, factor: ((3 * (b - 1)) / (b - 3)) * fQuantile(sureShare, 3, b - 3)};
}

/** Half the width of the region along each of the three numbers. */
export function halfWidths({covariance, factor}: Region): Vector {
	return [0, 4, 8].map(k => Math.sqrt(factor * Math.max(0, covariance[k]))) as unknown as Vector;
}

/** Half the width of the region where it is widest. */
export function widest({covariance, factor}: Region): number {
	return Math.sqrt(factor * Math.max(0, symmetricEigen(rowsOf(covariance)).values[0]));
}

/** Standard deviation along the direction that is known least, and that direction. */
export function leastKnown({covariance}: Region): {readonly deviation: number; readonly along: Vector} {
	const {values, vectors} = symmetricEigen(rowsOf(covariance));
	return {deviation: Math.sqrt(Math.max(0, values[0])), along: vectors[0] as unknown as Vector};
}
