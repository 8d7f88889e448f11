/** A figure for evidence and sentences: rounded to a tenth, or to a thousandth below one. */
export function figure(value: number): number {
	const size = Math.abs(value);
	const unit = size >= 1 ? 10 : 1000;
	return Math.round(value * unit) / unit;
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
