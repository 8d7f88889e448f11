import {sumOf} from '../../math/sums.ts';

/** Symbol rates in use, baud. */
const usualRates = [
	1200, 2400, 4800, 9600, 14_400, 19_200, 28_800, 31_250, 38_400, 57_600, 74_880, 115_200, 230_400, 250_000, 460_800,
	500_000, 921_600, 1_000_000,
];

/** How far a guess may lie from a usual rate to be taken for it. */
const tolerance = 0.12;

/**
 * The rate at which a board most likely sends, told from bytes received at another rate; undefined where they don't
 * tell. A sender k times slower than the listener holds each bit for k of the listener's: runs of equal bits that
 * begin and end inside a byte are then k, 2k, 3k … long. A sender that is faster leaves nothing to count.
 */
export function fittingRate(bytes: Uint8Array, listeningAt: number | null): number | undefined {
	if (listeningAt === null || bytes.length < 64) return undefined;
	const runs = new Array<number>(9).fill(0);
	let total = 0;
	for (const byte of bytes) {
		// Start bit low, then the data, lowest bit first. The last run may go on beyond the byte.
		let level = 0;
		let length = 1;
		for (let bit = 0; bit < 8; bit++) {
			const next = (byte >> bit) & 1;
			if (next === level) length++;
			else {
				runs[length]++;
				total++;
				level = next;
				length = 1;
			}
		}
	}
	if (total < 32) return undefined;
	// The shortest run that is no rarity is the sender's bit.
	for (let ratio = 2; ratio <= 8; ratio++) {
		const shorter = sumOf(runs.slice(1, ratio));
		if (shorter > 0.15 * total) return undefined;
		if (runs[ratio] < 0.2 * total) continue;
		const guess = listeningAt / ratio;
		const rate = usualRates.reduce((nearest, usual) => (offBy(usual, guess) < offBy(nearest, guess) ? usual : nearest));
		if (offBy(rate, guess) <= tolerance) return rate;
	}
	return undefined;
}

/** How far a usual rate lies from a guess, as a share of the guess. */
function offBy(usual: number, guess: number): number {
	return Math.abs(usual / guess - 1);
}
