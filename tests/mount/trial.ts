import Quaternion from 'quaternion';
import {seededRandom} from './seeded-random.ts';

/** Three numbers along x, y and z. */
export type Vec = [number, number, number];

/** What a trial is drawn from; lengths in mm, angles in degrees, times in seconds. check-values O5. */
export type TrialSpec = {
	readonly seed: number;
	/** Half swing about x, y and z of the hand. */
	readonly swing?: readonly [number, number, number];
	readonly pivotSeconds?: number;
	readonly wanderMm?: number;
	/** How often each gesture is done. */
	readonly times?: number;
	readonly gestures?: readonly Gesture[];
	/** How far off a gesture is per axis. */
	readonly offDegrees?: number;
	readonly noiseMm?: number;
	readonly noiseDegrees?: number;
	readonly rate?: number;
	readonly up?: Vec;
	readonly hand?: 'left' | 'right';
	/** The axes of the swing are any three at right angles, not the hand's. */
	readonly anyAxes?: boolean;
	/** Leaves out the ways between the steps, which no step needs. */
	readonly stepsOnly?: boolean;
};

export type Gesture = 'palm-down' | 'thumb-up' | 'fingers-down';
const allGestures: readonly Gesture[] = ['palm-down', 'thumb-up', 'fingers-down'];

export type TrialStep = {readonly name: Gesture | 'pivot'; readonly from: number; readonly to: number};

export type Trial = {
	readonly rows: {t: number; place: Vec; turn: Quaternion}[];
	/** Rotation from hand axes to tracker axes, and the pivot point in tracker axes. */
	readonly turn: Quaternion;
	readonly point: Vec;
	readonly steps: readonly TrialStep[];
};

/** How quickly the contact wanders: skin gives and takes within a few tenths of a second (a choice of ours, check-values O5). */
const wanderSeconds = 0.4;

const radians = Math.PI / 180;

const add = (a: Vec, b: Vec, factor = 1): Vec => [a[0] + factor * b[0], a[1] + factor * b[1], a[2] + factor * b[2]];
const turnedBy = (q: Quaternion, v: Vec): Vec => q.rotateVector(v) as Vec;
const about = (axis: Vec, degrees: number) => Quaternion.fromAxisAngle(axis, degrees * radians);

/** A small rotation with independent parts about each axis, rms `degrees` each. */
function shaken(normal: () => number, degrees: number): Quaternion {
	const v: Vec = [normal() * degrees, normal() * degrees, normal() * degrees];
	const angle = Math.hypot(...v);
	return angle === 0 ? new Quaternion(1) : about([v[0] / angle, v[1] / angle, v[2] / angle], angle);
}

/** The rotation that takes +y to `up`: a space whose up is another axis. */
function uprightTo(up: Vec): Quaternion {
	return Quaternion.fromVectors([0, 1, 0], up);
}

/**
 * A log of a tracker on a hand, drawn on a quaternion library of its own: gestures with ways between, then turning on a
 * dimple, then the hand is taken off. The hand's axes: x right, y out of its back, z to the wrist.
 */
