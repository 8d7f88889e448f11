import type {Features} from '../features/features.ts';
import {figure} from '../text/measured-figures.ts';

export {asShare, figure, inMilliseconds, inPercent, milliseconds, percentOf} from '../text/measured-figures.ts';

/** Counts as a rounded percentage of full scale. */
export function percentFs(features: Features, counts: number): number {
	return figure(features.percent(counts));
}

/** The stream time at which a window of `seconds` before now begins, not before the start. */
export function before(features: Features, seconds: number): number {
	return Math.max(0, features.now - seconds);
}
