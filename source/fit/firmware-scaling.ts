import type {GatheredChannel, GatheredLayout} from './gather.ts';
import {type RobustRange, railShare} from './robust-range.ts';

/** What the firmware does to the readings before it sends them. */
export type FirmwareScaling = {
	/** `yes`: most fingers end at both rails. `no`: they don't. `unknown`: too few fingers have been moved. */
	readonly scales: 'yes' | 'no' | 'unknown';
	/** Whether what it learned of the hand fits; null where it does not scale or where that cannot be told. */
	readonly learning: 'complete' | 'incomplete' | null;
	/** One or two sentences with the figures. */
	readonly explanation: string;
};

/** Fingers that must have moved before anything is said about them all. */
const leastFingers = 2;

/**
 * Both ends this near the rails, and one of them at it, is a stretched finger. A learned range is a little inside or
 * outside of what the hand does later, so the other end may stay a few percent short (measured: up to 5 %).
 */
const nearRailShare = 0.06;

/**
 * Time for the last part of a crossing over that for the part before, see `RailCrossings`: 1.03 where a tenth of the
 * way is cut off, which a learned range may well lack, 0.85 where a quarter is. Between them.
 */
const leastBraking = 0.92;

/** One raw count moves what is sent by this many counts: fewer than 130 positions of a 10 bit scale are left. */
const coarseStep = 8;

/**
 * Quicker than any hand, spans per second: the fastest fists, 3.3 a second, have a top speed of π · 3.3 = 10.4
 * (grip-and-release norm study, abstract read). Most of the finger's way must lie beyond the learned range.
 */
const mostSpansPerSecond = 12;

/**
 * Short jumps a second. A loose contact does that on one finger; on most of them at once, with an end at a rail, it is
 * their resting noise that was learned as the whole range.
 */
const leastJumpsPerSecond = 1;

/** Judges whether the firmware stretches each finger to the rails by itself, and whether it learned the whole hand. */
export function judgeScaling(gathered: GatheredLayout, ranges: ReadonlyMap<number, RobustRange>): FirmwareScaling {
	const {features, channels} = gathered;
	const {scale} = features;
	const moved = channels.filter(({role, place}) => {
		const range = ranges.get(place);
		return role === 'finger' && range?.low !== undefined && range.high !== undefined;
	});
	if (moved.length < leastFingers) {
		return {
			scales: 'unknown',
			learning: null,
			explanation: 'Too few fingers have moved to tell what the firmware does.',
		};
	}

	const seconds = gathered.lastAt - gathered.firstAt;
	const stretched = moved.filter(({place, glitches}) => {
		const {low, high} = ranges.get(place)!;
		const fromLow = low!.level - scale.railLow;
		const fromHigh = scale.railHigh - high!.level;
		const near = nearRailShare * scale.fullScale;
		if (Math.min(fromLow, fromHigh) > railShare * scale.fullScale) return false;
		return (fromLow <= near && fromHigh <= near) || glitches.dropped >= leastJumpsPerSecond * seconds;
	});
	if (2 * stretched.length <= moved.length) {
		const some = stretched.length > 0 ? ` (but for ${stretched.map(({name}) => name).join(', ')})` : '';
		return {
			scales: 'no',
			learning: null,
			explanation: `The readings end short of the rails${some}: the firmware sends them unscaled.`,
		};
	}

	const scales = `${stretched.length} of ${moved.length} fingers end at the rails: the firmware scales by itself.`;
	const lost = stretched.flatMap(channel => {
		const signs = lostWay(gathered, channel);
		return signs.length > 0 ? [`${channel.name} ${signs.join(' and ')}`] : [];
	});
	if (lost.length === 0) {
		return {
			scales: 'yes',
			learning: 'complete',
			explanation: `${scales} What it learned at power-up covers the hand's movement; the settings below are for what it sends.`,
		};
	}

	return {
		scales: 'yes',
		learning: 'incomplete',
		explanation:
			`${scales} What it learned at power-up does not cover the hand's whole movement: ${lost.join('; ')}. ` +
			'Start it again with the glove worn, and move every finger from fully open to fully closed while it learns.',
	};
}

/** Signs that a finger's way goes on beyond what the firmware learned. */
function lostWay(
	{features, firstAt, lastAt}: GatheredLayout,
	{place, speeds, crossings, glitches}: GatheredChannel,
): string[] {
	const {steps} = features.analog;
	const jumps = glitches.dropped / (lastAt - firstAt);
	const step = steps.step(place);
	const speed = speeds.quantile(0.9, 0.25) ?? 0;
	const cut = (['lower', 'upper'] as const).filter(rail => {
		const ratio = crossings.ratio(rail === 'upper' ? 'high' : 'low');
		return ratio !== undefined && ratio < leastBraking;
	});
	return [
		...(cut.length > 0 ? [`runs into the ${cut.join(' and the ')} rail at full speed`] : []),
		...(step >= coarseStep && steps.changesSeen(place) >= 20 ? [`moves in steps of ${step} counts`] : []),
		...(jumps >= leastJumpsPerSecond ? [`jumps ${Math.round(jumps)} times a second`] : []),
		...(speed >= mostSpansPerSecond
			? [`crosses its range faster than a hand can (${Math.round(speed)} times a second)`]
			: []),
	];
}
