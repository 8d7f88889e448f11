import type {Features} from '../features/features.ts';

/** A figure for evidence and sentences: rounded to a tenth, or to a thousandth below one. */
export function figure(value: number): number {
	const size = Math.abs(value);
	const unit = size >= 1 ? 10 : 1000;
	return Math.round(value * unit) / unit;
}

/** Counts as a rounded percentage of full scale. */
export function percentFs(features: Features, counts: number): number {
	return figure(features.percent(counts));
}

/** A share as a rounded percentage. */
export function percentOf(share: number): number {
	return figure(100 * share);
}

/** A share in percent, as limits have it; not rounded. */
export function inPercent(share: number): number {
	return 100 * share;
}

/** A limit in percent as a share. */
export function asShare(percent: number): number {
	return percent / 100;
}

/** Seconds in milliseconds, as limits have them; not rounded. */
export function inMilliseconds(seconds: number): number {
	return 1000 * seconds;
}

/** Seconds as rounded milliseconds. */
export function milliseconds(seconds: number): number {
	return figure(1000 * seconds);
}

/** The stream time at which a window of `seconds` before now begins, not before the start. */
export function before(features: Features, seconds: number): number {
	return Math.max(0, features.now - seconds);
}
