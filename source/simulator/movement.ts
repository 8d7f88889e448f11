import type {GloveSpec} from './glove.ts';
import {changeShare, creepReach, drawPosture, drawSway, relaxedShare} from './posture.ts';
import type {Random} from './random.ts';

/** One thing the hand does. Numbers left out are drawn the way the hand in the glove would do it. */
export type Gesture =
	| {readonly kind: 'rest'; readonly seconds: number}
	/** Still until `at` seconds into the round of `round` seconds that it is in: keeps a script in step. Not at all where that is over. */
	| {readonly kind: 'rest-until'; readonly at: number; readonly round: number}
	/** Whole hand closes and opens; `hertz` sets the pace of fast fists (people reach 3.3, check-values H13). */
	| {readonly kind: 'fist'; readonly times: number; readonly hertz?: number; readonly depth?: number}
	/** Every finger by itself, one after the other; `times` rounds. */
	| {readonly kind: 'each'; readonly times: number}
	| {readonly kind: 'curl'; readonly finger: string; readonly times: number; readonly depth?: number}
	/** A reel's cord is pulled on the bench: nothing but this finger's channel moves. */
	| {readonly kind: 'pull'; readonly finger: string; readonly times: number}
	/** A reel's cord is pulled from mark to mark of a ruler and back, twice, held a second at each. */
	| {readonly kind: 'ruler'; readonly finger: string; readonly stepMm: number}
	/** Fast small movements of one finger, 5–7 a second at most (check-values H12). */
	| {readonly kind: 'tap'; readonly finger: string; readonly times: number; readonly hertz?: number}
	/** Whole hand slowly; `seconds` for one way. */
	| {readonly kind: 'sweep'; readonly times: number; readonly seconds?: number}
	/** Fingers close one after the other, then open. */
	| {readonly kind: 'roll'; readonly times: number}
	/** Takes a half-bent pose and keeps it. */
	| {readonly kind: 'pose'; readonly seconds: number}
	/** Holds something as a living hand does, with creep, sway and changes (check-values H-real), and ends relaxed, not flat. */
	| {readonly kind: 'posture'; readonly seconds: number}
	/** A puppet is played: every finger its own, stick and buttons now and then. */
	| {readonly kind: 'play'; readonly seconds: number}
	| {readonly kind: 'stick-around'; readonly times: number}
	/** To each side and let go. */
	| {readonly kind: 'stick-sides'; readonly times: number}
	| {readonly kind: 'stick-jitter'; readonly seconds: number}
	/** `hertz` presses a second; otherwise an easy pace. */
	| {readonly kind: 'press'; readonly button: number; readonly times: number; readonly hertz?: number}
	| {readonly kind: 'keep-pressed'; readonly button: number; readonly seconds: number};

/** What is done at the same time. */
export type Step = readonly Gesture[];

/** Steps one after the other, from the start again when they are done. */
export type Script = readonly Step[];

/**
 * Minimum-jerk profile: share of the way covered at `phase` 0…1 of the duration. Peak speed 1.875 ways per duration.
 *
 * Source: T. Flash and N. Hogan, J. Neurosci. 5 (1985), 1688–1703 (from memory).
 */
export function minimumJerk(phase: number): number {
	if (phase <= 0) return 0;
	if (phase >= 1) return 1;
	return phase * phase * phase * (10 + phase * (6 * phase - 15));
}

type Submovement = {readonly start: number; readonly duration: number; readonly delta: number};
type Curve = {readonly start: number; readonly end: number; readonly value: (t: number) => number};

/** Position of one finger or stick axis: superposed minimum-jerk movements. */
class Axis {
	/** Where the last planned movement ends. */
	level: number;
	lowest: number;
	highest: number;
	#base: number;
	#movements: Submovement[] = [];
	#curves: Curve[] = [];

	constructor(level: number) {
		this.level = level;
		this.#base = level;
		this.lowest = level;
		this.highest = level;
	}

