import type {Plan} from './plan.ts';

type Range = readonly [low: number, high: number];

export type FistOptions = {
	readonly depth?: Range;
	/** Seconds of one closing. */
	readonly seconds?: Range;
	/** How far the fingers set out apart, as a share of the closing. */
	readonly lag?: number;
	/** How far the fingers' closings differ in length. */
	readonly unlike?: number;
	readonly hold?: Range;
	readonly open?: Range;
	readonly pause?: Range;
};

/**
 * Closes the whole hand and opens it, so many times. Fists open fully; depth and openness scatter as hands do.
 * Lengths: strokes of 0.05 to 1.3 s, check-values H-real; 0.3 s for a fast fist, H13.
 */
export function fists(plan: Plan, times: number, options: FistOptions = {}): void {
	const {random} = plan;
	const {
		depth = [0.9, 1],
		seconds = [0.5, 1.1],
		lag = 0.2,
		unlike = 0.12,
		hold = [0.2, 1],
		open = [0, 0.025],
		pause = [0.25, 0.9],
	} = options;
	for (let n = 0; n < times; n++) {
		for (const [closing, ends] of [
			[true, depth],
			[false, open],
		] as const) {
			const length = random.uniform(...seconds);
			let last = 0;
			for (const finger of plan.fingers) {
				const delay = random.uniform(0, lag) * length;
				const own = length * random.uniform(1 - unlike, 1 + unlike);
				plan.move(finger, random.uniform(...ends), own, delay);
				last = Math.max(last, delay + own);
			}
			plan.wait(last);
			plan.whole.push(plan.t);
			plan.wait(random.uniform(...(closing ? hold : pause)));
		}
	}
}

/**
 * Takes hold of something and lets go of it. A hand that lets go only relaxes: all fingers stay bent alike, by 8 to
 * 30 %, and differently each time.
 */
export function grasps(plan: Plan, times: number): void {
	const {random} = plan;
	for (let n = 0; n < times; n++) {
		const seconds = random.uniform(0.4, 1.1);
		for (const finger of plan.fingers) {
			plan.move(finger, random.uniform(0.6, 0.95), seconds * random.uniform(0.85, 1.1), random.uniform(0, 0.2));
		}
		plan.wait(seconds * 1.1 + 0.2 + random.uniform(0.4, 2.5));
		const relaxed = random.uniform(0.08, 0.3);
		for (const finger of plan.fingers) {
			plan.move(finger, relaxed + random.uniform(-0.03, 0.03), seconds, random.uniform(0, 0.15));
		}
		plan.wait(seconds + 0.15 + random.uniform(0.4, 1.5));
	}
	opened(plan);
}

/** Opens the hand fully, without haste. */
export function opened(plan: Plan): void {
	const {random} = plan;
	for (const finger of plan.fingers) plan.move(finger, random.uniform(0, 0.02), 0.7, random.uniform(0, 0.1));
	plan.wait(0.8 + random.uniform(0.2, 0.8));
}

/** One finger there and back, alone, so many times. */
export function alone(plan: Plan, finger: string, times: number, depth: Range = [0.8, 1]): void {
	const {random} = plan;
	if (depth[0] >= 0.8) plan.wentAlone.add(finger);
	for (let n = 0; n < times; n++) {
		const seconds = random.uniform(0.35, 0.9);
		plan.move(finger, random.uniform(...depth), seconds);
		plan.wait(seconds + random.uniform(0.15, 0.7));
		plan.move(finger, random.uniform(0, 0.02), seconds * random.uniform(0.9, 1.2));
		plan.wait(seconds * 1.2 + random.uniform(0.3, 0.9));
	}
}

/** Every finger alone, two to four times unless told otherwise, in any order: none is the favourite. */
export function eachAlone(plan: Plan, times = plan.random.integer(2, 4), order: 'any' | 'scan' = 'any'): void {
	const fingers = order === 'scan' ? plan.fingers : plan.random.shuffle(plan.fingers);
	for (const finger of fingers) alone(plan, finger, times);
}

/** Two fingers at once, now and then three; what is left out gives way a little, as hands do (H19 to H22). */
export function chords(plan: Plan, times: number): void {
	const {random} = plan;
	for (let n = 0; n < times; n++) {
		const order = random.shuffle(plan.fingers);
		const size = plan.fingers.length > 3 && random.chance(0.3) ? 3 : 2;
		const struck = new Set(order.slice(0, size));
		const seconds = random.uniform(0.25, 0.6);
		for (const closing of [true, false]) {
			for (const finger of plan.fingers) {
				const out = random.uniform(0.09, 0.16);
				const target = struck.has(finger) ? random.uniform(0.75, 1) : size === 3 || plan.fingers.length < 5 ? out : 0;
				plan.move(finger, closing ? target : random.uniform(0, 0.02), seconds, random.uniform(0, 0.06));
			}
			plan.wait(seconds + 0.06 + random.uniform(0.2, 0.8));
		}
	}
}

