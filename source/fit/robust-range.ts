import type {EndVisits, Visit} from './end-visits.ts';

/** Visits this close to each other, as a share of the span, confirm each other: fingers vary a few percent in depth. */
const agreeShare = 0.05;
const leastAgreeShare = 0.01;

/** A lone visit is believed if it lasted this long and was come to by a movement, not by a jump as a lost contact does. */
const loneDwellSeconds = 0.06;

/** How close to a rail a reading is at it, share of full scale (common practice: 0.5–1 %). */
export const railShare = 0.01;

/** One end of a channel's travel. */
type RangeEnd = {
	/** In the unit of the readings. */
	readonly level: number;
	/** Visits that came within 5 % of the span of it. */
	readonly visits: number;
	/** Half the spread of those visits: how far the end may be off. */
	readonly uncertainty: number;
	/** True where the reading lies at a rail. */
	readonly isAtRail: boolean;
};

/** The range a finger really uses; `low` and `high` undefined where that end has not been reached twice. */
export type RobustRange = {readonly low: RangeEnd | undefined; readonly high: RangeEnd | undefined};

/**
 * The range of a channel without the extremes of a glitch: each end is the farthest visit that another one confirms.
 * `railLow` and `railHigh` are the limits of possible readings.
 */
export function robustRange(visits: EndVisits, railLow: number, railHigh: number): RobustRange {
	const fullScale = railHigh - railLow;
	const lows = visits.at('low');
	const highs = visits.at('high');
	// The second farthest of each end: one wild visit must not stretch what counts as close.
	const span = (highs[1] ?? highs[0])?.level - (lows[1] ?? lows[0])?.level;
	const agree = Math.max(agreeShare * (Number.isNaN(span) ? 0 : span), leastAgreeShare * fullScale);
	const band = railShare * fullScale;
	const isAtRail = (level: number): boolean => level <= railLow + band || level >= railHigh - band;
	const end = (all: readonly Visit[]): RangeEnd | undefined => {
		const found = all.findIndex(({level, dwellSeconds, isByJump}, i) => {
			if (i + 1 < all.length && Math.abs(level - all[i + 1].level) <= agree) return true;
			return dwellSeconds >= loneDwellSeconds && !isByJump;
		});
		if (found < 0) return undefined;
		const {level} = all[found];
		const near = all.slice(found).filter(visit => Math.abs(visit.level - level) <= agree);
		const spread = Math.abs(level - near[near.length - 1].level);
		return {
			level,
			visits: near.length,
			uncertainty: near.length > 1 ? spread / 2 : agree,
			isAtRail: isAtRail(level),
		};
	};
	return {low: end(lows), high: end(highs)};
}

/**
 * How sure an end is after `visits` that agree, 0…1: the chance that the next one agrees too, (n + 1) / (n + 2).
 * Source: Laplace's rule of succession (from memory).
 *
 * @example
 * confidenceOfVisits(3); // => 0.8
 */
export function confidenceOfVisits(visits: number): number {
	return visits <= 0 ? 0 : (visits + 1) / (visits + 2);
}
