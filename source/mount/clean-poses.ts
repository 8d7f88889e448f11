import {CannotError} from '../cannot-error.ts';
import {upperMedianOf} from '../math/nth-smallest.ts';
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
	const rising = steps.filter(step => step > 0);
	const median = rising.length > 0 ? upperMedianOf(rising) : 1;
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
	const cleaner = new Cleaner(raw, seconds, unitMm[unit]);
	const frozen = frozenIn(raw, seconds);
	for (let row = 0; row < seconds.length; row++) {
		if (frozen[row] === 0) cleaner.take(row);
		else cleaner.leaveFrozen(row, row > 0 && frozen[row - 1] === 0);
	}
	const {repairs} = cleaner;
	const rows = seconds.length;
	if (repairs.falling > mostFalling * rows && rows > 20) {
		throw new CannotError(
			`The times of ${source} do not rise: ${repairs.falling} of ${rows} rows come before the one above. Sort them, or take the time column out and give --rate.`,
		);
	}
	return {poses: withoutGlitches(cleaner.poses), repairs};
}

/** Takes rows one after the other and keeps those that are poses. */
class Cleaner {
	readonly repairs = {zero: 0, notUnit: 0, flipped: 0, frozen: 0, jumps: 0, repeated: 0, falling: 0};
	readonly #raw: RawPoses;
	readonly #seconds: Float64Array;
	/** Millimetres to the unit of the log. */
	readonly #scale: number;
	readonly #t: Float64Array;
	readonly #turns: Float64Array;
	readonly #places: Float64Array;
	readonly #parts: Int32Array;
	#count = 0;
	#part = 0;
	/** What a clock that was set back is behind by. */
	#shift = 0;
	#last: Quaternion | undefined;

	constructor(raw: RawPoses, seconds: Float64Array, scale: number) {
		const rows = seconds.length;
		this.#raw = raw;
		this.#seconds = seconds;
		this.#scale = scale;
		this.#t = new Float64Array(rows);
		this.#turns = new Float64Array(4 * rows);
		this.#places = new Float64Array(3 * rows);
		this.#parts = new Int32Array(rows);
	}

	get poses(): Poses {
		const count = this.#count;
		return {count, t: this.#t.subarray(0, count), turns: this.#turns, places: this.#places, parts: this.#parts};
	}

	/** A row of a tracker that stood frozen; the first of them ends a part. */
	leaveFrozen(row: number, isFirst: boolean): void {
		if (this.#rotation(row) === undefined) return;
		this.repairs.frozen++;
		if (isFirst) this.#part++;
	}

	take(row: number): void {
		const q = this.#rotation(row);
		const time = q && this.#time(row);
		if (q === undefined || time === undefined) return;
		this.#keep(row, time, this.#last === undefined ? q : this.#onSameSide(q, this.#last));
	}

	/** Of length 1; undefined where its length is none. */
	#rotation(row: number): Quaternion | undefined {
		const {turns} = this.#raw;
		const at = 4 * row;
		const [a, b, c, d] = [turns[at], turns[at + 1], turns[at + 2], turns[at + 3]];
		const size = Math.sqrt(a * a + b * b + c * c + d * d);
		if (size < zeroLength) {
			this.repairs.zero++;
			return undefined;
		}
		if (Math.abs(size - 1) > unitLength) this.repairs.notUnit++;
		return [a / size, b / size, c / size, d / size];
	}

	/** Later than that of the row before; undefined where there is none, or it was there already. */
	#time(row: number): number | undefined {
		const own = this.#seconds[row];
		if (!Number.isFinite(own)) {
			this.repairs.falling++;
			return undefined;
		}
		const time = own + this.#shift;
		const before = this.#count > 0 ? this.#t[this.#count - 1] : Number.NEGATIVE_INFINITY;
		if (time > before) return time;
		if (time === before) {
			this.repairs.repeated++;
			return undefined;
		}
		// A clock that was set back: what follows goes on from here, and has nothing to do with what was.
		this.repairs.falling++;
		this.#shift += before - time + 0.01;
		this.#part++;
		return own + this.#shift;
	}

	/** A quaternion and its negative are one rotation: the one that is nearer to the last. */
	#onSameSide(q: Quaternion, last: Quaternion): Quaternion {
		if (!(cosineOf(q, last) < 0)) return q;
		this.repairs.flipped++;
		return [-q[0], -q[1], -q[2], -q[3]];
	}

	#keep(row: number, time: number, q: Quaternion): void {
		const count = this.#count;
		for (let k = 0; k < 3; k++) this.#places[3 * count + k] = this.#raw.places[3 * row + k] * this.#scale;
		for (let k = 0; k < 4; k++) this.#turns[4 * count + k] = q[k];
		if (this.#last !== undefined && this.#hasJumped(q, this.#last)) {
			this.repairs.jumps++;
			this.#part++;
		}
		this.#t[count] = time;
		this.#parts[count] = this.#part;
		this.#last = q;
		this.#count++;
	}

	/** Whether the pose that is being kept is too far from the one before. */
	#hasJumped(q: Quaternion, last: Quaternion): boolean {
		const places = this.#places;
		const at = 3 * this.#count;
		const far = Math.hypot(
			places[at] - places[at - 3],
			places[at + 1] - places[at - 2],
			places[at + 2] - places[at - 1],
		);
		return far > jumpMm || (Math.abs(cosineOf(q, last)) < 0.9 && angleBetween(q, last) > jumpTurn);
	}
}

/** Of half the angle between two rotations. */
function cosineOf(a: Quaternion, b: Quaternion): number {
	return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
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
