import {type FrameHistory, frameMask} from './frame-history.ts';
import type {StateBlock} from './state-block.ts';

/**
 * So many frames that differ from the one before in one reading alone. Where each of k readings changes with probability c
 * from frame to frame, frames that differ in none come (1 − c)/(kc) times as often: a tenth at k = 7 and c = 0.57, and more
 * at rest. A hundred without ten of them are no accident (e⁻¹⁰).
 */
const leastAlone = 100;

/** Whether the firmware sends a frame only where something has changed: then no two in a row are the same. */
export class Repeats {
	/** Frames that differ from the one before in one reading alone, and in none. */
	private readonly alone: Float64Array;
	private readonly same: Float64Array;

	/** `columns` of a frame are compared: all but counters and clocks. */
	constructor(
		private readonly columns: readonly number[],
		state: StateBlock,
	) {
		this.alone = state.floats(1);
		this.same = state.floats(1);
	}

	/** Takes the newest frame of the history. */
	take(history: FrameHistory): void {
		const {columns, count} = history;
		if (count < 2) return;
		const now = (count - 1) & frameMask;
		const before = (count - 2) & frameMask;
		let changed = 0;
		for (const column of this.columns) {
			if (columns[column][now] === columns[column][before]) continue;
			if (++changed > 1) return;
		}
		if (changed === 0) this.same[0]++;
		else this.alone[0]++;
	}

	/** True where frames are only sent when something changes: then what the counter skips was never meant to come. */
	get sendsOnChange(): boolean {
		return this.same[0] === 0 && this.alone[0] >= leastAlone;
	}
}
