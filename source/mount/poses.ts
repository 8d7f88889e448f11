import {type Quaternion, upright, type Vector} from './rotation.ts';

/**
 * A tracker's way: poses by time, positions in mm, rotations as unit quaternions that take the tracker's axes to those
 * of the space. `parts` counts up wherever the tracking broke off: what lies on two sides of such a place has nothing to
 * do with each other.
 */
export type Poses = {
	readonly count: number;
	/** Seconds, rising. */
	readonly t: Float64Array;
	/** Four a pose: w, x, y, z. */
	readonly turns: Float64Array;
	/** Three a pose. */
	readonly places: Float64Array;
	readonly parts: Int32Array;
};

export function turnAt(poses: Poses, index: number): Quaternion {
	const {turns} = poses;
	return [turns[4 * index], turns[4 * index + 1], turns[4 * index + 2], turns[4 * index + 3]];
}

export function placeAt({places}: Poses, index: number): Vector {
	return [places[3 * index], places[3 * index + 1], places[3 * index + 2]];
}

/** The first pose at `seconds` or later; `count` where there is none. */
export function indexAt({t, count}: Poses, seconds: number): number {
	let low = 0;
	let high = count;
	while (low < high) {
		const middle = (low + high) >> 1;
		if (t[middle] < seconds) low = middle + 1;
		else high = middle;
	}
	return low;
}

/** A stretch of time, seconds. */
export type Span = {readonly from: number; readonly to: number};

/**
 * The mean of rotations that lie near each other: their sum, all taken with the sign that lies nearest to the first, at
 * length 1. For a spread of a few degrees it is the mean of `meanTurn` to the fourth decimal, at a tenth of the work.
 */
export function nearMean(poses: Poses, from: number, to: number): Quaternion {
	const {turns} = poses;
	const sum = [0, 0, 0, 0];
	for (let index = from; index < to; index++) {
		let along = 0;
		for (let k = 0; k < 4; k++) along += turns[4 * index + k] * turns[4 * from + k];
		for (let k = 0; k < 4; k++) sum[k] += along < 0 ? -turns[4 * index + k] : turns[4 * index + k];
	}
	return upright(sum as unknown as Quaternion);
}
