import {eulerOf, eulerOrders} from './euler.ts';
import type {Order} from './pose-columns.ts';
import type {Direction} from './pose-form.ts';
import type {Region} from './region.ts';
import {
	degree,
	expOf,
	inverse,
	length,
	logOf,
	matrixOf,
	noTurn,
	plus,
	type Quaternion,
	scaled,
	times,
	turned,
	upright,
	type Vector,
} from './rotation.ts';

/** The tracker-to-hand offset that was to be typed in: rotation, and position in mm. */
export type Typed = {
	readonly turn: Quaternion;
	readonly place: Vector;
	readonly name: string;
	/** How the quaternions of the earlier log were read, where that is known. */
	readonly order?: Order;
	readonly direction?: Direction;
};

type Slip = {readonly what: string; readonly timesBetter: number};

export type VerifyResult = {
	readonly against: string;
	/** What is left of position and rotation. */
	readonly leftMm: number;
	readonly leftDegrees: number;
	/** Nothing is left beyond what the log can tell. */
	readonly isZero: boolean;
	/** The one slip that explains what is left. */
	readonly slip: Slip | null;
};

/** The offset as measured on a log of the hand after it was typed in: what is left of it. */
type Left = {
	readonly turn: Quaternion;
	readonly place: Vector;
	readonly turnRegion: Region;
	readonly placeRegion: Region;
};

/** check-values O6: told only where it explains what is left so many times better. */
const surelyBetter = 5;

/** Within this, a difference is what straps and skin allow. */
const allowed = {mm: 5, radians: 3 * degree};

/** What a slip makes of an offset, and how many things were done wrong. */
type Guess = {readonly what: string; readonly slips: number; readonly turn: Quaternion; readonly place: Vector};

/**
 * Whether the offset that was typed in is right, by a log of the hand as the host shows it now: then no offset is left. If
 * one is, looks for the slip in typing that would leave just that: the inverse taken, numbers in another order, a sign
 * turned, angles in another order, metres for millimetres.
 */
export function verifyOffset(left: Left, typed: Typed): VerifyResult {
	const leftMm = length(left.place);
	const leftRadians = length(logOf(left.turn));
	const known = {
		mm: Math.max(
			allowed.mm,
			Math.sqrt(left.placeRegion.factor * Math.max(...[0, 4, 8].map(k => left.placeRegion.covariance[k]))),
		),
		radians: Math.max(
			allowed.radians,
			Math.sqrt(left.turnRegion.factor * Math.max(...[0, 4, 8].map(k => left.turnRegion.covariance[k]))),
		),
	};
	const isZero = leftMm <= known.mm && leftRadians <= known.radians;
	const found = {against: typed.name, leftMm, leftDegrees: leftRadians / degree, isZero};
	if (isZero) return {...found, slip: null};
	const off = (turn: Quaternion, place: Vector) =>
		Math.hypot(
			length(logOf(times(inverse(turn), left.turn))) / known.radians,
			length(plus(left.place, place, -1)) / known.mm,
		);
	const without = off(noTurn, [0, 0, 0]);
	let best: {guess: Guess; off: number} | undefined;
	for (const guess of guesses(typed)) {
		// The host shows tracker · slip; the hand is at tracker · typed: slip⁻¹ · typed is left.
		const back = inverse(guess.turn);
		const own = off(times(back, typed.turn), turned(back, plus(typed.place, guess.place, -1)));
		// Of explanations that are alike, the one with fewer slips.
		const isBetter =
			best === undefined ||
			(guess.slips === best.guess.slips
				? own < best.off
				: guess.slips < best.guess.slips
					? own < 1.5 * best.off
					: own < best.off / 1.5);
		if (isBetter) best = {guess, off: own};
	}
	// What is known no better than 1 cannot be told from a perfect fit.
	const timesBetter = without / Math.max(best?.off ?? Number.POSITIVE_INFINITY, 1 / surelyBetter);
	return {
		...found,
		slip: best && best.off <= 1.5 && timesBetter >= surelyBetter ? {what: best.guess.what, timesBetter} : null,
	};
}

type Turned = {readonly what: string; readonly slips: number; readonly turn: Quaternion};
type Placed = {readonly what: string; readonly slips: number; readonly place: Vector};

function* guesses({turn, place}: Typed): Generator<Guess> {
	const inversePlace = scaled(turned(inverse(turn), place), -1);
	const inverted = {turn: inverse(turn), place: inversePlace};
	const turns = [...turnSlips(turn)];
	const places = [...placeSlips(place)];
	yield {
		what: 'the offset of the other direction was typed in (hand to tracker for tracker to hand)',
		slips: 1,
		...inverted,
	};
	for (const each of turns) yield {...each, place};
	for (const each of places) yield {...each, turn};
	for (const each of turnSlips(inverted.turn))
		yield {
			...each,
			what: `the other direction was typed in, and ${each.what}`,
			slips: each.slips + 1,
			place: inversePlace,
		};
	for (const each of placeSlips(inversePlace))
		yield {
			...each,
			what: `the other direction was typed in, and ${each.what}`,
			slips: each.slips + 1,
			turn: inverted.turn,
		};
	for (const a of turns.filter(({slips}) => slips === 1)) {
		for (const b of places.filter(({slips}) => slips === 1))
			yield {what: `${a.what}, and ${b.what}`, slips: 2, turn: a.turn, place: b.place};
	}
}

