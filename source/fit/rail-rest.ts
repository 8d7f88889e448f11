import type {GatheredChannel} from './gather.ts';
import type {RobustRange} from './robust-range.ts';

/** At least half of the rest is "mostly": what is left elsewhere is then too little to measure noise by. */
const mostShare = 0.5;

/**
 * True where a channel mostly rests at a rail that its range ends at: what its noise is cannot be seen there, because
 * readings are cut off. Firmware that scales by itself sends an open hand like that.
 */
export function restsAtRail({rest}: GatheredChannel, {low, high}: RobustRange): boolean {
	const {levels: secondsAt, seconds} = rest;
	const atLow = low?.isAtRail ? secondsAt[0] : 0;
	const atHigh = high?.isAtRail ? secondsAt[secondsAt.length - 1] : 0;
	return seconds > 0 && atLow + atHigh >= mostShare * seconds;
}
