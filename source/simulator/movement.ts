import {Axis} from './axis.ts';
import {FingerMoves} from './finger-moves.ts';
import type {Gesture, Script} from './gesture.ts';
import type {GloveSpec} from './glove.ts';
import {HandMoves} from './hand-moves.ts';
import type {Random} from './random.ts';
import {ThumbMoves} from './thumb-moves.ts';

type Sway = {readonly amplitude: number; readonly radiansPerSecond: number; readonly phase: number};

/** A script that is late by less than half a round does not wait for the next one. */
function restsUntil(start: number, {at, round}: {readonly at: number; readonly round: number}): number {
	const ahead = (((at - start) % round) + round) % round;
	return ahead > round / 2 ? start : start + ahead;
}

/** How far ahead of the asked time the script is laid out, seconds. */
const horizonSeconds = 3;

/**
 * A script acted out by the hand of `glove`: bending of each finger (0 stretched, 1 fully bent), stick position
 * (−1…1, right and down positive, as the W3C Gamepad has it: check-values K4), and buttons. Laid out a few seconds ahead, so
 * it runs for as long as it is asked. Times asked for must not fall, per finger, axis and button.
 */
export class Motion {
	readonly #glove: GloveSpec;
	readonly #script: Script;
	readonly #random: Random;
	readonly #fingers: Axis[];
	readonly #moves: FingerMoves;
	readonly #hand: HandMoves;
	readonly #thumb: ThumbMoves;
	readonly #stick = new Float64Array(2);
	readonly #wobblePhase: number;
	readonly #sway: Sway[][];
	readonly #tremor: {amplitude: number; hertz: number; a: number; b: number; c: number}[];
	#end = 0;
	#step = 0;

