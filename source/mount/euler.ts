import {degree, type Matrix} from './rotation.ts';

/** Orders that programs ask for most: turn about the first axis, then about the second as it then stands, then about the third. */
export const eulerOrders = ['XYZ', 'ZYX', 'YXZ'] as const;
type EulerOrder = (typeof eulerOrders)[number];

export type Euler = {
	readonly order: EulerOrder;
	/** Degrees about the axes in the order of its letters, each as it stands by then: intrinsic. */
	readonly degrees: readonly [number, number, number];
	/** The same three turns about axes that stay: extrinsic, in the opposite order. */
	readonly extrinsic: string;
	/** The middle angle lies within a degree of ±90°: the other two turn about one line, and only their sum or difference means something. */
	readonly isLocked: boolean;
};

/** How near to 90° the middle angle says nothing of the other two any more, degrees. */
const lockDegrees = 1;

/**
 * A rotation as three angles. Where the middle one is within 1° of ±90° the third is set to 0.
 *
 * Source: Diebel, Representing Attitude (2006), section 5; the signs follow from multiplying out the three matrices.
 */
export function eulerOf(m: Matrix, order: EulerOrder): Euler {
	const [i, j, k] = [...order].map(letter => 'XYZ'.indexOf(letter));
	const at = (row: number, column: number) => m[3 * row + column];
	// +1 where the letters go round as X, Y, Z do.
	const sign = (j - i + 3) % 3 === 1 ? 1 : -1;
	const middle = Math.asin(Math.max(-1, Math.min(1, sign * at(i, k))));
	const isLocked = Math.abs(Math.abs(middle) - Math.PI / 2) < lockDegrees * degree;
	const first = isLocked ? Math.atan2(sign * at(k, j), at(j, j)) : Math.atan2(-sign * at(j, k), at(k, k));
	const third = isLocked ? 0 : Math.atan2(-sign * at(i, j), at(i, i));
	return {
		order,
		degrees: [first / degree, middle / degree, third / degree],
		extrinsic: [...order].reverse().join(''),
		isLocked,
	};
}
