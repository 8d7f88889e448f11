import {indexAt, type Poses, placeAt, turnAt} from './poses.ts';
import {angleBetween, plus, type Quaternion, slerp, type Vector} from './rotation.ts';

/** One moment of two tracked things: A the tracker, B what stands in the hand. */
export type Pair = {readonly t: number; readonly a: Pose; readonly b: Pose};
export type Pose = {readonly turn: Quaternion; readonly place: Vector};

/** The speed of turning is compared every so often, seconds: three times the rate at which a hand turns to and fro. */
const gridSeconds = 0.02;

/** A speed is taken over this before and after: noise of 0.2° makes 3°/s of it then, a tenth of what a hand does. */
const reachSeconds = 0.06;

/** Clocks and radio links of two trackers are farther apart than this only where something else is wrong, seconds. */
const mostLag = 0.5;

/** The longest gap across which poses are put between two others, seconds: a hand may turn round within more. */
const mostGap = 0.1;

/** A pose between two others of the same part; undefined outside, and in a gap. */
function poseAt(poses: Poses, t: number): Pose | undefined {
	const after = indexAt(poses, t);
	if (after === 0 || after >= poses.count) {
		return after < poses.count && poses.t[after] === t
			? {turn: turnAt(poses, after), place: placeAt(poses, after)}
			: undefined;
	}
	const gap = poses.t[after] - poses.t[after - 1];
	if (poses.parts[after] !== poses.parts[after - 1] || gap > mostGap) return undefined;
	const share = (t - poses.t[after - 1]) / gap;
	const place = plus(placeAt(poses, after - 1), plus(placeAt(poses, after), placeAt(poses, after - 1), -1), share);
	return {turn: slerp(turnAt(poses, after - 1), turnAt(poses, after), share), place};
}

/** How fast it turns around each point of a grid, rad/s; NaN where it is not known. */
function speeds(poses: Poses, from: number, count: number): Float64Array {
	const values = new Float64Array(count).fill(Number.NaN);
	for (let index = 0; index < count; index++) {
		const before = poseAt(poses, from + index * gridSeconds - reachSeconds);
		const after = poseAt(poses, from + index * gridSeconds + reachSeconds);
		if (before && after) values[index] = angleBetween(before.turn, after.turn) / (2 * reachSeconds);
	}
	return values;
}

/** Correlation of `a` with `b` shifted by some steps of the grid. */
function correlation(a: Float64Array, b: Float64Array, shift: number): number {
	let n = 0;
	let sumA = 0;
	let sumB = 0;
	let squaresA = 0;
	let squaresB = 0;
	let both = 0;
	for (let index = Math.max(0, -shift); index < Math.min(a.length, b.length - shift); index++) {
		const x = a[index];
		const y = b[index + shift];
		if (Number.isNaN(x) || Number.isNaN(y)) continue;
		n++;
		sumA += x;
		sumB += y;
		squaresA += x * x;
		squaresB += y * y;
		both += x * y;
	}
	const spread = (squaresA - sumA ** 2 / n) * (squaresB - sumB ** 2 / n);
	return n < 10 || !(spread > 0) ? -1 : (both - (sumA * sumB) / n) / Math.sqrt(spread);
}

/**
 * By how many seconds B shows a turn later than A: the peak of the cross-correlation of their speeds of turning, between
 * two steps of the grid by the parabola through three. 0 where nothing turned.
 */
export function lagBetween(a: Poses, b: Poses): number {
	const from = Math.max(a.t[0], b.t[0]);
	const to = Math.min(a.t[a.count - 1], b.t[b.count - 1]);
	const count = Math.max(0, Math.floor((to - from) / gridSeconds));
	const speedA = speeds(a, from, count);
	const speedB = speeds(b, from, count);
	const most = Math.round(mostLag / gridSeconds);
	const found: number[] = [];
	for (let shift = -most; shift <= most; shift++) found.push(correlation(speedA, speedB, shift));
	const peak = found.indexOf(Math.max(...found));
	if (!(found[peak] > 0)) return 0;
	const [left, right] = [found[peak - 1] ?? found[peak], found[peak + 1] ?? found[peak]];
	const bend = left - 2 * found[peak] + right;
	const share = bend < 0 ? (left - right) / (2 * bend) : 0;
	return (peak - most + share) * gridSeconds;
}

/** Both at the times of A, B moved by the lag. */
export function pairsOf(a: Poses, b: Poses, lag: number): Pair[] {
	const pairs: Pair[] = [];
	for (let index = 0; index < a.count; index++) {
		const other = poseAt(b, a.t[index] + lag);
		if (other) pairs.push({t: a.t[index], a: {turn: turnAt(a, index), place: placeAt(a, index)}, b: other});
	}
	return pairs;
}
