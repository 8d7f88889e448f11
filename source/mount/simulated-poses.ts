import {CannotError} from '../cannot-error.ts';
import {Random} from '../simulator/random.ts';
import {closestNames} from '../text/closest-names.ts';
import {type GestureName, gestureOrder} from './gesture-words.ts';
import {axisOf, knownUp} from './gestures.ts';
import type {Order} from './pose-columns.ts';
import {type Hand, hands, type LengthUnit, lengthUnits, orders, type UpAxis, unitMm, upAxes} from './pose-form.ts';
import {
	cross,
	degree,
	dot,
	expOf,
	inverse,
	length,
	noTurn,
	plus,
	type Quaternion,
	scaled,
	slerp,
	times,
	turned,
	unit,
	upright,
	type Vector,
} from './rotation.ts';

/** What a simulated log of poses is like; lengths in mm, angles in degrees, times in seconds. */
type PoseSettings = {
	hand: Hand;
	order: Order;
	unit: LengthUnit;
	up: UpAxis;
	/** Poses a second. */
	rate: number;
	/** How often the three poses are done: 0, 1 or 2. */
	times: number;
	/** Time on the pivot. */
	pivot: number;
	/** About how many axes the hand is turned there, and how far to each side. */
	axes: number;
	swing: number;
	/** Noise of the tracker, rms. */
	noise: number;
	turnnoise: number;
	/** How far the contact wanders along each axis, rms, and how far off each pose is about each. */
	wander: number;
	off: number;
	/** Times at which the tracking jumps. */
	jumps: number;
	/** 2: a second thing in the hand, whose pose is the hand's. */
	devices: number;
};

const usual: PoseSettings = {
	hand: 'right',
	order: 'wxyz',
	unit: 'm',
	up: 'y',
	rate: 90,
	times: 2,
	pivot: 15,
	axes: 3,
	swing: 25,
	noise: 0.5,
	turnnoise: 0.2,
	wander: 2,
	off: 3,
	jumps: 0,
	devices: 1,
};

const ranges: Readonly<Partial<Record<keyof PoseSettings, readonly [number, number]>>> = {
	rate: [10, 1000],
	times: [0, 2],
	pivot: [0, 3600],
	axes: [1, 3],
	swing: [1, 80],
	noise: [0, 50],
	turnnoise: [0, 20],
	wander: [0, 50],
	off: [0, 45],
	jumps: [0, 20],
	devices: [1, 2],
};

const choices: Readonly<Partial<Record<keyof PoseSettings, readonly string[]>>> = {
	hand: hands,
	order: orders,
	unit: lengthUnits,
	up: upAxes,
};

/** Reads `order=xyzw, up=z, wander=5`. Throws `CannotError`. */
export function parsePoseSettings(text: string): PoseSettings {
	const settings: Record<string, unknown> = {...usual};
	for (const part of text
		.split(',')
		.map(each => each.trim())
		.filter(Boolean)) {
		const [key, value = ''] = part.split('=').map(each => each.trim());
		if (!Object.hasOwn(usual, key)) {
			const near = closestNames(key, Object.keys(usual))[0];
			throw new CannotError(
				`--tracker must not be ${JSON.stringify(part)}: it takes ${Object.keys(usual).join(', ')}, each with = and a value.${near ? ` Did you mean ${near}?` : ''}`,
			);
		}
		const words = choices[key as keyof PoseSettings];
		const range = ranges[key as keyof PoseSettings];
		if (words && !words.includes(value))
			throw new CannotError(
				`--tracker ${key} must not be ${JSON.stringify(value)}: it takes one of ${words.join(', ')}.`,
			);
		if (range && !(value !== '' && Number(value) >= range[0] && Number(value) <= range[1]))
			throw new CannotError(
				`--tracker ${key} must not be ${JSON.stringify(value)}: it takes a number from ${range[0]} to ${range[1]}.`,
			);
		settings[key] = range ? Number(value) : value;
	}
	return settings as PoseSettings;
}

/** The contact gives and takes within a third of a second. Common practice, no source. */
const wanderSeconds = 0.35;

/** Holding a pose, and the way to the next. */
const holdSeconds = 2.2;
const waySeconds = 1.5;

/** A tracker on the back of the hand: fingertip and hand's origin of the second thing as seen from it, in the hand's axes. */
const reachMm: Vector = [10, -35, -130];