	move(start: number, duration: number, to: number): void {
		const movement = {start, duration, delta: to - this.level};
		this.level = to;
		if (to < this.lowest) this.lowest = to;
		if (to > this.highest) this.highest = to;
		let at = this.#movements.length;
		while (at > 0 && this.#movements[at - 1].start > start) at--;
		this.#movements.splice(at, 0, movement);
	}

	curve(start: number, end: number, value: (t: number) => number): void {
		this.#curves.push({start, end, value});
	}

	/** Times must not fall. */
	at(t: number): number {
		const movements = this.#movements;
		let done = 0;
		let value = this.#base;
		for (let i = 0; i < movements.length; i++) {
			const {start, duration, delta} = movements[i];
			if (start >= t) break;
			const phase = (t - start) / duration;
			if (phase >= 1) {
				value += delta;
				if (i === done) {
					this.#base += delta;
					done++;
				}
			} else {
				value += delta * minimumJerk(phase);
			}
		}
		if (done > 0) movements.splice(0, done);
		if (this.#curves.length > 0) {
			for (const curve of this.#curves) if (t > curve.start && t < curve.end) value += curve.value(t);
			if (this.#curves[0].end < t) this.#curves.shift();
		}
		return value;
	}
}

type Sway = {readonly amplitude: number; readonly radiansPerSecond: number; readonly phase: number};
type Press = {readonly from: number; readonly to: number};

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
	/** Moments at which the whole hand starts to close, in order: one per cycle. */
	readonly closings: number[] = [];
	readonly #glove: GloveSpec;
	readonly #script: Script;
	readonly #random: Random;
	readonly #fingers: Axis[];
	readonly #stickX = new Axis(0);
	readonly #stickY = new Axis(0);
	readonly #stick = new Float64Array(2);
	readonly #wobblePhase: number;
	readonly #presses: Press[][];
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
		this.#wobblePhase = random.uniform(0, 6.28);
		this.#presses = Array.from({length: glove.buttons.count}, () => []);
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
		const x = this.#stickX.at(t);
		const y = this.#stickY.at(t);
		const out = Math.hypot(x, y);
		const wobble = this.#glove.hand.stickTremor * Math.min(1, Math.max(0, 5 * (out - 0.05)));
		stick[0] = x + wobble * (Math.sin(11.3 * t + this.#wobblePhase) + 0.7 * Math.sin(37.1 * t + 2 * this.#wobblePhase));
		stick[1] = y + wobble * (Math.sin(9.7 * t + 3 * this.#wobblePhase) + 0.7 * Math.sin(41.9 * t + this.#wobblePhase));
		const limit = this.#gate((Math.atan2(stick[1], stick[0]) * 180) / Math.PI);
		const reached = Math.hypot(stick[0], stick[1]);
		if (reached > limit) {
			stick[0] *= limit / reached;
			stick[1] *= limit / reached;
		}
	}

	/** Seconds since button `i` was last put down if it is down, else `undefined`. */
	pressedFor(i: number, t: number): number | undefined {
		this.#layOut(t);
		const presses = this.#presses[i];
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
				return this.#fists(start, gesture.times, gesture.hertz, gesture.depth);
			case 'each': {
				let t = start;
				for (let round = 0; round < gesture.times; round++) {
					for (let i = 0; i < this.#fingers.length; i++) t = this.#curl(t, i, undefined);
				}
				return t;
			}
			case 'curl': {
				let t = start;
				const i = this.#indexOf(gesture.finger);
				for (let n = 0; n < gesture.times; n++) t = this.#curl(t, i, gesture.depth);
				return t;
			}
			case 'pull':
				return this.#pulls(start, this.#indexOf(gesture.finger), gesture.times);
			case 'ruler':
				return this.#ruler(start, this.#indexOf(gesture.finger), gesture.stepMm);
			case 'tap':
				return this.#taps(start, this.#indexOf(gesture.finger), gesture.times, gesture.hertz);
			case 'sweep':
				return this.#sweeps(start, gesture.times, gesture.seconds);
			case 'roll':
				return this.#rolls(start, gesture.times);
			case 'pose':
				return this.#pose(start, gesture.seconds);
			case 'posture':
				return this.#posture(start, gesture.seconds);
			case 'play':
				return this.#play(start, gesture.seconds);
			case 'stick-around':
				return this.#around(start, gesture.times);
			case 'stick-sides': {
				let t = start;
				for (let n = 0; n < gesture.times; n++) {
					for (const direction of [0, 90, 180, 270]) t = this.#push(t, direction, 1);
				}
				return t;
			}
			case 'stick-jitter': {
				let t = start;
				while (t < start + gesture.seconds) {
					t = this.#push(t, this.#random.uniform(0, 360), this.#random.uniform(0.05, 0.5));
				}
				return t;
			}
			case 'press':
				return this.#press(start, gesture.button, gesture.times, gesture.hertz);
			case 'keep-pressed': {
				this.#presses[gesture.button - 1]?.push({from: start, to: start + gesture.seconds});
				return start + gesture.seconds + 0.1;
			}
		}
	}

	#indexOf(finger: string): number {
		return this.#glove.fingers.findIndex(({name}) => name === finger);
	}

	/** Duration of one movement of one finger around `seconds`. */
	#duration(seconds: number): number {
		const spread = this.#glove.hand.durationSpread;
		return seconds * Math.min(1.6, Math.max(0.6, 1 + this.#random.normal(0, spread)));
	}

	#depth(depth: number | undefined): number {
		const {hand} = this.#glove;
		const mean = depth ?? hand.depth;
		return Math.min(1, Math.max(0.05, mean - Math.abs(this.#random.normal(0, hand.depthSpread))));
	}

	/** Open position of finger `i` this time. */
	#open(i: number): number {
		const {hand, fingers} = this.#glove;
		return Math.max(0, (hand.relaxed[i] ?? 0.03) + this.#random.normal(0, fingers[i].returnScatter));
	}

	#fists(start: number, times: number, hertz: number | undefined, depth: number | undefined): number {
		const random = this.#random;
		const {hand} = this.#glove;
		let t = start;
		for (let n = 0; n < times; n++) {
			this.closings.push(t);
			const seconds = hertz ? 0.42 / hertz : hand.closeSeconds * random.uniform(0.8, 1.25);
			const spread = hertz ? Math.min(hand.startSpreadSeconds, 0.02) : hand.startSpreadSeconds;
			const hold = hertz ? 0.08 / hertz : random.uniform(0.02, 0.45);
			const pause = hertz ? 0.08 / hertz : random.uniform(0.05, 0.7);
			const opening = t + seconds + hold;
			let end = t;
			for (const [i, axis] of this.#fingers.entries()) {
				axis.move(t + Math.abs(random.normal(0, spread)), this.#duration(seconds), this.#depth(depth));
				const begin = opening + Math.abs(random.normal(0, spread));
				const duration = this.#duration(seconds * (hertz ? 1 : random.uniform(0.8, 1.2)));
				axis.move(begin, duration, this.#open(i));
				end = Math.max(end, begin + duration);
			}
			// Fast fists run into each other, so the pace is kept whatever the slowest finger does.
			t = hertz ? Math.max(t + 1 / hertz, opening + seconds * 0.8) : end + pause;
		}
		return t + 0.2;
	}

	/**
	 * One finger to `to`, its neighbours after it by their coupling: they set off once it has gone a few degrees (check-values
	 * H21), take a time of their own, and ease back part of the way while it stays.
	 */
	#moveAlone(t: number, i: number, seconds: number, to: number): number {
		const random = this.#random;
		const axis = this.#fingers[i];
		const delta = to - axis.level;
		axis.move(t, seconds, to);
		for (const [j, neighbour] of this.#fingers.entries()) {
			if (j === i) continue;
			const share = this.#glove.hand.coupling[i]?.[j] ?? 0;
			if (share < 0.002) continue;
			const followed = share * delta * random.uniform(0.6, 1.2);
			const target = Math.min(1, Math.max(0, neighbour.level + followed));
			const begin = t + seconds * random.uniform(0.05, 0.25);
			const duration = seconds * random.uniform(0.7, 1.3);
			neighbour.move(begin, duration, target);
			if (seconds > 0.15 && random.chance(0.7)) {
				const eased = Math.min(1, Math.max(0, target - followed * random.uniform(-0.15, 0.35)));
				neighbour.move(begin + duration * 0.8, random.uniform(0.2, 0.6), eased);
			}
		}
		return t + seconds;
	}

	#curl(start: number, i: number, depth: number | undefined): number {
		if (i < 0) return start;
		const random = this.#random;
		const seconds = this.#duration(this.#glove.hand.closeSeconds);
		let t = this.#moveAlone(start, i, seconds, this.#depth(depth));
		t += random.uniform(0.05, 0.4);
		t = this.#moveAlone(t, i, this.#duration(this.#glove.hand.closeSeconds), this.#open(i));
		// Neighbours end where they would lie at rest, not where rounding of their share left them.
		for (const [j, axis] of this.#fingers.entries()) if (j !== i) axis.move(t, 0.3, this.#open(j));
		return t + random.uniform(0.2, 0.6);
	}

	/** A hand outside the glove draws the cord out and lets the spring take it back; paces: common practice, no source. */
	#pulls(start: number, i: number, times: number): number {
		if (i < 0) return start;
		const random = this.#random;
		const axis = this.#fingers[i];
		let t = start;
		for (let n = 0; n < times; n++) {
			const out = random.uniform(0.35, 1.1);
			axis.move(t, out, random.uniform(0.85, 1));
			t += out + random.uniform(0.05, 0.5);
			const back = random.uniform(0.3, 1);
			axis.move(t, back, this.#open(i));
			t += back + random.uniform(0.2, 0.7);
		}
		return t;
	}

	/** Cord from mark to mark, out and back, twice; a person's pace: common practice, no source. Nothing else moves. */
	#ruler(start: number, i: number, stepMm: number): number {
		if (i < 0) return start;
		const axis = this.#fingers[i];
		const {cordTravelMm, curve} = this.#glove.fingers[i];
		const marks = Math.floor(cordTravelMm / stepMm);
		const out = Array.from({length: marks}, (_, mark) => mark + 1);
		const way = [...out, ...out.slice(0, -1).reverse(), 0];
		let t = start;
		for (const mark of [0, ...way, ...way]) {
			axis.move(t, 0.4, ((mark * stepMm) / cordTravelMm) ** (1 / curve));
			t += this.#random.uniform(1.4, 1.7);
		}

		axis.move(t, 0.4, this.#open(i));
		return t + 0.6;
	}

	#taps(start: number, i: number, times: number, hertz: number | undefined): number {
		if (i < 0) return start;
		const random = this.#random;
		const pace = hertz ?? random.uniform(3.5, 6.5);
		const depth = random.uniform(0.15, 0.45);
		let t = start;
		for (let n = 0; n < times; n++) {
			const period = (1 / pace) * random.uniform(0.92, 1.08);
			this.#moveAlone(t, i, period * 0.45, this.#open(i) + depth * random.uniform(0.8, 1.2));
			this.#moveAlone(t + period * 0.5, i, period * 0.45, this.#open(i));
			t += period;
		}
		return t + 0.2;
	}

	#sweeps(start: number, times: number, oneWay: number | undefined): number {
		const random = this.#random;
		let t = start;
		for (let n = 0; n < times; n++) {
			this.closings.push(t);
			const seconds = oneWay ?? random.uniform(2, 5);
			let end = t;
			for (const [i, axis] of this.#fingers.entries()) {
				const duration = seconds * random.uniform(0.95, 1.05);
				axis.move(t, duration, this.#depth(undefined));
				axis.move(t + seconds * 1.1, duration, this.#open(i));
				end = Math.max(end, t + seconds * 1.1 + duration);
			}
			t = end + random.uniform(0.1, 0.5);
		}
		return t;
	}

	#rolls(start: number, times: number): number {
		const random = this.#random;
		let t = start;
		for (let n = 0; n < times; n++) {
			this.closings.push(t);
			const stagger = random.uniform(0.08, 0.25);
			const seconds = this.#glove.hand.closeSeconds;
			const order = [...this.#fingers.keys()];
			if (random.chance(0.5)) order.reverse();
			const opening = t + stagger * order.length + seconds + random.uniform(0, 0.2);
			let end = opening;
			for (const [place, i] of order.entries()) {
				this.#fingers[i].move(t + place * stagger, this.#duration(seconds), this.#depth(undefined));
				const duration = this.#duration(seconds);
				const begin = opening + place * stagger * random.uniform(0.3, 1);
				this.#fingers[i].move(begin, duration, this.#open(i));
				end = Math.max(end, begin + duration);
			}
			t = end + random.uniform(0.1, 0.5);
		}
		return t;
	}

	#pose(start: number, seconds: number): number {
		const random = this.#random;
		let settled = start;
		for (const axis of this.#fingers) {
			const duration = this.#duration(this.#glove.hand.closeSeconds);
			axis.move(start, duration, random.uniform(0.1, 0.9));
			settled = Math.max(settled, start + duration);
		}
		for (const [i, axis] of this.#fingers.entries()) {
			axis.move(settled + seconds, this.#duration(this.#glove.hand.closeSeconds), this.#open(i));
		}
		return settled + seconds + 1.7 * this.#glove.hand.closeSeconds;
	}

	/** Fingers close around something, keep it as long as asked, and let go of it to a relaxed hand. */
	#posture(start: number, seconds: number): number {
		const random = this.#random;
		const close = this.#glove.hand.closeSeconds;
		const {swayShare, creepPerSecond, together, changeSeconds} = drawPosture(random);
		const size = random.uniform(0.3, 0.85);
		const held = this.#fingers.map(() => Math.min(0.9, Math.max(0.1, size + random.normal(0, 0.08))));
		// A finger may give way where the others press.
		const senses = held.map(() => (random.chance(0.15) ? -1 : 1));
		const settled = this.#everyFinger(start, close, i => held[i]);
		const end = settled + seconds;

		const common = drawSway(random);
		for (const [i, axis] of this.#fingers.entries()) {
			const own = drawSway(random);
			const [shared, alone] = [senses[i] * Math.sqrt(together), Math.sqrt(1 - together)];
			axis.curve(settled, end, t => {
				const ease = minimumJerk((t - settled) / 0.5) * (1 - minimumJerk((t - end + 0.5) / 0.5));
				return swayShare * ease * (shared * common(t) + alone * own(t));
			});
		}

		let change = settled + random.exponential(changeSeconds);
		let t = settled;
		while (t < end) {
			if (t >= change) {
				change = t + random.exponential(changeSeconds);
				const by = random.uniform(...changeShare) * (random.chance(0.5) ? 1 : -1);
				for (const [i, level] of held.entries()) {
					held[i] = Math.min(0.95, Math.max(0.05, level + by * random.uniform(together, 1)));
				}
				t = this.#everyFinger(t, close * random.uniform(0.8, 1.6), i => held[i]) + 0.05;
				continue;
			}
			const piece = Math.min(random.uniform(1, 4), Math.max(0.1, end - t));
			const way = creepPerSecond * piece * (random.chance(0.5) ? 1 : -1);
			for (const [i, axis] of this.#fingers.entries()) {
				const wanted = axis.level + way * (senses[i] * together + random.normal(0, 1 - together));
				axis.move(t, piece, Math.min(held[i] + creepReach, Math.max(held[i] - creepReach, wanted, 0), 1));
			}
			t += piece;
		}
		const relaxed = random.uniform(...relaxedShare);
		const open = this.#everyFinger(Math.max(t, end), close, i => this.#open(i) + relaxed * random.uniform(0.7, 1.3));
		return open + random.uniform(0.2, 0.6);
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
				for (let n = random.integer(1, 3); n > 0; n--) t = this.#curl(t, which, random.uniform(0.4, 0.95));
			} else if (kind === 'pose') {
				t = this.#pose(t, random.uniform(0.3, 2)) + random.uniform(0, 0.5);
			} else t = kind === 'together' ? this.#together(t) : this.#freely(t);
		}
		this.#playAside(start, t - 1);
		return t + 0.2;
	}

	/** Movements of the whole hand, each finger with its own share of them. */
	#together(start: number): number {
		const random = this.#random;
		const shares = this.#fingers.map(() => random.uniform(0.5, 1));
		let t = start;
		for (let n = random.integer(1, 4); n > 0; n--) {
			const depth = random.uniform(0.3, 1);
			const duration = this.#glove.hand.closeSeconds * random.uniform(0.6, 1.3);
			t = this.#everyFinger(t, duration, i => shares[i] * depth * this.#depth(undefined));
			t = this.#everyFinger(t + random.uniform(0, 0.3), duration, i => this.#open(i)) + random.uniform(0.05, 0.4);
		}
		return t;
	}

	/** Each finger as it likes, for a few seconds. */
	#freely(start: number): number {
		const random = this.#random;
		const close = this.#glove.hand.closeSeconds;
		const until = start + random.uniform(1.5, 4);
		let last = until;
		for (const [i, axis] of this.#fingers.entries()) {
			let at = start + random.uniform(0, 0.5);
			while (at < until) {
				const duration = this.#duration(close * random.uniform(0.6, 1.4));
				axis.move(at, duration, random.chance(0.4) ? this.#open(i) : random.uniform(0.05, 0.9));
				at += duration + random.exponential(0.3);
			}
			axis.move(at, close, this.#open(i));
			last = Math.max(last, at + close);
		}
		return last + random.uniform(0, 0.5);
	}

	/** Stick and buttons beside all that, begun before `end`. */
	#playAside(start: number, end: number): void {
		const random = this.#random;
		if (this.#glove.stick) {
			let at = start + random.uniform(0, 1);
			while (at < end) {
				at = this.#push(at, random.uniform(0, 360), random.uniform(0.3, 1)) + random.exponential(1.2);
			}
		}
		for (let button = 1; button <= this.#presses.length; button++) {
			let at = start + random.uniform(0, 3);
			while (at < end) at = this.#press(at, button, 1, undefined) + random.exponential(2.5);
		}
	}

	/** Moves every finger to its target within about `seconds`; returns when the last has arrived. */
	#everyFinger(t: number, seconds: number, target: (i: number) => number): number {
		let end = t;
		for (const [i, axis] of this.#fingers.entries()) {
			const begin = t + Math.abs(this.#random.normal(0, this.#glove.hand.startSpreadSeconds));
			const duration = this.#duration(seconds);
			axis.move(begin, duration, target(i));
			end = Math.max(end, begin + duration);
		}
		return end;
	}

	/** Farthest the gate lets the stick go in this direction. */
	#gate(degrees: number): number {
		if (this.#glove.stick?.gate !== 'square') return 1;
		const angle = (degrees * Math.PI) / 180;
		return 1 / Math.max(Math.abs(Math.cos(angle)), Math.abs(Math.sin(angle)));
	}

	/** Where the stick comes to rest this time, in units of half the throw. */
	#restPoint(): number {
		return this.#random.normal(0, 2 * (this.#glove.stick?.restScatter ?? 0));
	}

	#push(start: number, degrees: number, share: number): number {
		if (!this.#glove.stick) return start;
		const random = this.#random;
		const angle = (degrees * Math.PI) / 180;
		const radius = this.#gate(degrees) * share;
		const out = random.uniform(0.1, 0.25);
		this.#stickX.move(start, out, radius * Math.cos(angle));
		this.#stickY.move(start, out, radius * Math.sin(angle));
		const release = start + out + random.uniform(0.1, 0.6);
		// Springs bring the stick back in 60–120 ms, faster than a hand moves it.
		const back = random.uniform(0.06, 0.12);
		this.#stickX.move(release, back, this.#restPoint());
		this.#stickY.move(release, back, this.#restPoint());
		return release + back + random.uniform(0.35, 0.9);
	}

	#around(start: number, times: number): number {
		const {stick} = this.#glove;
		if (!stick) return start;
		const random = this.#random;
		const turnSeconds = random.uniform(0.8, 2.2);
		const turning = (random.chance(0.5) ? 1 : -1) * ((2 * Math.PI) / turnSeconds);
		const phase = random.uniform(0, 2 * Math.PI);
		const ramp = 0.25;
		const end = start + times * turnSeconds + 2 * ramp;
		const radius = (t: number): number => {
			const degrees = ((phase + turning * (t - start)) * 180) / Math.PI;
			return minimumJerk((t - start) / ramp) * (1 - minimumJerk((t - end + 0.1) / 0.1)) * this.#gate(degrees);
		};
		this.#stickX.curve(start, end, t => radius(t) * Math.cos(phase + turning * (t - start)));
		this.#stickY.curve(start, end, t => radius(t) * Math.sin(phase + turning * (t - start)));
		this.#stickX.move(end - 0.1, 0.1, this.#restPoint());
		this.#stickY.move(end - 0.1, 0.1, this.#restPoint());
		return end + random.uniform(0.4, 0.9);
	}

	#press(start: number, button: number, times: number, hertz: number | undefined): number {
		const presses = this.#presses[button - 1];
		if (!presses) return start;
		const random = this.#random;
		const [shortest, longest] = this.#glove.buttons.pressSeconds;
		let t = start + 0.05;
		for (let n = 0; n < times; n++) {
			const held = hertz ? (random.uniform(0.4, 0.6) * 1) / hertz : random.uniform(shortest, longest);
			presses.push({from: t, to: t + held});
			t += hertz ? random.uniform(0.94, 1.06) / hertz : held + random.uniform(0.2, 0.8);
		}
		return t;
	}
}
