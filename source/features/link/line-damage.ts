import type {Features} from '../features.ts';

/**
 * What chance may bring on a sound link in one look: with the most that a sound link damages (0.1 % of the lines is silent
 * by definition, and half as much again), once in a hundred thousand looks. There are some two million in 100 hours, but
 * only every tenth sees lines that the one before did not.
 */
const soundShare = 0.0015;
const chance = 1e-5;

/** Fewer lost digits than on two channels, with every line of the right length, may be one sensor's jumps (definition). */
const leastChannels = 2;

/** Seconds in which a heavy fault shows, and in which a light one does (of 1 % at 20 lines/s that is a dozen lines). */
export const shortWindow = 5;
export const longWindow = 60;

/** Damaged lines of the latest `seconds`. */
type LineDamage = {
	/** Lines that were meant as frames, good ones included. */
	readonly lines: number;
	/** Those that came cut, merged or garbled, and the ones in which a digit was lost. */
	readonly damaged: number;
	readonly eaten: number;
	/** How many times what chance may bring on a sound link. */
	readonly timesChance: number;
	/** When the first and the last of them came, to a quarter second; NaN without any. */
	readonly from: number;
	readonly to: number;
};

export function lineDamage(features: Features, seconds: number): LineDamage {
	const {ticks} = features.link;
	const bad = ticks.total(ticks.badLines, seconds);
	const seen = ticks.total(ticks.eaten, seconds);
	const isLinks =
		seen > 0 &&
		(ticks.total(ticks.miscounted, seconds) > 0 || features.analog.excursions.eatenChannels >= leastChannels);
	const eaten = isLinks ? seen : 0;
	const lines = ticks.total(ticks.frames, seconds) + bad;
	const damaged = bad + eaten;
	return {
		lines,
		damaged,
		eaten,
		timesChance: damaged === 0 ? 0 : damaged / beyondChance(soundShare * lines),
		from: Math.min(
			firstIn(features, ticks.badLines, seconds),
			isLinks ? firstIn(features, ticks.eaten, seconds) : never,
		),
		to: Math.max(lastIn(features, ticks.badLines, seconds), isLinks ? lastIn(features, ticks.eaten, seconds) : -never),
	};
}

const never = Number.POSITIVE_INFINITY;

function firstIn({link: {ticks}}: Features, column: Float64Array, seconds: number): number {
	const t = ticks.firstIn(column, seconds);
	return Number.isNaN(t) ? never : t;
}

function lastIn({link: {ticks}}: Features, column: Float64Array, seconds: number): number {
	const t = ticks.lastIn(column, seconds);
	return Number.isNaN(t) ? -never : t;
}

/** Whether any line of the latest `seconds` looked damaged at all. */
export function hasDamage({link: {ticks}}: Features, seconds: number): boolean {
	return ticks.total(ticks.badLines, seconds) > 0 || ticks.total(ticks.eaten, seconds) > 0;
}

/** The fewest events that chance does not bring where `mean` are expected (Poisson). */
function beyondChance(mean: number): number {
	let term = Math.exp(-mean);
	let left = 1 - term;
	let count = 1;
	// Of a thousand lines and more the tail is far above the mean; the loop ends well before it.
	while (left > chance && count < mean + 1000) {
		term *= mean / count;
		left -= term;
		count++;
	}
	return count;
}
