import type {Random} from './random.ts';

/**
 * How a hand keeps a posture, in shares of a finger's travel. What is measured on real hands (check-values H-real) is told in
 * % FS; each figure is divided here by the median span of the same recordings (16, 17, 21 and 84 % FS), because it is
 * the hand that moves and not the sensor.
 */
type Posture = {
	/** Sway below 3 Hz, rms. */
	readonly swayShare: number;
	/** How fast the posture creeps, per second. */
	readonly creepPerSecond: number;
	/** 0: every finger sways and creeps by itself; 1: all as one. */
	readonly together: number;
	/** Mean time between one posture and the next, seconds. */
	readonly changeSeconds: number;
};

/** Draws the manner in which one posture is kept. */
export function drawPosture(random: Random): Posture {
	return {
		// Check-values H-real, rest rms < 2 Hz, p50 … p95: 0.09…0.44 of 16, 0.08…0.38 of 17, 0.03…0.31 of 21, 0.03…0.14 of 84.
		swayShare: random.logUniform(0.0004, 0.027),
		// Check-values H-real, posture drift, p50 … p95: 0.28…2.0 of 16, 0.12…0.65 of 17, 0.05…0.51 of 21, 0.29…0.86 of 84.
		creepPerSecond: random.logUniform(0.0024, 0.04),
		// Check-values H-real, pair correlation at rest: medians −0.22 … 0.18 on worn gloves, 0.91 on one; p95 up to 0.95.
		together: random.uniform(0, 1),
		// How often hands change it: common practice, no source.
		changeSeconds: random.uniform(4, 15),
	};
}

/** Size of one change of posture, share of travel (2–10 % FS of gloves that span 20–80 %: common practice, no source). */
export const changeShare: readonly [least: number, most: number] = [0.03, 0.25];

/** How far creep leads a posture away before it turns back, share of travel: common practice, no source. */
export const creepReach = 0.1;

/**
 * How much further a hand lies from fully open after it has let go of something than after a fist, share of travel.
 * Check-values H-real: the ends of strokes scatter by 0.05–0.30 of the span.
 */
export const relaxedShare: readonly [least: number, most: number] = [0.05, 0.3];

/** Hertz of the parts of a sway and their share of its power: the slower the stronger, all below 3 Hz. */
const parts = [
	[0.15, 0.4],
	[0.4, 0.3],
	[0.9, 0.2],
	[1.9, 0.1],
] as const;

/** A sum of slow sines of rms 1, as a function of time in seconds. */
export function drawSway(random: Random): (t: number) => number {
	const sines = parts.map(([hertz, power]) => ({
		amplitude: Math.sqrt(2 * power),
		radiansPerSecond: 2 * Math.PI * hertz * random.uniform(0.7, 1.4),
		phase: random.uniform(0, 2 * Math.PI),
	}));
	return t => {
		let sum = 0;
		for (const {amplitude, radiansPerSecond, phase} of sines) sum += amplitude * Math.sin(radiansPerSecond * t + phase);
		return sum;
	};
}
