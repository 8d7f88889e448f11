import type {GatheredLayout} from './gather.ts';
import type {RobustRange} from './robust-range.ts';

/** Which way a finger's reading goes when it bends. */
export type Bending = {
	/** True where the reading falls as the finger bends; undefined where it cannot be told. */
	readonly flip: boolean | undefined;
	/** 0…1. */
	readonly confidence: number;
	/** How it was found. */
	readonly from: 'sheet' | 'rest' | 'others' | 'unknown';
};

/** A rest in this share of the range next to an end speaks for the hand lying open there. */
const nearShare = 0.3;

/** Shortest rest that says anything, seconds. */
const leastRestSeconds = 1;

/** A finger's direction relative to the others counts once it was the same for four fifths of the time (net 0.6). */
const steadyShare = 0.6;

/** A finger that rests this long, and this much of it near one end, is believed against the others. */
const longRestSeconds = 5;
const oneSided = 0.9;

/**
 * Which way each finger's reading goes when it bends. A hand at rest lies open, so the end near which the fingers
 * rest is the open one; movements of the whole hand tell which fingers go the same way, so that all fingers' rests
 * count together. `declared` is what a sheet says, by channel name; it settles the matter.
 */
export function findBending(
	gathered: GatheredLayout,
	ranges: ReadonlyMap<number, RobustRange>,
	declared: ReadonlyMap<string, boolean>,
): Map<number, Bending> {
	const {features, channels, along, alongBlocks} = gathered;
	const fingers = channels
		.filter(({role, place}) => role === 'finger' && ranges.has(place))
		.map(({place, name, rest}): Finger => {
			const sum = along[place];
			const sign = Math.abs(sum) >= steadyShare * alongBlocks[place] ? Math.sign(sum) : 0;
			return {place, name, sign, vote: voteOf(rest.levels, ranges.get(place)!, features.scale)};
		});
	const verdict = {together: 0, weight: 0};
	for (const {sign, vote} of fingers) {
		if (vote === undefined) continue;
		verdict.together += sign * (vote.low - vote.high);
		verdict.weight += Math.abs(sign) * (vote.low + vote.high);
	}

	return new Map(fingers.map(finger => [finger.place, bendingOf(finger, verdict, declared.get(finger.name))]));
}

type Finger = {
	readonly place: number;
	readonly name: string;
	/** ±1: goes with the others or against them; 0 where it was not the same for long enough. */
	readonly sign: number;
	readonly vote: Vote | undefined;
};

/** Seconds at rest near the low end, and near the high one. */
type Vote = {readonly low: number; readonly high: number};

/** What all rests say together: seconds for rising readings less those for falling ones, and both. */
type Together = {readonly together: number; readonly weight: number};

/** For which end a finger's rests speak; undefined where the range has no ends. */
function voteOf(
	levels: Float64Array,
	{low, high}: RobustRange,
	{railLow, fullScale}: {readonly railLow: number; readonly fullScale: number},
): Vote | undefined {
	if (!low || !high) return undefined;
	const vote = {low: 0, high: 0};
	levels.forEach((seconds, bin) => {
		const level = railLow + ((bin + 0.5) / levels.length) * fullScale;
		const part = (level - low.level) / (high.level - low.level);
		if (part <= nearShare) vote.low += seconds;
		else if (part >= 1 - nearShare) vote.high += seconds;
	});
	return vote;
}

/** By the sheet, else by all fingers together unless its own rests contradict them, else by its own rests. */
function bendingOf({sign, vote}: Finger, {together, weight}: Together, said: boolean | undefined): Bending {
	if (said !== undefined) return {flip: said, confidence: 1, from: 'sheet'};
	const total = vote === undefined ? 0 : vote.low + vote.high;
	const own = vote === undefined ? 0 : vote.high - vote.low;
	if (sign !== 0 && weight >= leastRestSeconds && Math.abs(together) >= 0.3 * weight) {
		// Positive: the fingers whose sign is +1 rest low, so their readings rise on bending.
		const flip = together > 0 ? sign < 0 : sign > 0;
		const isContradicted = total >= longRestSeconds && Math.abs(own) >= oneSided * total && own > 0 !== flip;
		return isContradicted
			? {flip: !flip, confidence: 0.6, from: 'rest'}
			: {flip, confidence: share(Math.abs(together), weight), from: 'others'};
	}

	if (total >= leastRestSeconds && own !== 0)
		return {flip: own > 0, confidence: 0.8 * share(Math.abs(own), total), from: 'rest'};
	return {flip: undefined, confidence: 0, from: 'unknown'};
}

/** 0.5 where the rests speak for both ends alike, 0.98 where all speak for one. */
function share(difference: number, total: number): number {
	return 0.5 + (0.48 * difference) / total;
}
