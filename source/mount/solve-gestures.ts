import {upperMedianOf} from '../math/nth-smallest.ts';
import {fixedText, secondsText} from '../text/number-text.ts';
import {derivedRegion} from './derived.ts';
import {pivotBlocks} from './find-pivot.ts';
import {type GestureName, gestureNames, type Handedness} from './gesture-words.ts';
import {axisOf, fitGestures, type GestureFit, sameGestureAngles} from './gestures.ts';
import {product, rowsOf, symmetricEigen} from './linear.ts';
import {meanTurn} from './mean-turn.ts';
import type {Enough, Missing, MountResult, MountStep, Swing} from './mount-result.ts';
import {blockSeconds, type Pivot, solvePivot} from './pivot.ts';
import {joined, noPivotSums, pivotMatrix} from './pivot-sums.ts';
import type {Hand, UpAxis} from './pose-form.ts';
import {indexAt, type Poses, type Span, turnAt} from './poses.ts';
import {leastBlocks, leastKnown} from './region.ts';
import {
	degree,
	dot,
	inverse,
	length,
	logOf,
	matrixOf,
	plus,
	type Quaternion,
	quaternionOf,
	slerp,
	times,
	transposed,
	turned,
	type Vector,
} from './rotation.ts';

type SolveOptions = {
	readonly hand: Hand;
	readonly handedness: Handedness;
	readonly up: UpAxis | undefined;
	readonly originFromPivot: Vector;
	readonly enough: Enough;
	/** What is shown may be anywhere, as with a wrong offset: then nothing is said of what hangs below its dimple. */
	readonly isAnywhere?: boolean;
};

/** How each gesture is asked for. */
export const gestureMoves: Readonly<Record<GestureName, string>> = {
	'palm-down': 'lay the hand on the table, palm down, and hold it still for 2 s',
	'thumb-up': 'put the hand on its edge, thumb up, and hold it still for 2 s',
	'fingers-down': 'let the fingers point straight down and hold the hand still for 2 s',
};

/** Names of the gestures for a sentence. */
export const gestureWords: Readonly<Record<GestureName, string>> = {
	'palm-down': 'palm down',
	'thumb-up': 'thumb up',
	'fingers-down': 'fingers down',
};

/** The hand's axes, and how a hand is turned about each. */
const handTurns = [
	{about: 'up and down', move: 'nod the hand up and down'},
	{about: 'sideways', move: 'swing the hand from side to side'},
	{about: "about the fingers' axis", move: 'roll the hand about its fingers'},
] as const;

/**
 * Tracker noise makes a lever arm look shorter by |p|·2nσ²/λ along an eigenvector of M: noise adds 2σ² to λ/n and nothing to
 * the right side of the equation. More than 1 mm of it is more than anything else that a region does not hold.
 */
const mostShrinkMm = 1;

/** Less than a ruler tells: then a number is no help. Common practice, no source. */
const uselessMm = 10;

/** Poses held that lie farther from where they should than this, rms, were not the poses asked for: half of the way to the next. */
const mostGestureSpread = 20 * degree;

/** Up in two poses of one name: more than this apart, one was the other way up. */
const overturned = 120 * degree;

/** The hand is above the dimple it stands on: the tracker's mean height above the pivot, as a share of the lever arm, at the least. */
const surelyBelow = -0.2;

