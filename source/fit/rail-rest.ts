import type {GatheredChannel} from './gather.ts';
import type {RobustRange} from './robust-range.ts';

/** Most of the rest: there is not enough noise left elsewhere to measure it. */
const mostShare = 0.5;

/**
 * True where a channel mostly rests at a rail that its range ends at: what its noise is cannot be seen there, because
 * readings are cut off. Firmware that scales by itself sends an open hand like that.
 */
export function restsAtRail({rest}: GatheredChannel, {low, high}: RobustRange): boolean {
	const {levels, seconds} = rest;
	const atRail = (low?.isAtRail ? levels[0] : 0) + (high?.isAtRail ? levels[levels.length - 1] : 0);
	return seconds > 0 && atRail >= mostShare * seconds;
}