/** Half a push of one finger, as somebody does who only feels for the end; each finger in turn. */
export function halfPushes(plan: Plan): void {
	const {random} = plan;
	for (const finger of random.shuffle(plan.fingers)) alone(plan, finger, random.integer(1, 2), [0.25, 0.6]);
}

/** Taps of one finger, 4 to 6.8 a second (H12). */
export function taps(plan: Plan, finger: string, times: number, hertz: number): void {
	const {random} = plan;
	for (let n = 0; n < times; n++) {
		const half = 0.5 / hertz;
		plan.move(finger, random.uniform(0.2, 0.45), half * 0.9);
		plan.wait(half);
		plan.move(finger, random.uniform(0, 0.03), half * 0.9);
		plan.wait(half);
	}
	plan.wait(0.5);
}

/** Postures held for as long as told. No finger stays exactly where it was when the others go elsewhere (H-real). */
export function postures(plan: Plan, times: number, hold: Range): void {
	const {random} = plan;
	for (let n = 0; n < times; n++) {
		const seconds = random.uniform(0.4, 1.2);
		for (const finger of plan.fingers) {
			const wanted = random.weighted([
				[random.uniform(0, 0.08), 2],
				[random.uniform(0.85, 1), 2],
				[random.uniform(0.15, 0.7), 2],
			]);
			const near = Math.abs(wanted - plan.at(finger)) < 0.08;
			const target = near ? wanted + (wanted > 0.5 ? -0.14 : 0.14) : wanted;
			plan.move(finger, target, seconds, random.uniform(0, 0.15));
		}
		plan.wait(seconds + 0.15);
		drift(plan, random.uniform(...hold));
	}
	opened(plan);
}

/** Rest: the hand lies, creeps and settles anew, all fingers together. At the end it is open again. */
export function rest(plan: Plan, seconds: number): void {
	drift(plan, seconds);
	if (plan.fingers.some(finger => plan.at(finger) > 0.03)) opened(plan);
}

/**
 * What a hand does while it does nothing: it creeps for seconds (0.01 to 2 % of full scale a second, H-real), and now
 * and then takes another posture (2 to 10 % of full scale, at once or in a second), mostly all fingers the same way.
 */
function drift(plan: Plan, seconds: number): void {
	const {random} = plan;
	const end = plan.t + seconds;
	const own = plan.fingers.map(() => random.uniform(0.4, 1.3) * (random.chance(0.15) ? -1 : 1));
	while (plan.t < end) {
		const step = random.chance(0.3);
		const length = Math.min(step ? random.uniform(0.3, 1.2) : random.uniform(2, 8), Math.max(0.3, end - plan.t));
		const idle = random.chance(0.25);
		const way = step ? random.uniform(0.04, 0.16) : Math.min(0.03 * length, random.uniform(0.005, 0.06));
		const sense = random.chance(0.5) ? 1 : -1;
		if (!idle) {
			for (const [i, finger] of plan.fingers.entries()) {
				plan.move(finger, Math.min(1, Math.max(0, plan.at(finger) + sense * way * own[i])), length);
			}
		}
		plan.wait(length + random.uniform(0.5, 5));
	}
	plan.t = Math.max(plan.t, end);
}

/**
 * Free use: strokes of 17 to 95 % of the travel in 0.05 to 1.6 s; 64 % of one finger, 34 % of two, 2 % of three at once
 * (H-real).
 */
export function play(plan: Plan, seconds: number): void {
	const {random} = plan;
	const end = plan.t + seconds;
	let order = random.shuffle(plan.fingers);
	while (plan.t < end) {
		const size = random.weighted([
			[1, 64],
			[2, 34],
			[3, 2],
		]);
		const length = random.logUniform(0.15, 1.6);
		if (order.length < size) order = random.shuffle(plan.fingers);
		for (const finger of order.splice(0, size)) {
			const now = plan.at(finger);
			const way = random.uniform(0.17, 0.9);
			const up = now < 0.15 || (now < 0.85 && random.chance(0.5));
			plan.move(finger, Math.min(1, Math.max(0, up ? now + way : now - way)), length, random.uniform(0, 0.1));
		}
		plan.wait(length + random.exponential(0.6));
	}
	opened(plan);
}
