import {product, zeros} from './linear.ts';
import type {Region} from './region.ts';
import {expOf, type Matrix, plus, type Quaternion, scaled, times, transposed, type Vector} from './rotation.ts';

/** Small enough for a straight line, large enough for the digits: 1e-4 mm and 1e-4 rad. */
const smallStep = 1e-4;

type Inputs = {
	readonly point: Vector;
	readonly turn: Quaternion;
	readonly pointRegion: Region;
	readonly turnRegion: Region;
};

/** How numbers made of a place and a rotation change with each: by small steps to both sides. */
function slopes(f: (point: Vector, turn: Quaternion) => readonly number[], {point, turn}: Inputs) {
	const axes: readonly Vector[] = [
		[1, 0, 0],
		[0, 1, 0],
		[0, 0, 1],
	];
	const between = (low: readonly number[], high: readonly number[]) =>
		high.map((value, index) => wrapped(value - low[index]) / (2 * smallStep));
	const byPoint = axes.map(axis =>
		between(f(plus(point, axis, -smallStep), turn), f(plus(point, axis, smallStep), turn)),
	);
	const byTurn = axes.map(axis =>
		between(
			f(point, times(expOf(scaled(axis, -smallStep)), turn)),
			f(point, times(expOf(scaled(axis, smallStep)), turn)),
		),
	);
	return {byPoint, byTurn};
}

/** Angles in degrees may step over ±180. */
function wrapped(difference: number): number {
	return Math.abs(difference) > 180 ? difference - 360 * Math.sign(difference) : difference;
}

/**
 * Half widths of the 95 % regions of numbers that are made of the place and the rotation, the two being independent: roots
 * of the sum of both regions' squares. `f` gives the numbers; angles in degrees.
 */
export function derivedHalfWidths(f: (point: Vector, turn: Quaternion) => readonly number[], inputs: Inputs): number[] {
	const {byPoint, byTurn} = slopes(f, inputs);
	return byPoint[0].map((_, index) => {
		const square = (rows: readonly (readonly number[])[], {covariance, factor}: Region) => {
			let sum = 0;
			for (let a = 0; a < 3; a++)
				for (let b = 0; b < 3; b++) sum += rows[a][index] * covariance[3 * a + b] * rows[b][index];
			return factor * sum;
		};
		return Math.sqrt(Math.max(0, square(byPoint, inputs.pointRegion) + square(byTurn, inputs.turnRegion)));
	});
}

/** The region of three numbers that are made of the place and the rotation, with the larger of the two factors. */
export function derivedRegion(f: (point: Vector, turn: Quaternion) => Vector, inputs: Inputs): Region {
	const {byPoint, byTurn} = slopes(f, inputs);
	const sum = zeros();
	for (const [columns, region] of [
		[byPoint, inputs.pointRegion],
		[byTurn, inputs.turnRegion],
	] as const) {
		// Rows of the slopes are the inputs here: the transposed Jacobian.
		const jacobian = transposed(columns.flat() as unknown as Matrix);
		const part = product(product(jacobian, region.covariance), transposed(jacobian));
		for (let k = 0; k < 9; k++) sum[k] += part[k];
	}
	return {
		covariance: sum as unknown as Matrix,
		factor: Math.max(inputs.pointRegion.factor, inputs.turnRegion.factor),
	};
}
