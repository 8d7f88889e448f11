import {jStat} from 'jstat';
import Quaternion from 'quaternion';
import {SVD} from 'svd-js';
import {describe, expect, it} from 'vitest';
import {eulerOf, eulerOrders} from '../../source/mount/euler.ts';
import {fQuantile} from '../../source/mount/f-quantile.ts';
import {nearestRotation, symmetricEigen} from '../../source/mount/linear.ts';
import {meanTurn} from '../../source/mount/mean-turn.ts';
import {fitPivot, pivotMatrix, pivotSums} from '../../source/mount/pivot-sums.ts';
import type {Poses} from '../../source/mount/poses.ts';
import {
	angleBetween,
	expOf,
	inverse,
	logOf,
	type Matrix,
	matrixOf,
	quaternionOf,
	slerp,
	type Quaternion as Turn,
	times,
	turned,
	type Vector,
} from '../../source/mount/rotation.ts';
import {solveWahba} from '../../source/mount/wahba.ts';
import {seededRandom} from './seeded-random.ts';

const degree = Math.PI / 180;
const {uniform, normal} = seededRandom(77);
const randomTurn = (): Turn => {
	const {w, x, y, z} = new Quaternion(normal(), normal(), normal(), normal()).normalize();
	return [w, x, y, z];
};
const theirs = ([w, x, y, z]: Turn) => new Quaternion(w, x, y, z);
const close = (a: readonly number[], b: readonly number[], digits = 9) => {
	expect(a.length).toBe(b.length);
	for (const [k, value] of a.entries()) expect(value).toBeCloseTo(b[k], digits);
};

function posesOf(list: readonly {turn: Turn; place: Vector}[]): Poses {
	return {
		count: list.length,
		t: Float64Array.from(list, (_, index) => index),
		turns: Float64Array.from(list.flatMap(({turn}) => [...turn])),
		places: Float64Array.from(list.flatMap(({place}) => [...place])),
		parts: new Int32Array(list.length),
	};
}

describe('rotations, against the quaternion package', () => {
	it('multiply, turn vectors, become matrices and come back', () => {
		for (let trial = 0; trial < 200; trial++) {
			const [a, b] = [randomTurn(), randomTurn()];
			const v: Vector = [normal(), normal(), normal()];
			const product = theirs(a).mul(theirs(b));
			close(times(a, b), [product.w, product.x, product.y, product.z]);
			close(turned(a, v), theirs(a).rotateVector([...v]) as number[]);
			close(matrixOf(a), theirs(a).toMatrix(false) as number[]);
			expect(angleBetween(quaternionOf(matrixOf(a)), a)).toBeCloseTo(0, 7);
		}
	});

	it('go through their rotation vectors, and halfway between two', () => {
		for (let trial = 0; trial < 100; trial++) {
			const [a, b] = [randomTurn(), randomTurn()];
			expect(angleBetween(expOf(logOf(a)), a)).toBeCloseTo(0, 7);
			const share = uniform();
			// The shorter arc: the package takes it too.
			const {w, x, y, z} = theirs(a).slerp(theirs(b))(share);
			expect(angleBetween(slerp(a, b, share), [w, x, y, z])).toBeCloseTo(0, 6);
			close(times(a, inverse(a)), [1, 0, 0, 0]);
		}
	});

	it('give angles in XYZ, ZYX and YXZ from which the package makes the same rotation', () => {
		for (let trial = 0; trial < 200; trial++) {
			const turn = randomTurn();
			for (const order of eulerOrders) {
				const {degrees} = eulerOf(matrixOf(turn), order);
				const [a, b, c] = degrees.map(value => value * degree);
				const {w, x, y, z} = Quaternion.fromEuler(a, b, c, order);
				expect(angleBetween([w, x, y, z], turn), order).toBeCloseTo(0, 6);
			}
		}
	});

	it('say gimbal lock within 1° of 90°, and the angles still make the rotation', () => {
		for (const order of eulerOrders) {
			for (const [middle, isLocked] of [
				[89.5, true],
				[-89.5, true],
				[88.5, false],
			] as const) {
				const q = Quaternion.fromEuler(0.4, middle * degree, -0.7, order);
				const turn: Turn = [q.w, q.x, q.y, q.z];
				const euler = eulerOf(matrixOf(turn), order);
				expect(euler.isLocked, `${order} ${middle}`).toBe(isLocked);
				const [a, b, c] = euler.degrees.map(value => value * degree);
				const back = Quaternion.fromEuler(a, b, c, order);
				expect(angleBetween([back.w, back.x, back.y, back.z], turn)).toBeLessThan(isLocked ? 0.03 : 1e-6);
			}
		}
	});

	it('have a mean that signs do not change: of 0°, 10°, 20° about one axis 10°', () => {
		const about = (angle: number): Turn => expOf([0, 0, angle * degree]);
		const flipped = about(20).map(value => -value) as unknown as Turn;
		expect(angleBetween(meanTurn([about(0), about(10), flipped]), about(10))).toBeCloseTo(0, 9);
	});
});