/** What a simulated log comes to, and its truth. */
type SimulatedPoses = {readonly lines: readonly string[]; readonly truth: unknown};

/**
 * A log of a tracker on a hand that does the routine, as lines: comments with the command and the truth, names, rows. The
 * same settings and seed give the same lines.
 */
export function simulatePoses(settings: PoseSettings, seed: number, command: string): SimulatedPoses {
	const hand = new SimulatedHand(settings, seed);
	for (const [index, name] of gestureOrder.slice(0, 3 * settings.times).entries()) hand.hold(name, index);
	if (settings.pivot > 0) hand.pivot();
	const {truth, rows} = hand;
	const four = settings.order === 'wxyz' ? 'qw,qx,qy,qz' : 'qx,qy,qz,qw';
	return {
		truth,
		lines: [
			`# ${command}`,
			`# truth ${JSON.stringify(truth)}`,
			`t,${settings.devices > 1 ? 'device,' : ''}x,y,z,${four}`,
			...rows,
		],
	};
}

/** Where the poses are held. */
const table: Vector = [300, 900, 200];

/** A hand with a tracker on it, which does the steps that it is told, and the rows that are logged of it. */
class SimulatedHand {
	readonly rows: string[] = [];
	readonly #settings: PoseSettings;
	readonly #random: Random;
	/** How the tracker sits: its turn, and the fingertip as seen from it. */
	readonly #turn: Quaternion;
	readonly #point: Vector;
	/** From axes with y up to those of the space. */
	readonly #space: Quaternion;
	readonly #steps: {readonly name: string; readonly from: number; readonly to: number}[] = [];
	readonly #jumps: number[] = [];
	/** What the tracker has lost its place by. */
	#shift: Vector = [0, 0, 0];
	#t = 0;
	#nowTurn: Quaternion;
	#nowTip: Vector = table;

	constructor(settings: PoseSettings, seed: number) {
		this.#settings = settings;
		this.#random = new Random(seed);
		this.#turn = upright([this.#normal(), this.#normal(), this.#normal(), this.#normal()]);
		this.#point = turned(this.#turn, reachMm);
		this.#space = between([0, 1, 0], axisOf(settings.up));
		this.#nowTurn = expOf([0, this.#random.uniform(0, 6), 0]);
	}

	/** What is true of the hand, for whoever compares. */
	get truth(): unknown {
		const round = (value: number) => Number(value.toFixed(4));
		const [w, x, y, z] = this.#turn;
		return {
			trackerToHand: {
				positionMm: this.#point.map(round),
				quaternion: {w: round(w), x: round(x), y: round(y), z: round(z)},
			},
			hand: this.#settings.hand,
			up: this.#settings.up,
			steps: this.#steps.map(step => ({name: step.name, from: round(step.from), to: round(step.to)})),
			jumps: this.#jumps.map(round),
		};
	}

