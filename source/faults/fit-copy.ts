import type {FrameHistory} from '../features/frame-history.ts';

export type Copy = {
	readonly gain: number;
	/** How far the copy runs behind its source, seconds. */
	readonly lagSeconds: number;
	/** rms of what the fit leaves, counts: over all readings, and over the quarter in which the source moves fastest. */
	readonly residual: number;
	readonly residualMoving: number;
	/** Von Neumann's ratio of what is left, halved: 1 for white noise, near 0 for anything that follows a movement. */
	readonly whiteness: number;
};

/** Points the fit is made from at the most. */
const mostPoints = 400;

/**
 * Fits one column as a scaled copy of another, with a lag: copy = offset + gain · (source − lag · speed of source), by
 * least squares over all frames since `from`. Undefined with fewer than 30 frames, or where the source stands still.
 */
export function fitCopy(history: FrameHistory, source: number, copy: number, from: number): Copy | undefined {
	const first = Math.max(history.oldest + 1, history.firstAt(from) + 1);
	const last = history.count - 1;
	const whole = last - first;
	if (whole < 30) return undefined;
	// Every so many frames will do: what is asked is one line through hundreds of points.
	const stride = Math.max(1, Math.floor(whole / mostPoints));
	const count = Math.floor(whole / stride);
	const {values} = history;
	const x = new Float64Array(count);
	const v = new Float64Array(count);
	const y = new Float64Array(count);
	const spacing = (history.time(last) - history.time(first)) / whole;
	if (!(spacing > 0)) return undefined;
	for (let i = 0; i < count; i++) {
		const frame = first + i * stride;
		x[i] = values[history.base(frame) + source];
		v[i] = (values[history.base(frame + 1) + source] - values[history.base(frame - 1) + source]) / (2 * spacing);
		y[i] = values[history.base(frame) + copy];
	}
	const [mx, mv, my] = [mean(x), mean(v), mean(y)];
	let xx = 0;
	let xv = 0;
	let vv = 0;
	let xy = 0;
	let vy = 0;
	for (let i = 0; i < count; i++) {
		const [a, b, c] = [x[i] - mx, v[i] - mv, y[i] - my];
		xx += a * a;
		xv += a * b;
		vv += b * b;
		xy += a * c;
		vy += b * c;
	}
	const determinant = xx * vv - xv * xv;
	if (!(determinant > 0)) return undefined;
	const gain = (xy * vv - vy * xv) / determinant;
	const slope = (vy * xx - xy * xv) / determinant;
	const speeds = Float64Array.from(v, Math.abs).sort();
	const fast = speeds[Math.floor(0.75 * (count - 1))];
	let squares = 0;
	let movingSquares = 0;
	let moving = 0;
	let changes = 0;
	let leftBefore = Number.NaN;
	for (let i = 0; i < count; i++) {
		const left = y[i] - my - gain * (x[i] - mx) - slope * (v[i] - mv);
		squares += left * left;
		if (i > 0) changes += (left - leftBefore) ** 2;
		leftBefore = left;
		if (Math.abs(v[i]) >= fast) {
			movingSquares += left * left;
			moving++;
		}
	}
	return {
		gain,
		lagSeconds: gain === 0 ? 0 : -slope / gain,
		whiteness: squares > 0 ? changes / (2 * squares) : 1,
		residual: Math.sqrt(squares / count),
		residualMoving: Math.sqrt(movingSquares / Math.max(1, moving)),
	};
}

function mean(values: Float64Array): number {
	let sum = 0;
	for (const value of values) sum += value;
	return sum / values.length;
}
