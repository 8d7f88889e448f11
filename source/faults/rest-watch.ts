import {BlockHistory} from '../features/block-history.ts';
import type {Features} from '../features/features.ts';
import {recentSeconds} from '../features/hand.ts';

/** What a channel does while the other fingers rest. */
export type Rest = {
	/** Blocks looked at. */
	readonly blocks: number;
	/** Median rms about each block's own line, counts. */
	readonly noise: number;
	/** rms about the mean of all these blocks, counts: noise and wander together. */
	readonly rms: number;
	/** Quietest block, counts. */
	readonly quietest: number;
	/** Median share of roughness in the noise: 1 for white noise, near 0 for a smooth movement. */
	readonly roughShare: number;
	/** Share of blocks in which the channel was settled. */
	readonly settled: number;
	/** Start of the first of these blocks, seconds. */
	readonly since: number;
};

/** Noise (rms, share of full scale) from which a channel is no witness either: most of what excess noise begins with. */
const unreliableNoise = 0.012;

/** Four turns of a finger that taps, be it twice a second. */
const workedSeconds = 2;

/** A way is a movement's from so many rms of the channel's own noise on: noise spans six to seven. */
export const noiseFactor = 9;

/** A channel this restless (share of recent blocks) is no witness of a resting hand. */
const unreliable = 0.6;

/**
 * The blocks of the last `seconds` in which no other finger moved that can be believed. Undefined where there were
 * fewer than `least`, or no other finger can be believed.
 */
export function restWatch(features: Features, a: number, seconds: number, least: number): Rest | undefined {
	const {analog, hand} = features;
	const {blocks} = analog;
	const since = features.now - seconds;
	const witnesses = hand.fingers.filter(
		other => other !== a && (isWitness(features, other) || isWorked(features, other, since)),
	);
	if (witnesses.length === 0) return undefined;
	const noises: number[] = [];
	const shares: number[] = [];
	const means: number[] = [];
	let settled = 0;
	let from = Number.NaN;
	for (let number = blocks.firstSince(since); number < blocks.count; number++) {
		let moving = 0;
		for (const other of witnesses) moving += blocks.moving[blocks.at(number, other)];
		if (moving > 0) continue;
		const at = blocks.at(number, a);
		const noise = blocks.noise[at];
		if (Number.isNaN(noise)) continue;
		if (Number.isNaN(from)) from = blocks.start[blocks.slot(number)];
		noises.push(noise);
		means.push(blocks.mean[at]);
		shares.push(noise > 0 ? blocks.rough[at] / noise : 1);
		settled += blocks.settled[at];
	}
	if (noises.length < least) return undefined;
	noises.sort((one, other) => one - other);
	shares.sort((one, other) => one - other);
	return {
		blocks: noises.length,
		noise: noises[noises.length >> 1],
		rms: rmsOf(noises, means),
		quietest: noises[0],
		roughShare: shares[shares.length >> 1],
		settled: settled / noises.length,
		since: from,
	};
}

/** rms of readings from their blocks' own noise and means. */
function rmsOf(noises: readonly number[], means: readonly number[]): number {
	const mean = means.reduce((sum, x) => sum + x, 0) / means.length;
	return Math.sqrt(noises.reduce((sum, noise, i) => sum + noise * noise + (means[i] - mean) ** 2, 0) / noises.length);
}

/** Whether no other finger that can be believed moved during the newest block, and none is being worked without a pause. */
export function othersRest(features: Features, a: number): boolean {
	const {analog, hand} = features;
	const {blocks} = analog;
	for (const other of hand.fingers) {
		if (other === a || blocks.moving[blocks.at(blocks.count - 1, other)] === 0) continue;
		if (isWitness(features, other) || isWorked(features, other, features.now - workedSeconds)) return false;
	}
	return true;
}

/**
 * Whether a channel has gone to and fro by far more than its noise since `since`: its finger is worked, if need be without
 * a rest in between, and takes its neighbours along.
 */
export function isWorked(features: Features, b: number, since: number): boolean {
	const {trips, scale} = features.analog;
	if (trips.turnsSince(b, since) < 4) return false;
	const way = trips.longestSince(b, since);
	return way >= 0.2 * scale.fullScale && way >= noiseFactor * calmestRoughness(features, b);
}

/**
 * Whether a channel has been seen to follow its own finger: with the others in whole-hand movements, or alone with
 * way enough and a rest at either end. `since` limits it to what was seen from then on.
 */
export function followsFinger(features: Features, a: number, since: number): boolean {
	const {analog, hand} = features;
	// The hand's recent window must lie wholly after the block in which `since` is; nothing lies before the stream.
	if (hand.followedAt[a] >= (since > 0 ? since + recentSeconds + BlockHistory.seconds : 0)) return true;
	const turns = analog.trips.turnsSince(a, since);
	// Noise makes ways of its own: up to eight of its rms.
	const {blocks} = analog;
	const noise = Math.max(analog.restNoise(a) ?? 0, analog.floor[a], blocks.rough[blocks.at(blocks.count - 1, a)] || 0);
	if (turns < 2 || analog.trips.longestSince(a, since) < 0.2 * analog.scale.fullScale + 8 * noise) return false;
	// Alone: a finger rests between its movements; a wandering pin does not.
	return analog.restless[a] < unreliable;
}

/**
 * Noise of a channel's typical reading over the last `seconds`, counts rms: the median second difference, which single
 * jumps do not lift and movements hardly. 0 with fewer than eight readings.
 */
export function typicalNoise(features: Features, a: number, seconds: number): number {
	const {analog, history, now} = features;
	const column = analog.columns[a];
	const bends: number[] = [];
	for (let frame = Math.max(history.oldest, history.firstAt(now - seconds)) + 2; frame < history.count; frame++) {
		const at = (back: number): number => history.values[history.base(frame - back) + column];
		bends.push(Math.abs(at(0) - 2 * at(1) + at(2)));
	}
	if (bends.length < 8) return 0;
	bends.sort((one, other) => one - other);
	// Median of |second difference| of white noise: 0.6745·√6 of its rms.
	return bends[bends.length >> 1] / (0.6745 * Math.sqrt(6));
}

/** Smallest roughness of a channel in the last two seconds, counts rms: its noise, which a quick movement only adds to. */
export function calmestRoughness(features: Features, a: number): number {
	const {blocks} = features.analog;
	let least = Number.POSITIVE_INFINITY;
	for (let number = Math.max(blocks.oldest, blocks.count - 8); number < blocks.count; number++)
		least = Math.min(least, blocks.rough[blocks.at(number, a)]);
	return Number.isFinite(least) ? least : 0;
}

/** Whether a channel can tell that the hand rests: it settles now and then, and is not all noise itself. */
function isWitness(features: Features, a: number): boolean {
	const {analog} = features;
	if (analog.restless[a] >= unreliable) return false;
	// On a slow stream quick movements are rough as well.
	if ((features.framesPerSecond ?? 0) < 40) return true;
	return calmestRoughness(features, a) < unreliableNoise * analog.scale.fullScale;
}
