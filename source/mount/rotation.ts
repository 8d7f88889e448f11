/** Three numbers along x, y and z. */
export type Vector = readonly [number, number, number];

/** A unit quaternion, scalar first. `q` and `−q` are one rotation. */
export type Quaternion = readonly [w: number, x: number, y: number, z: number];

/** A rotation matrix row by row: it takes the axes of one body to those of another, `v' = R v`. */
export type Matrix = readonly [number, number, number, number, number, number, number, number, number];

export const noTurn: Quaternion = [1, 0, 0, 0];
export const degree = Math.PI / 180;

export function dot(a: Vector, b: Vector): number {
	return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function cross(a: Vector, b: Vector): Vector {
	return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

export function plus(a: Vector, b: Vector, times = 1): Vector {
	return [a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]];
}

export function scaled(a: Vector, factor: number): Vector {
	return [a[0] * factor, a[1] * factor, a[2] * factor];
}

export function length(a: Vector): number {
	return Math.hypot(...a);
}

/** The unit vector along `a`; a vector of length 0 stays as it is. */
export function unit(a: Vector): Vector {
	return scaled(a, 1 / (length(a) || 1));
}

/** First `b`, then `a` (Hamilton's product). */
export function times(a: Quaternion, b: Quaternion): Quaternion {
	return [
		a[0] * b[0] - a[1] * b[1] - a[2] * b[2] - a[3] * b[3],
		a[0] * b[1] + a[1] * b[0] + a[2] * b[3] - a[3] * b[2],
		a[0] * b[2] - a[1] * b[3] + a[2] * b[0] + a[3] * b[1],
		a[0] * b[3] + a[1] * b[2] - a[2] * b[1] + a[3] * b[0],
	];
}

/** The rotation back. */
export function inverse([w, x, y, z]: Quaternion): Quaternion {
	return [w, -x, -y, -z];
}

/** The same rotation at length 1, its scalar part not below 0. */
export function upright(q: Quaternion): Quaternion {
	const size = Math.hypot(...q) * (q[0] < 0 ? -1 : 1);
	return [q[0] / size, q[1] / size, q[2] / size, q[3] / size];
}

export function turned(q: Quaternion, v: Vector): Vector {
	return apply(matrixOf(q), v);
}

export function matrixOf([w, x, y, z]: Quaternion): Matrix {
	return [
		1 - 2 * (y * y + z * z),
		2 * (x * y - w * z),
		2 * (x * z + w * y),
		2 * (x * y + w * z),
		1 - 2 * (x * x + z * z),
		2 * (y * z - w * x),
		2 * (x * z - w * y),
		2 * (y * z + w * x),
		1 - 2 * (x * x + y * y),
	];
}

export function apply(m: Matrix, v: Vector): Vector {
	return [
		m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
		m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
		m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
	];
}

export function transposed(m: Matrix): Matrix {
	return [m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]];
}

/**
 * The quaternion of a rotation matrix, scalar part not below 0. Divides by the largest of the four components, which is
 * never below 1/2 (Shepperd, Journal of Guidance and Control 1 (1978), 223–224).
 */
export function quaternionOf(m: Matrix): Quaternion {
	const trace = m[0] + m[4] + m[8];
	const squares = [trace, m[0], m[4], m[8]];
	const largest = squares.indexOf(Math.max(...squares));
	const q: Quaternion =
		largest === 0
			? [1 + trace, m[7] - m[5], m[2] - m[6], m[3] - m[1]]
			: largest === 1
				? [m[7] - m[5], 1 + m[0] - m[4] - m[8], m[1] + m[3], m[2] + m[6]]
				: largest === 2
					? [m[2] - m[6], m[1] + m[3], 1 - m[0] + m[4] - m[8], m[5] + m[7]]
					: [m[3] - m[1], m[2] + m[6], m[5] + m[7], 1 - m[0] - m[4] + m[8]];
	return upright(q);
}

/** The rotation vector: along the axis, as long as the angle in radians, 0 to π. */
export function logOf(q: Quaternion): Vector {
	const [w, x, y, z] = upright(q);
	const sine = Math.hypot(x, y, z);
	const factor = sine < 1e-12 ? 2 : (2 * Math.atan2(sine, w)) / sine;
	return [factor * x, factor * y, factor * z];
}

/** The rotation about a vector by its length in radians. */
export function expOf(v: Vector): Quaternion {
	const angle = length(v);
	const factor = angle < 1e-12 ? 0.5 : Math.sin(angle / 2) / angle;
	return [Math.cos(angle / 2), factor * v[0], factor * v[1], factor * v[2]];
}

/** The angle between two rotations, radians, 0 to π. */
export function angleBetween(a: Quaternion, b: Quaternion): number {
	return length(logOf(times(inverse(a), b)));
}

/** Between `a` (share 0) and `b` (share 1) along the shorter arc, at an even speed (Shoemake, SIGGRAPH 1985). */
export function slerp(a: Quaternion, b: Quaternion, share: number): Quaternion {
	return times(a, expOf(scaled(logOf(times(inverse(a), b)), share)));
}
