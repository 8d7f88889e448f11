/** Normal quantile of 97.5 %: a two-sided interval of 95 %. */
const z95 = 1.959_963_984_540_054;

/**
 * The 95 % interval of a share that was seen `hits` times in `tries`, 0…1 each end: E. B. Wilson, JASA 22 (1927), 209–212. It
 * takes tries to be independent; losses that come in bursts make it too narrow. The whole range without a try.
 */
export function wilson95(hits: number, tries: number): readonly [number, number] {
	if (tries <= 0) return [0, 1];
	const share = hits / tries;
	const square = z95 * z95;
	const middle = share + square / (2 * tries);
	const half = z95 * Math.sqrt((share * (1 - share)) / tries + square / (4 * tries * tries));
	const whole = 1 + square / tries;
	return [Math.max(0, (middle - half) / whole), Math.min(1, (middle + half) / whole)];
}
