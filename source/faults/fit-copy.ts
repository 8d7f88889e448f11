import type {FrameHistory} from '../features/frame-history.ts';
import {nthSmallest} from '../features/nth-smallest.ts';

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

/** Source, its speed, copy, and speeds to choose from: used within one call only. The stride is rounded down. */
const [x, v, y, speeds] = Array.from({length: 4}, () => new Float64Array(2 * mostPoints));

/**
 * Fits one column as a scaled copy of another, with a lag: copy = offset + gain · (source − lag · speed of source), by
 * least squares over all frames since `from`. Undefined with fewer than 30 whole frames, or where the source stands still.
 */
export function fitCopy(history: FrameHistory, source: number, copy: number, from: number): Copy | undefined {
	const first = Math.max(history.oldest + 1, history.firstAt(from) + 1);
	const last = history.count - 1;
	const whole = last - first;
	if (whole < 30) return undefined;
	// Every so many frames will do: what is asked is one line through hundreds of points.
	const stride = Math.max(1, Math.floor(whole / mostPoints));
	const frames = Math.floor(whole / stride);
	const {values} = history;
	const spacing = (history.time(last) - history.time(first)) / whole;
	if (!(spacing > 0)) return undefined;
	let [mx, mv, my] = [0, 0, 0];
	let count = 0;
	for (let i = 0; i < frames; i++) {
		const frame = first + i * stride;
		const base = history.base(frame);
		x[count] = values[base + source];
		v[count] = (values[history.base(frame + 1) + source] - values[history.base(frame - 1) + source]) / (2 * spacing);
		y[count] = values[base + copy];
		// Where a reading is missing there is no point.
		if (Number.isNaN(x[count] + v[count] + y[count])) continue;
		mx += x[count];
		mv += v[count];
		my += y[count];
		count++;
	}
	if (count < 30) return undefined;
	mx /= count;
	mv /= count;
	my /= count;
	let xx = 0;
	let xv = 0;
	let vv = 0;
	let xy = 0;
	let vy = 0;
	for (let i = 0; i < count; i++) {
		const a = x[i] - mx;
		const b = v[i] - mv;
		const c = y[i] - my;
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
	for (let i = 0; i < count; i++) speeds[i] = Math.abs(v[i]);
	const fast = nthSmallest(speeds, count, Math.floor(0.75 * (count - 1)));
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