export function drawTrial(spec: TrialSpec): Trial {
	const random = seededRandom(spec.seed);
	const normal = () => random.normal();
	const rate = spec.rate ?? 90;
	const hand = spec.hand ?? 'right';
	const offDegrees = spec.offDegrees ?? 3;
	const noiseMm = spec.noiseMm ?? 0.5;
	const noiseDegrees = spec.noiseDegrees ?? 0.2;
	// A tracker anywhere on the back of the hand or the wrist, turned any way.
	const q = new Quaternion(normal(), normal(), normal(), normal()).normalize();
	// From the tracker to the fingertip or knuckle on the dimple, in the hand's axes: ahead of it and a little below.
	const reach: Vec = [30 * (random.uniform() - 0.5), -20 - 30 * random.uniform(), -(60 + 60 * random.uniform())];
	const point = turnedBy(q, reach);
	const space = uprightTo(spec.up ?? [0, 1, 0]);
	const rows: Trial['rows'] = [];
	const steps: TrialStep[] = [];
	let t = 0;
	const base: Vec = [300, 900, 200];

	/** `handTurn`: the hand's axes in an upright space; `tip`: where the fingertip is. */
	const push = (handTurn: Quaternion, tip: Vec): void => {
		const tracker = handTurn.mul(q.conjugate());
		const place = add(tip, turnedBy(tracker, point), -1);
		const noisy = tracker.mul(shaken(normal, noiseDegrees));
		const at: Vec = [place[0] + normal() * noiseMm, place[1] + normal() * noiseMm, place[2] + normal() * noiseMm];
		rows.push({t, place: turnedBy(space, at), turn: space.mul(noisy)});
		t += 1 / rate;
	};
	let nowTurn = about([0, 1, 0], 360 * random.uniform());
	let nowTip = base;

	/** From where the hand is to another place and rotation, in a second and a half. */
	const goTo = (turn: Quaternion, tip: Vec, seconds = 1.5): void => {
		const way = nowTurn.slerp(turn);
		const from = nowTip;
		const count = spec.stepsOnly ? 0 : Math.round(seconds * rate);
		for (let index = 0; index < count; index++) {
			const share = (1 - Math.cos((Math.PI * index) / count)) / 2;
			const lift = 60 * Math.sin((Math.PI * index) / count);
			push(way(share), add(add(from, add(tip, from, -1), share), [0, lift, 0]));
		}
		nowTurn = turn;
		nowTip = tip;
	};

	const goals: Record<Gesture, Quaternion> = {
		'palm-down': new Quaternion(1),
		// The thumb's side (−x on a right hand) up.
		'thumb-up': about([0, 0, 1], hand === 'right' ? -90 : 90),
		// Away from the fingertips (+z) up.
		'fingers-down': about([1, 0, 0], -90),
	};
	for (let time = 0; time < (spec.times ?? 2); time++) {
		const heading = about([0, 1, 0], 30 + 90 * time + 20 * normal());
		for (const gesture of spec.gestures ?? allGestures) {
			const turn = heading.mul(goals[gesture]).mul(shaken(normal, offDegrees));
			goTo(turn, add(base, [80 * normal(), 0, 80 * normal()]));
			const from = t;
			for (let index = 0; index < 2 * rate; index++) push(turn, nowTip);
			steps.push({name: gesture, from, to: t - 1 / rate});
		}
	}

	const [sx, sy, sz] = spec.swing ?? [25, 25, 25];
	const tilt = about([0, 1, 0], 40 * normal()).mul(about([1, 0, 0], -35));
	// Three rates that keep apart, or the hand would turn about one line for long.
	const phases = [0.26, 0.38, 0.52].map(f => ({f: f + 0.06 * random.uniform(), p: 2 * Math.PI * random.uniform()}));
	const frame = spec.anyAxes ? new Quaternion(normal(), normal(), normal(), normal()).normalize() : new Quaternion(1);
	const seconds = spec.pivotSeconds ?? 12;
	const swing = (at: number) => {
		const v = turnedBy(
			frame,
			[sx, sy, sz].map((amplitude, k) => amplitude * Math.sin(2 * Math.PI * phases[k].f * at + phases[k].p)) as Vec,
		);
		const angle = Math.hypot(...v);
		return angle < 1e-9 ? new Quaternion(1) : about([v[0] / angle, v[1] / angle, v[2] / angle], angle);
	};
	const dimple = add(base, [60, 0, -80]);
	if (seconds > 0) goTo(tilt.mul(swing(0)), dimple);
	const from = t;
	// Ornstein–Uhlenbeck: exact steps, rms `wander` along each axis.
	const wander = spec.wanderMm ?? 2;
	const keep = Math.exp(-1 / rate / wanderSeconds);
	let contact: Vec = [normal() * wander, normal() * wander, normal() * wander];
	for (let index = 0; index < seconds * rate; index++) {
		const fresh = Math.sqrt(1 - keep ** 2) * wander;
		contact = contact.map(value => keep * value + fresh * normal()) as Vec;
		nowTurn = tilt.mul(swing(index / rate));
		push(nowTurn, add(dimple, contact));
	}
	if (seconds > 0) steps.push({name: 'pivot', from, to: t - 1 / rate});
	nowTip = dimple;
	goTo(nowTurn, add(dimple, [100, 200, 100]));
	return {rows, turn: q, point, steps};
}

/** As a log with a header: t, x, y, z in metres, quaternion w first unless said. */
export function trialText(trial: Trial, order: 'wxyz' | 'xyzw' = 'wxyz', header = true, inverse = false): string {
	const lines = trial.rows.map(({t, place, turn}) => {
		const {w, x, y, z} = inverse ? turn.conjugate() : turn;
		const four = order === 'wxyz' ? [w, x, y, z] : [x, y, z, w];
		return [
			t.toFixed(4),
			...place.map(value => (value / 1000).toFixed(6)),
			...four.map(value => value.toFixed(7)),
		].join(',');
	});
	const names = order === 'wxyz' ? 't,x,y,z,qw,qx,qy,qz' : 't,x,y,z,qx,qy,qz,qw';
	return `${header ? `${names}\n` : ''}${lines.join('\n')}\n`;
}

/** Errors of a result: degrees and mm. */
export function errorsOf(trial: Trial, turn: readonly number[] | null, point: readonly number[] | null) {
	const off = turn === null ? Number.NaN : angle(trial.turn, new Quaternion(turn[0], turn[1], turn[2], turn[3]));
	const mm = point === null ? Number.NaN : Math.hypot(...trial.point.map((value, k) => value - point[k]));
	return {degrees: off, mm};
}

function angle(a: Quaternion, b: Quaternion): number {
	const {w, x, y, z} = a.conjugate().mul(b);
	return (2 * Math.atan2(Math.hypot(x, y, z), Math.abs(w))) / radians;
}