	/** Goes to a pose on the table and holds it; from the fourth on with the hand turned about a quarter. */
	hold(name: GestureName, index: number): void {
		const {hand, off, rate} = this.#settings;
		const goal = between(knownUp(name, hand, 'right-handed'), [0, 1, 0]);
		const heading = expOf([0, (0.5 + (index < 3 ? 0 : Math.PI / 2) + 0.2 * this.#normal()) % 6, 0]);
		const aim = times(times(heading, goal), this.#small(off));
		this.#goTo(aim, plus(table, [80 * this.#normal(), 0, 80 * this.#normal()]));
		const from = this.#t;
		for (let count = 0; count < holdSeconds * rate; count++) this.#log(this.#nowTurn, this.#nowTip);
		this.#steps.push({name, from, to: this.#t});
	}

	/** Turns the hand about its fingertip, which stays in a dimple and gives a little. */
	pivot(): void {
		const {rate, wander, pivot, jumps} = this.#settings;
		const dimple = plus(table, [60, 0, -80]);
		const tilt = times(expOf([0, 0.5 * this.#normal(), 0]), expOf([-35 * degree, 0, 0]));
		const swing = this.#swing();
		this.#goTo(times(tilt, swing(0)), dimple);
		const from = this.#t;
		const keep = Math.exp(-1 / rate / wanderSeconds);
		let contact = scaled(this.#normals(), wander);
		const count = Math.round(pivot * rate);
		for (let index = 0; index < count; index++) {
			contact = plus(scaled(contact, keep), this.#normals(), Math.sqrt(1 - keep ** 2) * wander);
			// Jumps lie in the last tenth: what is before them is a pivot of its own.
			if (index > 0.9 * count && this.#jumps.length < jumps && index % 5 === 0) {
				this.#shift = plus(this.#shift, [400, -150, 250]);
				this.#jumps.push(this.#t);
			}
			this.#nowTurn = times(tilt, swing(index / rate));
			this.#log(this.#nowTurn, plus(dimple, contact));
		}
		this.#steps.push({name: 'pivot', from, to: this.#t});
		this.#nowTip = dimple;
		this.#goTo(this.#nowTurn, plus(dimple, [100, 200, 100]));
	}

	/** Turning to and fro about each axis, at a pace and from a phase of its own. */
	#swing(): (at: number) => Quaternion {
		const {axes, swing} = this.#settings;
		const rates = [0.29, 0.41, 0.55].map(f => ({
			f: f + this.#random.uniform(-0.02, 0.02),
			phase: this.#random.uniform(0, 2 * Math.PI),
		}));
		return at =>
			expOf(
				rates.map(({f, phase}, k) =>
					k < axes ? swing * degree * Math.sin(2 * Math.PI * f * at + phase) : 0,
				) as unknown as Vector,
			);
	}

	#normal(): number {
		return this.#random.normal();
	}

	#normals(): Vector {
		return [this.#normal(), this.#normal(), this.#normal()];
	}

	/** A small turn any way. */
	#small(degrees: number): Quaternion {
		return expOf([
			this.#normal() * degrees * degree,
			this.#normal() * degrees * degree,
			this.#normal() * degrees * degree,
		]);
	}

	#goTo(to: Quaternion, tip: Vector): void {
		const [fromTurn, fromTip] = [this.#nowTurn, this.#nowTip];
		const count = Math.round(waySeconds * this.#settings.rate);
		for (let index = 0; index < count; index++) {
			const share = (1 - Math.cos((Math.PI * index) / count)) / 2;
			const lift = 60 * Math.sin((Math.PI * index) / count);
			this.#log(slerp(fromTurn, to, share), plus(plus(fromTip, plus(tip, fromTip, -1), share), [0, lift, 0]));
		}
		this.#nowTurn = to;
		this.#nowTip = tip;
	}

	/** Rows of one moment: of the tracker, and of the second thing where there is one. */
	#log(hand: Quaternion, tip: Vector): void {
		const {noise, turnnoise, devices, rate} = this.#settings;
		const own = times(this.#space, hand);
		const at = turned(this.#space, tip);
		const tracker = times(own, inverse(this.#turn));
		const place = plus(plus(at, turned(tracker, this.#point), -1), this.#shift);
		this.#row('tracker', plus(place, this.#normals(), noise), times(tracker, this.#small(turnnoise)));
		// The second thing has the hand's pose, its origin where the fingertip is.
		if (devices > 1) {
			const second = plus(plus(at, this.#shift), this.#normals(), noise);
			this.#row('controller', second, times(own, this.#small(turnnoise)));
		}
		this.#t += 1 / rate;
	}

	#row(name: string, place: Vector, q: Quaternion): void {
		const {order, unit: lengthUnit, devices} = this.#settings;
		const [w, x, y, z] = upright(q);
		const four = order === 'wxyz' ? [w, x, y, z] : [x, y, z, w];
		const mm = unitMm[lengthUnit];
		const digits = 3 + Math.round(Math.log10(mm));
		this.rows.push(
			[
				this.#t.toFixed(4),
				...(devices > 1 ? [name] : []),
				...place.map(value => (value / mm).toFixed(digits)),
				...four.map(value => value.toFixed(6)),
			].join(','),
		);
	}
}

/** The shortest rotation from one direction to another; about x for opposite ones. */
function between(from: Vector, to: Vector): Quaternion {
	const axis = cross(from, to);
	const sine = length(axis);
	if (sine < 1e-9)
		return dot(from, to) > 0 ? noTurn : expOf(scaled(Math.abs(from[0]) > 0.9 ? [0, 1, 0] : [1, 0, 0], Math.PI));
	return expOf(scaled(unit(axis), Math.atan2(sine, dot(from, to))));
}