/** Every choice among three signs: the places of those that are turned. */
const signChoices: readonly (readonly number[])[] = Array.from({length: 8}, (_, signs) =>
	[0, 1, 2].filter(k => (signs >> k) & 1),
);

/** What went wrong with the order, and with signs; either may be nothing. */
function slipText(order: string | undefined, signs: string | undefined): string {
	return [order, signs].filter(part => part !== undefined).join(', and ');
}

/** The 24 orders of the quaternion's four numbers, with their signs; the three angles in other orders and with other signs. */
function* turnSlips(turn: Quaternion): Generator<Turned> {
	yield {what: 'the rotation was typed in for the other direction', slips: 1, turn: inverse(turn)};
	for (const order of permutations([0, 1, 2, 3])) yield* quaternionSlips(turn, order);
	const matrix = matrixOf(turn);
	for (const written of eulerOrders) {
		const {degrees} = eulerOf(matrix, written);
		for (const read of permutations([0, 1, 2])) yield* angleSlips(written, degrees, read.map(k => 'XYZ'[k]).join(''));
	}
}

/** A quaternion whose numbers were taken in an order, with every choice of signs. */
function* quaternionSlips(turn: Quaternion, order: readonly number[]): Generator<Turned> {
	const names = ['w', 'x', 'y', 'z'];
	const isOrdered = order.every((from, k) => from === k);
	for (const signs of signChoices) {
		const flipped = signs.map(k => k + 1);
		if (isOrdered && flipped.length === 0) continue;
		const q = order.map((from, k) => turn[from] * (flipped.includes(k) ? -1 : 1)) as unknown as Quaternion;
		const what = slipText(
			isOrdered
				? undefined
				: `the quaternion was taken in the order ${order.map(from => names[from]).join('')} for wxyz`,
			flipped.length === 0
				? undefined
				: `the sign of the quaternion's ${flipped.map(k => names[k]).join(', ')} was turned`,
		);
		yield {what, slips: (isOrdered ? 0 : orderSlips(order)) + flipped.length, turn: upright(q)};
	}
}

/** Angles that were `written` in one order and turned in the order of `letters`, with every choice of signs. */
function* angleSlips(written: string, degrees: readonly number[], letters: string): Generator<Turned> {
	const isSame = letters === written;
	for (const flipped of signChoices) {
		if (isSame && flipped.length === 0) continue;
		const angle = (letter: string) => {
			const k = written.indexOf(letter);
			return degrees[k] * (flipped.includes(k) ? -1 : 1);
		};
		const q = [...letters].reduce((sum, letter) => times(sum, aboutAxis(letter, angle(letter))), noTurn);
		const what = slipText(
			isSame ? undefined : `the angles of ${written} were turned in the order ${letters}`,
			flipped.length === 0
				? undefined
				: `the sign of the ${written} angle about ${flipped.map(k => written[k]).join(', ')} was turned`,
		);
		yield {what, slips: (isSame ? 0 : 1) + flipped.length, turn: q};
	}
}

/** Reading xyzw for wxyz, or the other way round, is one slip; so is swapping two numbers. */
function orderSlips(order: readonly number[]): number {
	const isMoved = order.join('') === '1230' || order.join('') === '3012';
	return isMoved || order.filter((from, k) => from !== k).length === 2 ? 1 : 2;
}

function* placeSlips(place: Vector): Generator<Placed> {
	for (const [factor, what] of [
		[1000, 'the position was typed in mm for m'],
		[0.001, 'the position was typed in m for mm'],
		[10, 'the position was typed in mm for cm'],
		[0.1, 'the position was typed in cm for mm'],
		[0, 'the position was left at 0'],
	] as const)
		yield {what, slips: 1, place: scaled(place, factor)};
	for (const order of permutations([0, 1, 2])) yield* orderedPlaces(place, order);
}

/** A position whose numbers were taken in an order, with every choice of signs. */
function* orderedPlaces(place: Vector, order: readonly number[]): Generator<Placed> {
	const moved = order.filter((from, k) => from !== k).length;
	const slips = moved === 0 ? 0 : moved === 2 ? 1 : 2;
	for (const flipped of signChoices) {
		if (moved === 0 && flipped.length === 0) continue;
		const what = slipText(
			moved === 0 ? undefined : `the position was taken in the order ${order.map(from => 'xyz'[from]).join('')}`,
			flipped.length === 0
				? undefined
				: `the sign of the position's ${flipped.map(k => 'xyz'[k]).join(', ')} was turned`,
		);
		yield {
			what,
			slips: slips + flipped.length,
			place: order.map((from, k) => place[from] * (flipped.includes(k) ? -1 : 1)) as unknown as Vector,
		};
	}
}

function aboutAxis(letter: string, degrees: number): Quaternion {
	return expOf(['X', 'Y', 'Z'].map(each => (each === letter ? degrees * degree : 0)) as unknown as Vector);
}

function* permutations(list: readonly number[]): Generator<number[]> {
	if (list.length === 0) yield [];
	for (const [index, first] of list.entries()) {
		for (const rest of permutations([...list.slice(0, index), ...list.slice(index + 1)])) yield [first, ...rest];
	}
}
