import {pivotBlocks} from '../../source/mount/find-pivot.ts';
import type {Handedness} from '../../source/mount/gesture-words.ts';
import {inverted} from '../../source/mount/linear.ts';
import {usualEnough} from '../../source/mount/mount-result.ts';
import {solvePivot} from '../../source/mount/pivot.ts';
import type {Poses} from '../../source/mount/poses.ts';
import type {Region} from '../../source/mount/region.ts';
import {
	apply,
	dot,
	inverse,
	logOf,
	plus,
	type Quaternion as Turn,
	times,
	type Vector,
} from '../../source/mount/rotation.ts';
import {solveGestures} from '../../source/mount/solve-gestures.ts';
import {drawTrial, errorsOf, type Trial, type TrialSpec} from './trial.ts';

/** One row of the acceptance table (check-values O5). */
export type Case = {
	readonly name: string;
	readonly spec: Partial<TrialSpec>;
	/** Median and 95 in 100 of the errors to be reached. */
	readonly mm?: readonly [number, number];
	readonly degrees?: readonly [number, number];
};

const noPivot = {pivotSeconds: 0};
const noGestures = {times: 0};

export const cases: readonly Case[] = [
	{name: '±25°, three axes, gestures twice', spec: {}, mm: [1.5, 2.9], degrees: [2.2, 4.2]},
	{name: '±15°', spec: {...noGestures, swing: [15, 15, 15]}, mm: [2.5, 4.3]},
	{name: '±40°', spec: {...noGestures, swing: [40, 40, 40]}, mm: [0.9, 1.7]},
	{name: '30 s', spec: {...noGestures, pivotSeconds: 30}, mm: [1.0, 1.8]},
	{name: 'two axes', spec: {...noGestures, swing: [25, 25, 0]}, mm: [1.8, 3.2]},
	{name: 'one axis (must be refused)', spec: {...noGestures, swing: [25, 0, 0], anyAxes: true}, mm: [40, 115]},
	{name: 'contact wander 5 mm', spec: {...noGestures, wanderMm: 5}, mm: [3.5, 7.2]},
	{name: 'gestures once', spec: {...noPivot, times: 1}, degrees: [3.2, 6.0]},
	{name: 'gestures three times', spec: {...noPivot, times: 3}, degrees: [1.9, 3.2]},
	{name: 'two gestures instead of three', spec: {...noPivot, gestures: ['palm-down', 'thumb-up']}, degrees: [3.0, 5.2]},
	{name: 'gestures 5° off', spec: {...noPivot, offDegrees: 5}, degrees: [4.1, 7.2]},
];

export type Measured = {
	readonly mm: readonly number[];
	readonly degrees: readonly number[];
	/** Share of regions that hold the true value; NaN where none was given. */
	readonly pointCovered: number;
	readonly turnCovered: number;
	/** Share of trials without a position. */
	readonly refused: number;
	/** What was named as missing. */
	readonly moves: readonly string[];
};

/** The poses of a trial as the solver takes them: nothing is written and read. */
export function posesOf(trial: Trial): Poses {
	const {rows} = trial;
	return {
		count: rows.length,
		t: Float64Array.from(rows, ({t}) => t),
		turns: Float64Array.from(rows.flatMap(({turn}) => [turn.w, turn.x, turn.y, turn.z])),
		places: Float64Array.from(rows.flatMap(({place}) => place)),
		parts: new Int32Array(rows.length),
	};
}

/** Draws trials of a case and solves them at the steps as drawn. The position's error is that of the fit, given or refused. */
export function measure({spec}: Pick<Case, 'spec'>, trials: number, seed: number): Measured {
	const mm: number[] = [];
	const degrees: number[] = [];
	const moves: string[] = [];
	let refused = 0;
	const point = {held: 0, of: 0};
	const turn = {held: 0, of: 0};
	for (let index = 0; index < trials; index++) {
		const trial = drawTrial({stepsOnly: true, seed: seed + index, ...spec});
		const poses = posesOf(trial);
		const result = solveGestures(poses, trial.steps, {
			hand: 'right',
			handedness: 'right-handed' satisfies Handedness,
			up: undefined,
			originFromPivot: [0, 0, 0],
			enough: usualEnough,
		});
		const span = trial.steps.find(({name}) => name === 'pivot');
		const fit = span && solvePivot(pivotBlocks(poses, span, 1));
		if (fit) mm.push(errorsOf(trial, null, fit.point).mm);
		if (result.turn) degrees.push(errorsOf(trial, result.turn, null).degrees);
		if (span && result.point === null) {
			refused++;
			moves.push(result.missing.find(({what}) => what === 'position')?.move ?? '');
		}
		if (result.point && result.pointRegion) {
			point.of++;
			if (isWithin(result.pointRegion, plus(result.point, trial.point as Vector, -1))) point.held++;
		}
		if (result.turn && result.turnRegion) {
			turn.of++;
			const {w, x, y, z} = trial.turn;
			const off = logOf(times(result.turn, inverse([w, x, y, z] as Turn)));
			if (isWithin(result.turnRegion, off)) turn.held++;
		}
	}
	return {
		mm,
		degrees,
		pointCovered: point.held / point.of,
		turnCovered: turn.held / turn.of,
		refused: refused / trials,
		moves,
	};
}

function isWithin({covariance, factor}: Region, off: Vector): boolean {
	const back = inverted(covariance);
	return back !== undefined && dot(off, apply(back, off)) <= factor;
}

/** The value below which so large a share of a list lies. */
export function quantile(list: readonly number[], share: number): number {
	const sorted = [...list].sort((a, b) => a - b);
	return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}