/** The offset by poses held and a pivot (check-values O1, O2). `steps` say where each is. Never throws. */
export function solveGestures(poses: Poses, steps: readonly MountStep[], options: SolveOptions): MountResult {
	const missing: Missing[] = [];
	const problems: string[] = [];
	const span = steps.find(({name}) => name === 'pivot');
	const pivot = span && solvePivot(pivotBlocks(poses, span, blockSeconds));
	const gestures = steps.flatMap(step =>
		step.name === 'pivot' || step.name === 'together' ? [] : [{name: step.name, turn: turnDuring(poses, step)}],
	);
	const fit = fitGestures(gestures, options.hand, options.handedness, options.up);
	const turn = solvedTurn(fit, gestures, pivot, options, missing, problems);
	const swings = pivot === undefined ? [] : swingsOf(pivot, turn);
	const isPointKnown = judgePoint(poses, span, pivot, swings, options, missing);
	const point = isPointKnown ? pivot!.point : null;
	const pointRegion = isPointKnown ? pivot!.region! : null;
	const turnRegion = turn === null ? null : (fit!.wahba.region ?? null);
	const isAtPivot = length(options.originFromPivot) === 0;
	let place = isAtPivot ? point : null;
	let placeRegion = isAtPivot ? pointRegion : null;
	if (!isAtPivot && point && pointRegion && turn && turnRegion) {
		const origin = (p: Vector, q: Quaternion) => plus(p, turned(q, options.originFromPivot));
		place = origin(point, turn);
		placeRegion = derivedRegion(origin, {point, turn, pointRegion, turnRegion});
	}
	// A number that nothing says how well it is known is not given.
	const isTurnGiven = turn !== null && turnRegion !== null;
	return {
		road: 'gestures',
		hand: options.hand,
		handedness: options.handedness,
		turn: isTurnGiven ? turn : null,
		turnRegion: isTurnGiven ? turnRegion : null,
		point,
		pointRegion,
		originFromPivot: options.originFromPivot,
		place,
		placeRegion,
		steps,
		swings,
		gestureFit: fit ?? null,
		strayMm: pivot?.rms ?? null,
		strayDegrees: fit?.wahba.spread === undefined ? null : fit.wahba.spread / degree,
		missing,
		problems,
		verdict: problems.length > 0 ? 'fail' : missing.length > 0 ? 'unproven' : 'pass',
		enough: options.enough,
	};
}

/** The mean rotation of a stretch. */
function turnDuring(poses: Poses, {from, to}: Span): Quaternion {
	const first = indexAt(poses, from);
	const end = Math.max(first + 1, indexAt(poses, to + 1e-9));
	function* all() {
		for (let index = first; index < end && index < poses.count; index++) yield turnAt(poses, index);
	}
	return meanTurn(all());
}

function solvedTurn(
	fit: GestureFit | undefined,
	gestures: readonly {name: GestureName; turn: Quaternion}[],
	pivot: Pivot | undefined,
	options: SolveOptions,
	missing: Missing[],
	problems: string[],
): Quaternion | null {
	const [lacking] = gestureNames.filter(name => !gestures.some(each => each.name === name));
	const next: Missing = {what: 'rotation', move: gestureMoves[lacking ?? gestureNames[0]]};
	if (fit === undefined) {
		missing.push(next);
		return null;
	}
	const {wahba, up} = fit;
	for (const {name, angle} of sameGestureAngles(gestures, up)) {
		if (angle > overturned)
			problems.push(
				`The two poses ${gestureWords[name]} are ${fixedText(angle / degree, 0)}° apart: one of them was done the other way up. Do them again.`,
			);
	}
	const contradiction = contradictionIn(fit, pivot, options);
	if (problems.length === 0 && contradiction !== undefined) problems.push(contradiction);
	if (problems.length > 0) return null;
	if (wahba.spread === undefined) {
		missing.push(next);
		return null;
	}
	const {deviation} = leastKnown(wahba.region!);
	if (lacking !== undefined) missing.push(next);
	else if (deviation > options.enough.degrees * degree)
		missing.push({
			what: 'rotation',
			move: `do the three poses once more, with the hand turned about a quarter on the table (known to ${fixedText(deviation / degree, 1)}°, ${options.enough.degrees}° asked)`,
		});
	return quaternionOf(wahba.rotation);
}

/** Why the poses cannot be those that were asked for; undefined where they can. */
function contradictionIn(
	{wahba, up}: GestureFit,
	pivot: Pivot | undefined,
	{hand, handedness, isAnywhere = false}: SolveOptions,
): string | undefined {
	const isBelow =
		!isAnywhere && pivot !== undefined && heightAboveDimple(pivot, up) < surelyBelow * length(pivot.point);
	if (wahba.isMirror || isBelow) {
		const other = hand === 'right' ? 'left' : 'right';
		const space = handedness === 'right-handed' ? 'left-handed' : 'right-handed';
		return `The poses are those of a ${hand} hand in a mirror${isBelow ? ', or the hand hung below its dimple' : ''}: give --hand ${other} if it is a ${other} hand, --space ${space} for a space with such axes, or lay the palm down where it was up.`;
	}
	return wahba.spread !== undefined && wahba.spread > mostGestureSpread
		? `The poses do not fit together: they are ${fixedText(wahba.spread / degree, 0)}° off on average. Were they done in the order asked for? --steps says which is which.`
		: undefined;
}

