import {inverted, product, zeros} from './linear.ts';
import type {Poses} from './poses.ts';
import {apply, type Matrix, plus, scaled, transposed, type Vector} from './rotation.ts';

/**
 * What a stretch of poses tells of a pivot: sums that add up, so that stretches can be put together and taken away.
 * With R rotations and t positions: Σ1, ΣR, Σt, ΣRᵀt, Σ|t|². Positions are taken from an origin near the hand, which keeps digits.
 */
export type PivotSums = {
	readonly count: number;
	readonly turns: readonly number[];
	readonly places: Vector;
	readonly turnedPlaces: Vector;
	readonly squares: number;
};

export const noPivotSums: PivotSums = {
	count: 0,
	turns: zeros(),
	places: [0, 0, 0],
	turnedPlaces: [0, 0, 0],
	squares: 0,
};

/** Of the poses from one index to before another; positions counted from `origin`, mm. Allocates nothing per pose. */
export function pivotSums({turns: q, places: p}: Poses, from: number, to: number, origin: Vector): PivotSums {
	const turns = zeros();
	const places = [0, 0, 0];
	const turnedPlaces = [0, 0, 0];
	let squares = 0;
	for (let index = from; index < to; index++) {
		const [w, x, y, z] = [q[4 * index], q[4 * index + 1], q[4 * index + 2], q[4 * index + 3]];
		const a = p[3 * index] - origin[0];
		const b = p[3 * index + 1] - origin[1];
		const c = p[3 * index + 2] - origin[2];
		const xx = 1 - 2 * (y * y + z * z);
		const xy = 2 * (x * y - w * z);
		const xz = 2 * (x * z + w * y);
		const yx = 2 * (x * y + w * z);
		const yy = 1 - 2 * (x * x + z * z);
		const yz = 2 * (y * z - w * x);
		const zx = 2 * (x * z - w * y);
		const zy = 2 * (y * z + w * x);
		const zz = 1 - 2 * (x * x + y * y);
		turns[0] += xx;
		turns[1] += xy;
		turns[2] += xz;
		turns[3] += yx;
		turns[4] += yy;
		turns[5] += yz;
		turns[6] += zx;
		turns[7] += zy;
		turns[8] += zz;
		places[0] += a;
		places[1] += b;
		places[2] += c;
		turnedPlaces[0] += xx * a + yx * b + zx * c;
		turnedPlaces[1] += xy * a + yy * b + zy * c;
		turnedPlaces[2] += xz * a + yz * b + zz * c;
		squares += a * a + b * b + c * c;
	}
	return {
		count: to - from,
		turns,
		places: places as unknown as Vector,
		turnedPlaces: turnedPlaces as unknown as Vector,
		squares,
	};
}

/** `a` and `b` together, or `a` without `b` for `sign` −1. */
export function joined(a: PivotSums, b: PivotSums, sign = 1): PivotSums {
	return {
		count: a.count + sign * b.count,
		turns: a.turns.map((value, k) => value + sign * b.turns[k]),
		places: plus(a.places, b.places, sign),
		turnedPlaces: plus(a.turnedPlaces, b.turnedPlaces, sign),
		squares: a.squares + sign * b.squares,
	};
}

export type PivotFit = {
	/** The point that stays, in the tracker's axes, mm. */
	readonly point: Vector;
	/** The same in the space, from the origin of the sums, mm. */
	readonly centre: Vector;
	/** Root mean square distance of the point from where it should stay, mm. */
	readonly rms: number;
};

/** M = Σ(R − R̄)ᵀ(R − R̄) = n·1 − n R̄ᵀR̄, as RᵀR = 1. Its eigenvalues tell how well the point is known along each direction. */
export function pivotMatrix({count, turns}: PivotSums): Matrix {
	const mean = turns.map(value => value / count) as unknown as Matrix;
	const square = product(transposed(mean), mean);
	return square.map((value, k) => count * ((k % 4 === 0 ? 1 : 0) - value)) as unknown as Matrix;
}

/**
 * The point p of the tracker that stays at one place c of the space while the tracker turns: R_i p + t_i = c for all i, by
 * least squares: p = −M⁻¹ Σ(R_i − R̄)ᵀ(t_i − t̄), c = R̄ p + t̄. Undefined where it turned about one axis only, or not at all.
 */
export function fitPivot(sums: PivotSums): PivotFit | undefined {
	if (sums.count < 3) return undefined;
	const back = inverted(pivotMatrix(sums));
	if (back === undefined) return undefined;
	const mean = sums.turns.map(value => value / sums.count) as unknown as Matrix;
	const meanPlace = scaled(sums.places, 1 / sums.count);
	const moment = plus(sums.turnedPlaces, apply(transposed(mean), meanPlace), -sums.count);
	const point = scaled(apply(back, moment), -1);
	if (!point.every(Number.isFinite)) return undefined;
	const centre = plus(apply(mean, point), meanPlace);
	return {point, centre, rms: residual(sums, point, centre)};
}

/** How far a point given in the tracker's axes strays from a place given in the space, rms over the poses of the sums, mm. */
export function residual(sums: PivotSums, point: Vector, centre: Vector): number {
	const {count, turns, places, turnedPlaces, squares} = sums;
	const inSpace = apply(turns as unknown as Matrix, point);
	const dots = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
	const sum =
		count * (dots(point, point) + dots(centre, centre)) +
		squares +
		2 * dots(point, turnedPlaces) -
		2 * dots(centre, inSpace) -
		2 * dots(centre, places);
	return Math.sqrt(Math.max(0, sum) / count);
}

/** How far it turned about each axis of the tracker: mean square angle, rad², as a matrix S. For small turnings M/n = tr(S)·1 − S. */
export function turningSpread(sums: PivotSums): Matrix {
	const m = pivotMatrix(sums);
	const half = (m[0] + m[4] + m[8]) / 2;
	return m.map((value, k) => ((k % 4 === 0 ? half : 0) - value) / sums.count) as unknown as Matrix;
}