describe('matrices, against the svd-js package', () => {
	it('have the singular values and the nearest rotation that its SVD gives', () => {
		for (let trial = 0; trial < 100; trial++) {
			const b = Array.from({length: 9}, () => normal());
			const {u, v, q} = SVD([b.slice(0, 3), b.slice(3, 6), b.slice(6, 9)]);
			const {rotation, singular} = nearestRotation(b as unknown as Matrix);
			close(
				singular,
				[...q].sort((x: number, y: number) => y - x),
			);
			// U diag(1, 1, ±1) Vᵀ with the sign on its smallest value.
			const det = (m: number[][]) =>
				m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) -
				m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
				m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
			const least = q.indexOf(Math.min(...q));
			const signs = [0, 1, 2].map(k => (k === least ? Math.sign(det(u) * det(v)) : 1));
			const own = [0, 1, 2].flatMap(i =>
				[0, 1, 2].map(j => [0, 1, 2].reduce((sum, k) => sum + u[i][k] * signs[k] * v[j][k], 0)),
			);
			close(rotation, own, 8);
		}
	});

	it('have as eigenvalues of AᵀA the squared singular values of A', () => {
		for (let trial = 0; trial < 50; trial++) {
			const a = [0, 1, 2].map(() => [normal(), normal(), normal()]);
			const square = [0, 1, 2].map(i => [0, 1, 2].map(j => a.reduce((sum, row) => sum + row[i] * row[j], 0)));
			close(
				symmetricEigen(square).values,
				SVD(a)
					.q.map((s: number) => s * s)
					.sort((x: number, y: number) => y - x),
				8,
			);
		}
	});
});

describe('the F quantile', () => {
	it('is that of jstat, and of SciPy 1.17.1 (f.ppf)', () => {
		for (const below of [1, 2, 3, 5, 9, 12, 21, 57, 100]) {
			expect(fQuantile(0.95, 3, below) / jStat.centralF.inv(0.95, 3, below)).toBeCloseTo(1, 6);
		}
		close(
			[1, 2, 3, 9, 21, 100].map(n => fQuantile(0.95, 3, n)),
			[215.70734537, 19.16429213, 9.27662815, 3.86254836, 3.07246699, 2.69553425],
			6,
		);
	});
});

