import {CannotError} from '../cannot-error.ts';
import type {Order} from './pose-columns.ts';
import {type Direction, type LengthUnit, unitMm} from './pose-form.ts';
import {type Poses, placeAt, turnAt} from './poses.ts';
import type {RawPoses} from './raw-poses.ts';
import {angleBetween, degree, length, plus, type Quaternion} from './rotation.ts';

/** What was set right or left out of a log, in numbers of rows and places. */
export type Repairs = {
	readonly zero: number;
	readonly notUnit: number;
	readonly flipped: number;
	readonly frozen: number;
	readonly jumps: number;
	readonly repeated: number;
	readonly falling: number;
};

/** How to read rows: see `PoseForm`. */
export type Form = {readonly order: Order; readonly direction: Direction};

/** check-values O6: a tracker that goes so far within a row has lost its place and found another. */
const jumpMm = 200;
const jumpTurn = 60 * degree;

/** The same seven numbers for so long are a tracker that was lost, not a still one: its noise moves the last digits. */
const frozenSeconds = 0.5;
const frozenRows = 10;

/** Shorter than this a quaternion is none; off 1 by more, it is told. */
const zeroLength = 0.1;
const unitLength = 0.02;

/** Of all rows, so many may come out of order before the column is no time at all. */
const mostFalling = 0.05;

/** Seconds of a row from a column whose unit is told by its steps: rows come 2 to 2000 times a second. */
function tickSeconds(steps: readonly number[]): number {
	const rising = steps.filter(step => step > 0).sort((a, b) => a - b);
	const median = rising[rising.length >> 1] ?? 1;
	if (median < 0.5) return 1;
	if (median < 500) return 1e-3;
	return median < 5e5 ? 1e-6 : 1e-9;
}

/** Times in seconds from the first row on. `rate` rows a second where the log has no times. */
export function secondsOf(raw: RawPoses, isClock: boolean, rate: number): Float64Array {
	const hasTimes = raw.t.some(Number.isFinite);
	if (!hasTimes) return Float64Array.from(raw.t, (_, index) => index / rate);
	const steps = raw.t.slice(1).map((time, index) => time - raw.t[index]);
	const tick = isClock ? 1 : tickSeconds(steps);
	const first = raw.t.find(Number.isFinite) ?? 0;
	return Float64Array.from(raw.t, time => (time - first) * tick);
}

/**
 * Poses ready for work: of length 1, no sign flips, times rising, positions in mm, in parts where the tracking broke off.
 * The quaternion's numbers stay as they stand: none of this depends on which is which. Rows with a quaternion of length 0, of a time that is there already, and of a tracker that stood frozen are left out.
 * Throws `CannotError` where times do not rise at all.
 */
export function cleanPoses(
	raw: RawPoses,
	seconds: Float64Array,
	unit: LengthUnit,
	source: string,
): {readonly poses: Poses; readonly repairs: Repairs} {
	const rows = seconds.length;
	const t = new Float64Array(rows);
	const turns = new Float64Array(4 * rows);
	const places = new Float64Array(3 * rows);
	const parts = new Int32Array(rows);
	const repairs = {zero: 0, notUnit: 0, flipped: 0, frozen: 0, jumps: 0, repeated: 0, falling: 0};
	const frozen = frozenIn(raw, seconds);
	const scale = unitMm[unit];
	let count = 0;
	let part = 0;
	let shift = 0;
	let last: Quaternion | undefined;
	for (let row = 0; row < rows; row++) {
		const at = 4 * row;
		const a = raw.turns[at];
		const b = raw.turns[at + 1];
		const c = raw.turns[at + 2];
		const d = raw.turns[at + 3];
		const size = Math.sqrt(a * a + b * b + c * c + d * d);
		if (size < zeroLength) {
			repairs.zero++;
			continue;
		}
		if (Math.abs(size - 1) > unitLength) repairs.notUnit++;
		if (frozen[row] === 1) {
			repairs.frozen++;
			if (row > 0 && frozen[row - 1] === 0) part++;
			continue;
		}
		if (!Number.isFinite(seconds[row])) {
			repairs.falling++;
			continue;
		}
		let time = seconds[row] + shift;
		if (count > 0 && time === t[count - 1]) {
			repairs.repeated++;
			continue;
		}
		if (count > 0 && time < t[count - 1]) {
			// A clock that was set back: what follows goes on from here, and has nothing to do with what was.
			repairs.falling++;
			shift += t[count - 1] - time + 0.01;
			time = seconds[row] + shift;
			part++;
		}
		let q: Quaternion = [a / size, b / size, c / size, d / size];
		if (last && q[0] * last[0] + q[1] * last[1] + q[2] * last[2] + q[3] * last[3] < 0) {
			q = [-q[0], -q[1], -q[2], -q[3]];
			repairs.flipped++;
		}
		for (let k = 0; k < 3; k++) places[3 * count + k] = raw.places[3 * row + k] * scale;
		if (last) {
			const far = Math.hypot(
				places[3 * count] - places[3 * count - 3],
				places[3 * count + 1] - places[3 * count - 2],
				places[3 * count + 2] - places[3 * count - 1],
			);
			const cosine = Math.abs(q[0] * last[0] + q[1] * last[1] + q[2] * last[2] + q[3] * last[3]);
			if (far > jumpMm || (cosine < 0.9 && angleBetween(q, last) > jumpTurn)) {
				repairs.jumps++;
				part++;
			}
		}
		for (let k = 0; k < 4; k++) turns[4 * count + k] = q[k];
		t[count] = time;
		parts[count] = part;
		last = q;
		count++;
	}
	if (repairs.falling > mostFalling * rows && rows > 20) {
		throw new CannotError(
			`The times of ${source} do not rise: ${repairs.falling} of ${rows} rows come before the one above. Sort them, or take the time column out and give --rate.`,
		);
	}
	return {poses: withoutGlitches({count, t: t.subarray(0, count), turns, places, parts}), repairs};
}

