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
	const sign = along.map((sum, place) => (Math.abs(sum) >= steadyShare * alongBlocks[place] ? Math.sign(sum) : 0));
	const fingers = channels.filter(({role, place}) => role === 'finger' && ranges.has(place));
	/** Seconds at rest near the low end less those near the high end, and both together. */
	const votes = new Map<number, {low: number; high: number}>();
	let together = 0;
	let weight = 0;
	for (const {place, rest} of fingers) {
		const {low, high} = ranges.get(place)!;
		if (!low || !high) continue;
		const {railLow, fullScale} = features.scale;
		const vote = {low: 0, high: 0};
		rest.levels.forEach((seconds, bin) => {
			const level = railLow + ((bin + 0.5) / rest.levels.length) * fullScale;
			const part = (level - low.level) / (high.level - low.level);
			if (part <= nearShare) vote.low += seconds;
			else if (part >= 1 - nearShare) vote.high += seconds;
		});
		votes.set(place, vote);
		together += sign[place] * (vote.low - vote.high);
		weight += Math.abs(sign[place]) * (vote.low + vote.high);
	}

	const result = new Map<number, Bending>();
	for (const {place, name} of fingers) {
		const said = declared.get(name);
		if (said !== undefined) {
			result.set(place, {flip: said, confidence: 1, from: 'sheet'});
			continue;
		}

		const vote = votes.get(place);
		if (sign[place] !== 0 && weight >= leastRestSeconds && Math.abs(together) >= 0.3 * weight) {
			// Positive: the fingers whose sign is +1 rest low, so their readings rise on bending.
			const flip = together > 0 ? sign[place] < 0 : sign[place] > 0;
			const own = vote === undefined ? 0 : vote.high - vote.low;
			const total = vote === undefined ? 0 : vote.high + vote.low;
			const isContradicted = total >= longRestSeconds && Math.abs(own) >= oneSided * total && own > 0 !== flip;
			result.set(
				place,
				isContradicted
					? {flip: !flip, confidence: 0.6, from: 'rest'}
					: {flip, confidence: share(Math.abs(together), weight), from: 'others'},
			);
		} else if (vote && vote.low + vote.high >= leastRestSeconds && vote.low !== vote.high) {
			const total = vote.low + vote.high;
			result.set(place, {
				flip: vote.high > vote.low,
				confidence: 0.8 * share(Math.abs(vote.low - vote.high), total),
				from: 'rest',
			});
		} else result.set(place, {flip: undefined, confidence: 0, from: 'unknown'});
	}

	return result;
}

/** 0.5 where the rests speak for both ends alike, 0.98 where all speak for one. */
function share(difference: number, total: number): number {
	return 0.5 + (0.48 * difference) / total;
}