	constructor(glove: GloveSpec, script: Script, random: Random) {
		this.#glove = glove;
		this.#script = script;
		this.#random = random;
		const {hand, fingers} = glove;
		this.#fingers = fingers.map((_, i) => new Axis(hand.relaxed[i] ?? 0.03));
		this.#moves = new FingerMoves(glove, random, this.#fingers);
		this.#hand = new HandMoves(this.#moves);
		this.#thumb = new ThumbMoves(glove, random);
		this.#wobblePhase = random.uniform(0, 6.28);
		this.#sway = fingers.map(() =>
			[0.07, 0.19, 0.41].map(hertz => ({
				amplitude: hand.swayShare * Math.SQRT2 * random.uniform(0.3, 0.8),
				radiansPerSecond: 2 * Math.PI * hertz * random.uniform(0.7, 1.4),
				phase: random.uniform(0, 2 * Math.PI),
			})),
		);
		this.#tremor = fingers.map(() => ({
			amplitude: hand.tremorShare * Math.SQRT2 * random.uniform(0.6, 1.4),
			hertz: hand.tremorHertz * random.uniform(0.97, 1.03),
			a: random.uniform(0, 6.28),
			b: random.uniform(0, 6.28),
			c: random.uniform(0, 6.28),
		}));
	}

	/** Moments at which the whole hand starts to close, in order: one per cycle. */
	get closings(): readonly number[] {
		return this.#hand.closings;
	}

	/** Bending of finger `i` at `t` seconds, tremor included. */
	finger(i: number, t: number): number {
		this.#layOut(t);
		let value = this.#fingers[i].at(t);
		for (const {amplitude, radiansPerSecond, phase} of this.#sway[i]) {
			value += amplitude * Math.sin(radiansPerSecond * t + phase);
		}
		const tremor = this.#tremor[i];
		if (tremor.amplitude > 0) {
			// Amplitude waxes and wanes and the frequency wanders by half a hertz, as a hand's does.
			value +=
				tremor.amplitude *
				(0.6 + 0.4 * Math.sin(1.4 * t + tremor.a)) *
				Math.sin(2 * Math.PI * tremor.hertz * t + tremor.b + 1.5 * Math.sin(1.9 * t + tremor.c));
		}
		return value;
	}

	/** Horizontal stick position, −1 left … 1 right. */
	stickX(t: number): number {
		this.#moveStick(t);
		return this.#stick[0];
	}

	/** Vertical stick position, −1 up … 1 down. */
	stickY(t: number): number {
		this.#moveStick(t);
		return this.#stick[1];
	}

	/** A thumb holds the stick out unsteadily; let go, it is still. */
	#moveStick(t: number): void {
		this.#layOut(t);
		const stick = this.#stick;
		const x = this.#thumb.x.at(t);
		const y = this.#thumb.y.at(t);
		const out = Math.hypot(x, y);
		const wobble = this.#glove.hand.stickTremor * Math.min(1, Math.max(0, 5 * (out - 0.05)));
		stick[0] = x + wobble * (Math.sin(11.3 * t + this.#wobblePhase) + 0.7 * Math.sin(37.1 * t + 2 * this.#wobblePhase));
		stick[1] = y + wobble * (Math.sin(9.7 * t + 3 * this.#wobblePhase) + 0.7 * Math.sin(41.9 * t + this.#wobblePhase));
		const limit = this.#thumb.gate((Math.atan2(stick[1], stick[0]) * 180) / Math.PI);
		const reached = Math.hypot(stick[0], stick[1]);
		if (reached > limit) {
			stick[0] *= limit / reached;
			stick[1] *= limit / reached;
		}
	}

	/** Seconds since button `i` was last put down if it is down, else `undefined`. */
	pressedFor(i: number, t: number): number | undefined {
		this.#layOut(t);
		const presses = this.#thumb.presses[i];
		while (presses.length > 0 && presses[0].to <= t) presses.shift();
		return presses.length > 0 && presses[0].from <= t ? t - presses[0].from : undefined;
	}

	/** Least and greatest planned bending of finger `i` so far. */
	extremes(i: number): readonly [number, number] {
		return [this.#fingers[i].lowest, this.#fingers[i].highest];
	}

	#layOut(t: number): void {
		while (this.#end < t + horizonSeconds) {
			const step = this.#script[this.#step % this.#script.length];
			this.#step++;
			let end = this.#end + 0.02;
			for (const gesture of step) end = Math.max(end, this.#perform(gesture, this.#end));
			this.#end = end;
		}
	}

	#perform(gesture: Gesture, start: number): number {
		switch (gesture.kind) {
			case 'rest':
				return start + gesture.seconds;
			case 'rest-until':
				return restsUntil(start, gesture);
			case 'fist':
				return this.#hand.fists(start, gesture.times, gesture.hertz, gesture.depth);
			case 'each': {
				let t = start;
				for (let round = 0; round < gesture.times; round++) {
					for (let i = 0; i < this.#fingers.length; i++) t = this.#moves.curl(t, i, undefined);
				}
				return t;
			}
			case 'curl': {
				let t = start;
				const i = this.#indexOf(gesture.finger);
				for (let n = 0; n < gesture.times; n++) t = this.#moves.curl(t, i, gesture.depth);
				return t;
			}
			case 'pull':
				return this.#moves.pulls(start, this.#indexOf(gesture.finger), gesture.times);
			case 'ruler':
				return this.#moves.ruler(start, this.#indexOf(gesture.finger), gesture.stepMm);
			case 'tap':
				return this.#moves.taps(start, this.#indexOf(gesture.finger), gesture.times, gesture.hertz);
			case 'sweep':
				return this.#hand.sweeps(start, gesture.times, gesture.seconds);
			case 'roll':
				return this.#hand.rolls(start, gesture.times);
			case 'pose':
				return this.#hand.pose(start, gesture.seconds);
			case 'posture':
				return this.#hand.posture(start, gesture.seconds);
			case 'play':
				return this.#play(start, gesture.seconds);
			case 'stick-around':
				return this.#thumb.around(start, gesture.times);
			case 'stick-sides': {
				let t = start;
				for (let n = 0; n < gesture.times; n++) {
					for (const direction of [0, 90, 180, 270]) t = this.#thumb.push(t, direction, 1);
				}
				return t;
			}
			case 'stick-jitter': {
				let t = start;
				while (t < start + gesture.seconds) {
					t = this.#thumb.push(t, this.#random.uniform(0, 360), this.#random.uniform(0.05, 0.5));
				}
				return t;
			}
			case 'press':
				return this.#thumb.press(start, gesture.button, gesture.times, gesture.hertz);
			case 'keep-pressed': {
				this.#thumb.presses[gesture.button - 1]?.push({from: start, to: start + gesture.seconds});
				return start + gesture.seconds + 0.1;
			}
		}
	}

	#indexOf(finger: string): number {
		return this.#glove.fingers.findIndex(({name}) => name === finger);
	}

	/** Phrases of a few seconds, as a puppeteer's hand has them: together, in a pose, one finger, a few freely, still. */
	#play(start: number, seconds: number): number {
		const random = this.#random;
		const end = start + seconds;
		let t = start;
		while (t < end) {
			const kind = random.weighted([
				['together', 4],
				['finger', 3],
				['free', 1.5],
				['pose', 2],
				['still', 2],
			] as const);
			if (kind === 'still') {
				t += random.uniform(0.4, 2);
			} else if (kind === 'finger') {
				const which = random.integer(0, this.#fingers.length - 1);
				for (let n = random.integer(1, 3); n > 0; n--) t = this.#moves.curl(t, which, random.uniform(0.4, 0.95));
			} else if (kind === 'pose') {
				t = this.#hand.pose(t, random.uniform(0.3, 2)) + random.uniform(0, 0.5);
			} else t = kind === 'together' ? this.#hand.together(t) : this.#hand.freely(t);
		}
		this.#playAside(start, t - 1);
		return t + 0.2;
	}

	/** Stick and buttons beside all that, begun before `end`. */
	#playAside(start: number, end: number): void {
		const random = this.#random;
		if (this.#glove.stick) {
			let at = start + random.uniform(0, 1);
			while (at < end) {
				at = this.#thumb.push(at, random.uniform(0, 360), random.uniform(0.3, 1)) + random.exponential(1.2);
			}
		}
		for (let button = 1; button <= this.#thumb.presses.length; button++) {
			let at = start + random.uniform(0, 3);
			while (at < end) at = this.#thumb.press(at, button, 1, undefined) + random.exponential(2.5);
		}
	}
}
