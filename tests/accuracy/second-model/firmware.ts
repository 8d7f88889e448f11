import type {Take} from './take.ts';

/** A running mean over some readings, in whole numbers: what `averaged` firmware sends. */
export function average(take: Take, over: number): void {
	for (const [name, reading] of take.readings) {
		let sum = 0;
		take.readings.set(
			name,
			reading.map((counts, k) => {
				sum += counts - (k >= over ? reading[k - over] : 0);
				return Math.round(sum / Math.min(over, k + 1));
			}),
		);
	}
}

/** Sends the last value again until the reading has left it by more than `counts`: rest is one number for ever. */
export function deadBand(take: Take, counts: number): void {
	for (const [name, reading] of take.readings) {
		let held = reading[0];
		take.readings.set(
			name,
			reading.map(now => {
				if (Math.abs(now - held) > counts) held = now;
				return held;
			}),
		);
	}
}

/** Fewer bits: `analogRead(pin) / 4` and the like. */
export function divide(take: Take, by: number): void {
	for (const [name, reading] of take.readings)
		take.readings.set(
			name,
			reading.map(counts => Math.floor(counts / by)),
		);
}

/** How far within the travel calibrated ends lie, in shares of it, from the open hand and from the fist. */
export type Calibration = {readonly open: number; readonly closed: number};

/** Firmware clips where the hand still moves: every full movement reaches both rails. */
export const clipping: Calibration = {open: 0.05, closed: 0.86};

/** The ends were set with room beyond them: nothing is clipped. */
export const roomy: Calibration = {open: -0.06, closed: 1.06};

/** Maps every finger from its calibrated ends to 0 … `top`, open hand first, and clips there. */
export function mapToTop(take: Take, top: number, {open, closed}: Calibration): void {
	const {fingers, reels, fullScale} = take.glove;
	for (const [i, finger] of fingers.entries()) {
		const {open: level, span, direction} = reels[i];
		const from = (level + direction * span * open) * fullScale;
		const to = (level + direction * span * closed) * fullScale;
		take.readings.set(
			finger,
			take.reading(finger).map(counts => Math.min(top, Math.max(0, Math.floor(((counts - from) * top) / (to - from))))),
		);
	}
}

/**
 * Scales every finger by the lowest and highest reading seen since power-on (check-values D5.3, check-values M-A): whole numbers on
 * the grid k·top/(highest − lowest). Readings must be whole. Before there is a range there is nothing to send but 0.
 */
export function learnRange(take: Take, top: number): void {
	for (const finger of take.glove.fingers) {
		let lowest = Number.POSITIVE_INFINITY;
		let highest = Number.NEGATIVE_INFINITY;
		take.readings.set(
			finger,
			take.reading(finger).map(counts => {
				lowest = Math.min(lowest, counts);
				highest = Math.max(highest, counts);
				return highest === lowest ? 0 : Math.floor(((counts - lowest) * top) / (highest - lowest));
			}),
		);
	}
}
