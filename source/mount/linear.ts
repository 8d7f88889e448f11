import {EigenvalueDecomposition, Matrix as MlMatrix, SingularValueDecomposition} from 'ml-matrix';
import type {Matrix, Vector} from './rotation.ts';

/** Eigenvalues of a symmetric matrix from the largest down, with their unit vectors. */
type Eigen = {readonly values: readonly number[]; readonly vectors: readonly (readonly number[])[]};

/** Of a symmetric matrix, row by row. */
export function symmetricEigen(rows: readonly (readonly number[])[]): Eigen {
	const {realEigenvalues, eigenvectorMatrix} = new EigenvalueDecomposition(new MlMatrix(rows.map(row => [...row])), {
		assumeSymmetric: true,
	});
	const order = realEigenvalues.map((_, index) => index).sort((a, b) => realEigenvalues[b] - realEigenvalues[a]);
	return {
		values: order.map(index => realEigenvalues[index]),
		vectors: order.map(index => eigenvectorMatrix.getColumn(index)),
	};
}

/**
 * The rotation R that comes nearest to `b`, in that it makes trace(Rᵀ b) largest: U diag(1, 1, det U det V) Vᵀ of its
 * singular values. Also the least squares answer to Wahba's problem and to `α = R β`, with b = Σ α βᵀ.
 *
 * Source: Markley, Journal of the Astronautical Sciences 36 (1988), 245–258.
 */
export function nearestRotation(b: Matrix): {
	readonly rotation: Matrix;
	readonly isMirror: boolean;
	readonly singular: Vector;
} {
	const svd = new SingularValueDecomposition(new MlMatrix([b.slice(0, 3), b.slice(3, 6), b.slice(6, 9)]), {
		autoTranspose: true,
	});
	const u = svd.leftSingularVectors;
	const v = svd.rightSingularVectors;
	const sign = determinant(u.to1DArray()) * determinant(v.to1DArray()) < 0 ? -1 : 1;
	const rotation = u
		.mmul(MlMatrix.diag([1, 1, sign]))
		.mmul(v.transpose())
		.to1DArray();
	const [s1, s2, s3] = svd.diagonal;
	return {rotation: rotation as unknown as Matrix, isMirror: sign < 0, singular: [s1, s2, s3]};
}

function determinant(m: readonly number[]): number {
	return m[0] * (m[4] * m[8] - m[5] * m[7]) - m[1] * (m[3] * m[8] - m[5] * m[6]) + m[2] * (m[3] * m[7] - m[4] * m[6]);
}

/** The inverse of a matrix by its cofactors; undefined where it has none. */
export function inverted(m: Matrix): Matrix | undefined {
	const d = determinant(m);
	if (!(Math.abs(d) > 0) || !Number.isFinite(d)) return undefined;
	return [
		(m[4] * m[8] - m[5] * m[7]) / d,
		(m[2] * m[7] - m[1] * m[8]) / d,
		(m[1] * m[5] - m[2] * m[4]) / d,
		(m[5] * m[6] - m[3] * m[8]) / d,
		(m[0] * m[8] - m[2] * m[6]) / d,
		(m[2] * m[3] - m[0] * m[5]) / d,
		(m[3] * m[7] - m[4] * m[6]) / d,
		(m[1] * m[6] - m[0] * m[7]) / d,
		(m[0] * m[4] - m[1] * m[3]) / d,
	];
}

/** `a b`, row by row. */
export function product(a: Matrix, b: Matrix): Matrix {
	const out: number[] = [];
	for (let row = 0; row < 9; row += 3) {
		for (let column = 0; column < 3; column++)
			out.push(a[row] * b[column] + a[row + 1] * b[column + 3] + a[row + 2] * b[column + 6]);
	}
	return out as unknown as Matrix;
}

/** Σ weight · a bᵀ into `sum`. */
export function addOuter(sum: number[], a: readonly number[], b: readonly number[], weight = 1): void {
	for (let row = 0; row < 3; row++) {
		for (let column = 0; column < 3; column++) sum[3 * row + column] += weight * a[row] * b[column];
	}
}

export const zeros = (): number[] => [0, 0, 0, 0, 0, 0, 0, 0, 0];

/** `m` as rows, for what wants them. */
export function rowsOf(m: Matrix): number[][] {
	return [m.slice(0, 3), m.slice(3, 6), m.slice(6, 9)];
}
