import {addOuter, inverted, nearestRotation, product, rowsOf, symmetricEigen, zeros} from './linear.ts';
import {jackknife, leastBlocks} from './region.ts';
import {
	apply,
	degree,
	inverse,
	length,
	logOf,
	type Matrix,
	matrixOf,
	plus,
	type Quaternion,
	quaternionOf,
	times,
	transposed,
	turned,
	type Vector,
} from './rotation.ts';
import {blocksOf, type Offset} from './second-controller.ts';
import type {Pair, Pose} from './two-streams.ts';

/** One motion of the tracker (A) and of the hand (B) between the same two moments: A X = X B. */
export type Motion = {readonly a: Pose; readonly b: Pose};

/** Smaller turns say little of the axis they are about: the error of an axis goes with 1/angle. */
const leastTurn = 15 * degree;

/** Moments that motions are taken between: sixty give 1,770 motions, and more add nothing but time. */
const mostMoments = 60;

/** Both axes of the turning must be there: the second eigenvalue of the axes' spread, as a share of the first. */
const leastSecondAxis = 0.01;

type HandEye = {readonly turn: Quaternion; readonly place: Vector};

/**
 * X from motions A X = X B: the rotation by Park and Martin (the rotation vectors obey α = R β), then the translation by
 * least squares of (R_A − 1) p = R t_B − t_A. Undefined where all motions turn about one axis.
 *
 * Source: Park & Martin, IEEE Transactions on Robotics and Automation 10 (1994), 717–721.
 */
export function solveHandEye(motions: readonly Motion[]): HandEye | undefined {
	if (motions.length < 2) return undefined;
	const b = zeros();
	const axes = zeros();
	for (const motion of motions) {
		const alpha = logOf(motion.a.turn);
		addOuter(b, alpha, logOf(motion.b.turn));
		addOuter(axes, alpha, alpha);
	}
	const {values} = symmetricEigen(rowsOf(axes as unknown as Matrix));
	if (values[1] < leastSecondAxis * values[0]) return undefined;
	const {rotation} = nearestRotation(b as unknown as Matrix);
	const left = zeros();
	let right: Vector = [0, 0, 0];
	for (const motion of motions) {
		const rows = matrixOf(motion.a.turn).map((value, k) => value - (k % 4 === 0 ? 1 : 0)) as unknown as Matrix;
		const wanted = plus(apply(rotation, motion.b.place), motion.a.place, -1);
		const square = product(transposed(rows), rows);
		for (let k = 0; k < 9; k++) left[k] += square[k];
		right = plus(right, apply(transposed(rows), wanted));
	}
	const back = inverted(left as unknown as Matrix);
	return back && {turn: quaternionOf(rotation), place: apply(back, right)};
}

/** The motion from one pose to another, seen from the first: P₁⁻¹ P₂. */
function between(first: Pose, second: Pose): Pose {
	const back = inverse(first.turn);
	return {turn: times(back, second.turn), place: turned(back, plus(second.place, first.place, -1))};
}

/** Motions between moments spread over the pairs, those that turn enough. */
function motionsOf(pairs: readonly Pair[]): Motion[] {
	const step = Math.max(1, Math.ceil(pairs.length / mostMoments));
	const moments = pairs.filter((_, index) => index % step === 0);
	const motions: Motion[] = [];
	for (const [index, first] of moments.entries()) {
		for (const second of moments.slice(index + 1)) {
			const a = between(first.a, second.a);
			// Turns near half a circle have no one rotation vector.
			const angle = length(logOf(a.turn));
			if (angle >= leastTurn && angle < Math.PI - leastTurn) motions.push({a, b: between(first.b, second.b)});
		}
	}
	return motions;
}

/** As `meanOffset`, of two streams whose spaces have nothing to do with each other. */
export function offsetAcrossSpaces(pairs: readonly Pair[]): Offset | undefined {
	const found = solveHandEye(motionsOf(pairs));
	if (found === undefined) return undefined;
	const blocks = blocksOf(pairs, 1);
	const without = blocks.map((_, left) => solveHandEye(motionsOf(blocks.filter((__, index) => index !== left).flat())));
	const whole = without.filter(each => each !== undefined);
	const isEnough = blocks.length >= leastBlocks && whole.length === blocks.length;
	const motions = motionsOf(pairs);
	let squaresTurn = 0;
	let squaresPlace = 0;
	for (const {a, b} of motions) {
		// A X and X B, as poses.
		const one = {turn: times(a.turn, found.turn), place: plus(turned(a.turn, found.place), a.place)};
		const other = {turn: times(found.turn, b.turn), place: plus(turned(found.turn, b.place), found.place)};
		squaresTurn += length(logOf(times(inverse(one.turn), other.turn))) ** 2;
		squaresPlace += length(plus(one.place, other.place, -1)) ** 2;
	}
	return {
		...found,
		turnRegion: isEnough ? jackknife(whole.map(({turn}) => logOf(times(turn, inverse(found.turn))))) : undefined,
		placeRegion: isEnough ? jackknife(whole.map(({place}) => place)) : undefined,
		rmsDegrees: Math.sqrt(squaresTurn / motions.length) / degree,
		rmsMm: Math.sqrt(squaresPlace / motions.length),
		blocks: blocks.length,
	};
}
