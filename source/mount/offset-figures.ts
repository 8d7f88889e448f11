import {derivedHalfWidths} from './derived.ts';
import {type Euler, eulerOf, eulerOrders} from './euler.ts';
import {isWhole, type MountResult} from './mount-result.ts';
import type {Region} from './region.ts';
import {
	inverse,
	type Matrix,
	matrixOf,
	noTurn,
	type Quaternion,
	scaled,
	turned,
	upright,
	type Vector,
} from './rotation.ts';

/** A rotation in all its usual forms, with half widths of its 95 % region: of the quaternion's numbers, and of each angle in degrees. */
type TurnFigures = {
	readonly quaternion: Quaternion;
	readonly quaternion95: readonly number[];
	readonly matrix: Matrix;
	readonly euler: readonly (Euler & {readonly degrees95: readonly number[]})[];
};

/** One direction of the offset. Positions in mm. */
export type OffsetFigures = {
	readonly position: Vector | null;
	readonly position95: readonly number[] | null;
	readonly turn: TurnFigures | null;
};

const nothing: Vector = [0, 0, 0];
const exact: Region = {covariance: [0, 0, 0, 0, 0, 0, 0, 0, 0], factor: 0};

/** The hand as seen from the tracker, and the tracker as seen from the hand. */
export function offsetFigures(result: MountResult): {trackerToHand: OffsetFigures; handToTracker: OffsetFigures} {
	const {turn, turnRegion, place, placeRegion} = result;
	const known = turn && turnRegion ? {turn, turnRegion} : undefined;
	const there = known && turnFigures(known.turn, known.turnRegion, q => q);
	const back = known && turnFigures(known.turn, known.turnRegion, inverse);
	const fromHand = (point: Vector, q: Quaternion) => scaled(turned(inverse(q), point), -1);
	return {
		trackerToHand: {
			position: place,
			position95: place && placeRegion && derivedHalfWidths(point => point, inputs(place, noTurn, placeRegion, exact)),
			turn: there ?? null,
		},
		handToTracker: {
			position: isWhole(result) ? fromHand(result.place, result.turn) : null,
			position95: isWhole(result)
				? derivedHalfWidths(fromHand, inputs(result.place, result.turn, result.placeRegion, result.turnRegion))
				: null,
			turn: back ?? null,
		},
	};
}

function inputs(point: Vector, turn: Quaternion, pointRegion: Region, turnRegion: Region) {
	return {point, turn, pointRegion, turnRegion};
}

function turnFigures(turn: Quaternion, region: Region, pick: (q: Quaternion) => Quaternion): TurnFigures {
	const given = inputs(nothing, turn, exact, region);
	const quaternion = upright(pick(turn));
	const sameSign = (q: Quaternion): readonly number[] => {
		const along = q.reduce((sum, value, k) => sum + value * quaternion[k], 0);
		return along < 0 ? q.map(value => -value) : q;
	};
	const matrix = matrixOf(quaternion);
	return {
		quaternion,
		quaternion95: derivedHalfWidths((_, q) => sameSign(pick(q)), given),
		matrix,
		euler: eulerOrders.map(order => ({
			...eulerOf(matrix, order),
			degrees95: derivedHalfWidths((_, q) => eulerOf(matrixOf(pick(q)), order).degrees, given),
		})),
	};
}
