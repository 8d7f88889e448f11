/** Amplitude, power share and frequency of a sinusoid fitted to readings at given times. */
export type Line = {
	/** Hz, the true frequency tried (not its alias). */
	readonly frequency: number;
	/** Peak, in the unit of the readings. */
	readonly amplitude: number;
	/** Share of the readings' variance about their line that the sinusoid explains, 0…1. */
	readonly share: number;
};

/**
 * A sinusoid's peak is √2 times its rms. Sampled twice a period, at any phase, it shows between nothing and √2 of that: twice the
 * rms that is seen is right on the average of a phase, and more cannot be told from noise.
 */
const mostOfRms = 2;

/**
 * Least-squares sinusoid of one frequency, from the actual times: mean, slope, sine and cosine are fitted together,
 * so uneven spacing and frequencies above half the frame rate (aliases) need no special care.
 *
 * `times` in seconds, `readings` in any unit; both `count` long from `first`. Needs at least 8 readings. Undefined
 * where the times cannot tell the sinusoid from a constant (an alias at 0 Hz).
 *
 * Source: least-squares spectrum with floating mean after Lomb (1976) and Scargle (1982).
 */
export function fitLine(
	times: ArrayLike<number>,
	readings: ArrayLike<number>,
	count: number,
	frequency: number,
): Line | undefined {
	if (count < 8) return undefined;
	const middle = (times[0] + times[count - 1]) / 2;
	const half = Math.max(1e-9, (times[count - 1] - times[0]) / 2);
	// Normal equations of [1, t, cos, sin].
	const m = new Float64Array(20);
	let total = 0;
	for (let i = 0; i < count; i++) {
		const y = readings[i];
		const t = (times[i] - middle) / half;
		const angle = 2 * Math.PI * frequency * (times[i] - middle);
		const c = Math.cos(angle);
		const s = Math.sin(angle);
		m[0] += 1;
		m[1] += t;
		m[2] += c;
		m[3] += s;
		m[4] += y;
		m[6] += t * t;
		m[7] += t * c;
		m[8] += t * s;
		m[9] += t * y;
		m[12] += c * c;
		m[13] += c * s;
		m[14] += c * y;
		m[18] += s * s;
		m[19] += s * y;
		total += y * y;
	}
	const solution = solve4(m);
	if (solution === undefined) return undefined;
	const [a, b, c, s] = solution;
	// Variance about the straight line alone, and what the sinusoid takes off it.
	const determinant = m[0] * m[6] - m[1] * m[1];
	const mean = determinant === 0 ? m[4] / m[0] : (m[4] * m[6] - m[9] * m[1]) / determinant;
	const slope = determinant === 0 ? 0 : (m[0] * m[9] - m[1] * m[4]) / determinant;
	const aroundLine = total - mean * m[4] - slope * m[9];
	const aroundAll = total - a * m[4] - b * m[9] - c * m[14] - s * m[19];
	const share = aroundLine > 0 ? Math.max(0, Math.min(1, 1 - aroundAll / aroundLine)) : 0;
	// Near half the frame rate the sine all but vanishes, and noise alone makes its coefficient large.
	const amplitude = Math.min(Math.hypot(c, s), mostOfRms * Math.sqrt((share * Math.max(0, aroundLine)) / count));
	return {frequency, amplitude, share};
}

/** Gauss elimination of the symmetric 4×4 system above (rows of five); undefined where it is close to singular. */
function solve4(m: Float64Array): [number, number, number, number] | undefined {
	const n = m[0];
	const rows = [
		[m[0], m[1], m[2], m[3], m[4]],
		[m[1], m[6], m[7], m[8], m[9]],
		[m[2], m[7], m[12], m[13], m[14]],
		[m[3], m[8], m[13], m[18], m[19]],
	];
	for (let column = 0; column < 4; column++) {
		let pivot = column;
		for (let row = column + 1; row < 4; row++)
			if (Math.abs(rows[row][column]) > Math.abs(rows[pivot][column])) pivot = row;
		// A hundredth of the readings' number: below it sine or cosine is all but constant or all but absent.
		if (Math.abs(rows[pivot][column]) < 0.01 * n) return undefined;
		[rows[column], rows[pivot]] = [rows[pivot], rows[column]];
		for (let row = column + 1; row < 4; row++) {
			const factor = rows[row][column] / rows[column][column];
			for (let k = column; k < 5; k++) rows[row][k] -= factor * rows[column][k];
		}
	}
	const x = [0, 0, 0, 0];
	for (let row = 3; row >= 0; row--) {
		let rest = rows[row][4];
		for (let k = row + 1; k < 4; k++) rest -= rows[row][k] * x[k];
		x[row] = rest / rows[row][row];
	}
	return [x[0], x[1], x[2], x[3]];
}

/**
 * Where a frequency appears when sampled at a rate, Hz: |f − fs·round(f/fs)|.
 *
 * Source: sampling theorem (Shannon 1949).
 */
export function aliasOf(frequency: number, framesPerSecond: number): number {
	return Math.abs(frequency - framesPerSecond * Math.round(frequency / framesPerSecond));
}