/** How far the tracker was above the pivot on average, mm; negative below it. */
function heightAboveDimple(pivot: Pivot, up: UpAxis): number {
	return dot(plus(pivot.meanPlace, pivot.centre, -1), axisOf(up));
}

/** How far it was turned about each of the hand's axes; about the tracker's where the hand's are not known. */
function swingsOf({spread}: Pick<Pivot, 'spread'>, turn: Quaternion | null): Swing[] {
	const axes = turn === null ? undefined : matrixOf(turn);
	const own = axes === undefined ? spread : product(product(transposed(axes), spread), axes);
	return handTurns.map((words, index) => ({
		...(axes === undefined
			? {about: `about the tracker's ${'xyz'[index]}`, move: `turn the hand about the tracker's ${'xyz'[index]} axis`}
			: words),
		degrees: (Math.SQRT2 * Math.sqrt(Math.max(0, own[4 * index]))) / degree,
	}));
}

function judgePoint(
	poses: Poses,
	span: Span | undefined,
	pivot: Pivot | undefined,
	swings: readonly Swing[],
	{enough}: SolveOptions,
	missing: Missing[],
): boolean {
	const least = [...swings].sort((a, b) => a.degrees - b.degrees)[0];
	if (span === undefined || pivot === undefined) {
		missing.push({
			what: 'position',
			move: 'set the fingertip on a fixed dimple and turn the hand all ways about it for 15 s',
		});
		return false;
	}
	const seconds = span.to - span.from;
	const [, , shrink] = shrinkMm(poses, span, pivot);
	if (shrink > mostShrinkMm) {
		missing.push({
			what: 'position',
			move: `${least.move}: it was turned only ±${fixedText(least.degrees, 0)}° that way`,
		});
		return false;
	}
	if (pivot.region === undefined) {
		missing.push({
			what: 'position',
			move: `go on turning on the dimple: ${leastBlocks} s are needed, there are ${secondsText(Math.floor(seconds))}`,
		});
		return false;
	}
	const {deviation} = leastKnown(pivot.region);
	if (deviation <= enough.mm) return true;
	const most = Math.max(...swings.map(({degrees}) => degrees));
	const more = seconds * ((deviation / enough.mm) ** 2 - 1);
	missing.push({
		what: 'position',
		move:
			least.degrees < most / 2
				? `${least.move}: ±${fixedText(least.degrees, 0)}° so far (point known to ${fixedText(deviation, 1)} mm, ${enough.mm} mm asked)`
				: `go on turning the hand all ways, about ${Math.ceil(more)} s more, and farther (point known to ${fixedText(deviation, 1)} mm, ${enough.mm} mm asked)`,
	});
	return deviation <= uselessMm;
}

/** By how many mm noise may have shortened the lever arm along the eigenvectors of M, least first. */
function shrinkMm(poses: Poses, span: Span, pivot: Pivot): number[] {
	const sums = pivotBlocks(poses, span, span.to - span.from + 1).reduce((sum, each) => joined(sum, each), noPivotSums);
	const {values} = symmetricEigen(rowsOf(pivotMatrix(sums)));
	const noise = turningNoise(poses, span);
	return values.map(value => (length(pivot.point) * 2 * sums.count * noise ** 2) / Math.max(value, 1e-12));
}

/** The median of a squared length in three dimensions, in squared deviations of one (chi-square with 3 degrees of freedom). */
const medianSquare = 2.366;

/** So many rows, spread over a stretch, tell the noise to a few percent. */
const noiseRows = 2000;

/** The tracker's noise of rotation about one axis, rad rms: what lies off the middle of two neighbours, whose variance is 3/2 of it. */
function turningNoise(poses: Poses, {from, to}: Span): number {
	const squares: number[] = [];
	const end = Math.min(poses.count - 1, indexAt(poses, to));
	const start = Math.max(1, indexAt(poses, from));
	const step = Math.max(1, Math.floor((end - start) / noiseRows));
	for (let index = start; index < end; index += step) {
		if (poses.parts[index - 1] !== poses.parts[index + 1]) continue;
		const middle = slerp(turnAt(poses, index - 1), turnAt(poses, index + 1), 0.5);
		squares.push(length(logOf(times(inverse(middle), turnAt(poses, index)))) ** 2);
	}
	return squares.length > 0 ? Math.sqrt(upperMedianOf(squares) / medianSquare / 1.5) : 0;
}
