import {fitPivot, joined, noPivotSums, type PivotFit, type PivotSums, turningSpread} from './pivot-sums.ts';
import {jackknife, leastBlocks, type Region} from './region.ts';
import {type Matrix, scaled, type Vector} from './rotation.ts';

/** Length of a jackknife's blocks, seconds: what neighbouring residuals have in common is over within one. */
export const blockSeconds = 1;

export type Pivot = PivotFit & {
	/** Undefined below `leastBlocks` blocks. */
	readonly region: Region | undefined;
	readonly blocks: number;
	/** Mean square angle of the turning about the tracker's axes, rad². */
	readonly spread: Matrix;
	/** Where the tracker was on average, from the origin of the sums, mm. */
	readonly meanPlace: Vector;
};

/**
 * The pivot point of blocks of about a second each, with its region. Undefined where the tracker did not turn.
 */
export function solvePivot(blocks: readonly PivotSums[]): Pivot | undefined {
	const all = blocks.reduce((sum, block) => joined(sum, block), noPivotSums);
	const fit = fitPivot(all);
	if (fit === undefined) return undefined;
	const without = blocks.map(block => fitPivot(joined(all, block, -1))?.point).filter(point => point !== undefined);
	const region = blocks.length >= leastBlocks && without.length === blocks.length ? jackknife(without) : undefined;
	return {
		...fit,
		region,
		blocks: blocks.length,
		spread: turningSpread(all),
		meanPlace: scaled(all.places, 1 / all.count),
	};
}
