import {FrameHistory, frameMask} from './frame-history.ts';

/** Readings kept in front of a run, for what looks back. */
export const lead = 3;

/** One channel's readings of one block in a row, frames without a reading left out. Filled anew for each channel. */
export class Run {
	/** `lead` readings from before the block, then the block's. */
	readonly readings = new Float64Array(lead + FrameHistory.capacity);
	/** Frame number of each reading of the block. */
	readonly frames = new Float64Array(FrameHistory.capacity);
	/** Readings in the block. */
	count = 0;
	/** Lowest and highest of them. */
	low = 0;
	high = 0;
	/** Places (0…count − 1) of the readings that are evidence of movement: those within a jump that may come back are not. */
	readonly kept = new Int32Array(FrameHistory.capacity);
	keptCount = 0;
	/** Where the frames' times and all their readings are. */
	history = noHistory;
	column = 0;

	/**
	 * Takes the readings of a column in the frames `from` (included) to `to` (not included), behind the `lead` readings in
	 * `before` from `place` on, which are then replaced by the last ones. Before the first reading of all stands that itself.
	 */
	gather(history: FrameHistory, from: number, to: number, column: number, before: Float64Array, place: number): number {
		const {readings, frames} = this;
		const all = history.columns[column];
		this.history = history;
		this.column = column;
		let count = 0;
		for (let frame = from; frame < to; frame++) {
			const reading = all[frame & frameMask];
			if (Number.isNaN(reading)) continue;
			readings[lead + count] = reading;
			frames[count] = frame;
			count++;
		}
		this.count = count;
		if (count === 0) return 0;
		const isFirst = Number.isNaN(before[place]);
		for (let i = 0; i < lead; i++) {
			readings[i] = isFirst ? readings[lead] : before[place + i];
		}
		for (let i = 0; i < lead; i++) before[place + i] = readings[count + i];
		return count;
	}

	/** Every reading is evidence. */
	keepAll(): void {
		const {kept, count} = this;
		for (let i = 0; i < count; i++) kept[i] = i;
		this.keptCount = count;
	}

	/** Arrival time of the block's reading `i`, seconds. */
	time(i: number): number {
		return this.history.time(this.frames[i]);
	}
}

const noHistory = new FrameHistory(0);