/** A jump away and back within this time leaves the space as it was, seconds. */
const glitchSeconds = 0.25;

/** Poses without short parts, and parts before and after one joined where the tracker came back to where it was. */
function withoutGlitches(poses: Poses): Poses {
	const {count, parts, t} = poses;
	if (count === 0 || parts[count - 1] === parts[0]) return poses;
	const keep: number[] = [];
	const renamed = new Int32Array(count);
	let part = 0;
	for (let from = 0; from < count; ) {
		let to = from + 1;
		while (to < count && parts[to] === parts[from]) to++;
		if (t[to - 1] - t[from] >= glitchSeconds || to - from === count) {
			const before = keep[keep.length - 1];
			if (before !== undefined && !isNear(poses, before, from)) part++;
			for (let index = from; index < to; index++) {
				renamed[keep.length] = part;
				keep.push(index);
			}
		}
		from = to;
	}
	return {
		count: keep.length,
		t: Float64Array.from(keep, index => t[index]),
		turns: Float64Array.from({length: 4 * keep.length}, (_, k) => poses.turns[4 * keep[k >> 2] + (k & 3)]),
		places: Float64Array.from({length: 3 * keep.length}, (_, k) => poses.places[3 * keep[Math.floor(k / 3)] + (k % 3)]),
		parts: renamed.subarray(0, keep.length),
	};
}

function isNear(poses: Poses, a: number, b: number): boolean {
	const isSoon = poses.t[b] - poses.t[a] < 2 * glitchSeconds;
	return (
		isSoon &&
		length(plus(placeAt(poses, a), placeAt(poses, b), -1)) < jumpMm &&
		angleBetween(turnAt(poses, a), turnAt(poses, b)) < jumpTurn
	);
}

/** The same poses, their quaternions read in a form: w, x, y, z of what takes the tracker's axes to the space's. */
export function readInForm(poses: Poses, {order, direction}: Form): Poses {
	const [w, x, y, z] = order === 'wxyz' ? [0, 1, 2, 3] : [3, 0, 1, 2];
	const sign = direction === 'tracker-to-space' ? 1 : -1;
	const turns = new Float64Array(4 * poses.count);
	for (let at = 0; at < turns.length; at += 4) {
		turns[at] = poses.turns[at + w];
		turns[at + 1] = sign * poses.turns[at + x];
		turns[at + 2] = sign * poses.turns[at + y];
		turns[at + 3] = sign * poses.turns[at + z];
	}
	return {...poses, turns};
}

/** 1 for rows in which all seven numbers stand as long as no living tracker lets them. */
function frozenIn(raw: RawPoses, seconds: Float64Array): Uint8Array {
	const rows = seconds.length;
	const frozen = new Uint8Array(rows);
	let start = 0;
	for (let row = 1; row <= rows; row++) {
		if (row < rows && isSame(raw, row, start)) continue;
		if (row - start >= frozenRows && seconds[row - 1] - seconds[start] >= frozenSeconds) frozen.fill(1, start + 1, row);
		start = row;
	}
	return frozen;
}

function isSame({turns, places}: RawPoses, a: number, b: number): boolean {
	for (let k = 0; k < 4; k++) if (turns[4 * a + k] !== turns[4 * b + k]) return false;
	for (let k = 0; k < 3; k++) if (places[3 * a + k] !== places[3 * b + k]) return false;
	return true;
}