describe('the pivot', () => {
	// check-values O1: worked by hand.
	const quarter = (axis: Vector): Turn => expOf(axis.map(value => (value * Math.PI) / 2) as unknown as Vector);
	const worked = [
		{turn: quarter([0, 0, 1]), place: [120, 190, 270] as Vector},
		{turn: quarter([0, 0, -1]), place: [80, 210, 270] as Vector},
		{turn: quarter([1, 0, 0]), place: [90, 230, 280] as Vector},
		{turn: quarter([-1, 0, 0]), place: [90, 170, 320] as Vector},
	];

	it('is (10, 20, 30) and (100, 200, 300) in the worked example, whose M is diag(3, 4, 3)', () => {
		const sums = pivotSums(posesOf(worked), 0, 4, [0, 0, 0]);
		const fit = fitPivot(sums)!;
		close(fit.point, [10, 20, 30]);
		close(fit.centre, [100, 200, 300]);
		expect(fit.rms).toBeCloseTo(0, 5);
		close(pivotMatrix(sums), [3, 0, 0, 0, 4, 0, 0, 0, 3]);
	});

	it('is not known along z from the first two alone: M is diag(2, 2, 0)', () => {
		const sums = pivotSums(posesOf(worked.slice(0, 2)), 0, 2, [0, 0, 0]);
		close(
			pivotMatrix(sums),
			[2, 0, 0, 0, 2, 0, 0, 0, 0].map((v, k) => (k % 4 === 0 ? v : 0)),
		);
		expect(fitPivot(sums)).toBeUndefined();
	});

	it('is the least squares answer that svd-js gives for the whole system R p − c = −t', () => {
		const list = Array.from({length: 25}, () => ({
			turn: randomTurn(),
			place: [100 * normal(), 100 * normal(), 100 * normal()] as Vector,
		}));
		const fit = fitPivot(pivotSums(posesOf(list), 0, 25, [0, 0, 0]))!;
		const rows = list.flatMap(({turn}) => {
			const m = matrixOf(turn);
			return [0, 1, 2].map(i => [m[3 * i], m[3 * i + 1], m[3 * i + 2], ...[0, 1, 2].map(j => (i === j ? -1 : 0))]);
		});
		const right = list.flatMap(({place}) => place.map(value => -value));
		const {u, v, q} = SVD(rows);
		const weights = q.map((s: number, k: number) => rows.reduce((sum, _, i) => sum + u[i][k] * right[i], 0) / s);
		const answer = v.map((row: number[]) => row.reduce((sum, value, k) => sum + value * weights[k], 0));
		close([...fit.point, ...fit.centre], answer, 7);
		const squares = rows.reduce(
			(sum, row, i) => sum + (row.reduce((s, value, k) => s + value * answer[k], 0) - right[i]) ** 2,
			0,
		);
		expect(fit.rms).toBeCloseTo(Math.sqrt(squares / 25), 6);
	});
});

describe("Wahba's problem", () => {
	// check-values O2: SciPy 1.17.1, Rotation.align_vectors, on these six digits.
	const sightings = [
		{seen: [-0.529522, 0.832105, 0.164947], known: [0, 1, 0]},
		{seen: [0.822207, 0.444391, 0.355658], known: [1, 0, 0]},
		{seen: [-0.20552, -0.309769, 0.928334], known: [0, 0, 1]},
	] as unknown as Parameters<typeof solveWahba>[0];

	it('has the answer that SciPy gives', () => {
		const {rotation, rootSum, isMirror} = solveWahba(sightings)!;
		close(quaternionOf(rotation), [0.94621588, 0.12710122, -0.14782234, 0.25820408], 7);
		expect(rootSum).toBeCloseTo(0.0176136579, 8);
		expect(isMirror).toBe(false);
	});

	it('is told to be a mirror where one direction is the opposite one', () => {
		const [first, ...rest] = sightings;
		expect(solveWahba([{...first, known: [0, -1, 0]}, ...rest])!.isMirror).toBe(true);
	});

	it('has the spread of Shuster and Oh: σ, σ, σ/√2 of two directions, σ/√2 each of three', () => {
		const three = [0, 1, 2].map(k => {
			const known = [0, 1, 2].map(j => (j === k ? 1 : 0)) as unknown as Vector;
			return {
				seen: turned(expOf([0.01, -0.02, 0.015]), turned(expOf(k === 0 ? [0, 0.03, 0] : [0, 0, 0.02]), known)),
				known,
			};
		});
		const of = (list: typeof three) => {
			const {spread, region} = solveWahba(list)!;
			return symmetricEigen([0, 1, 2].map(i => [0, 1, 2].map(j => region!.covariance[3 * i + j]))).values.map(
				v => Math.sqrt(v) / spread!,
			);
		};
		close(of(three), [Math.SQRT1_2, Math.SQRT1_2, Math.SQRT1_2], 1);
		close(of(three.slice(0, 2)), [1, 1, Math.SQRT1_2], 1);
	});

	it('has no answer with one direction only', () => {
		expect(solveWahba(sightings.slice(0, 1))).toBeUndefined();
		expect(solveWahba([sightings[0], sightings[0]])).toBeUndefined();
	});
});
