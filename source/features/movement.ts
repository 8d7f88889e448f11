import type {FrameHistory} from './frame-history.ts';

/** A channel moves where it goes this share of its own span within half a second (check-values D5.4, rough-track). */
export const movesOfSpan = 0.05;

/** Half of that half second: a frame is judged once so much has come after it. */
const halfSeconds = 0.25;

/** Frames in a quarter of a second; at least one. `rate` in frames/s. */
export function quarterSecond(rate: number): number {
	return Math.max(1, Math.floor(halfSeconds * rate));
}

/** How far a column goes from `half` frames before a frame to as many after it, counts; 0 where a reading is missing. */
export function wayAround(history: FrameHistory, column: number, frame: number, half: number): number {
	const {values} = history;
	const way = Math.abs(values[history.base(frame + half) + column] - values[history.base(frame - half) + column]);
	return Number.isNaN(way) ? 0 : way;
}
