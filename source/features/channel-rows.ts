import type {StateBlock} from './state-block.ts';

/**
 * One row of numbers per analog channel and closed block of about a quarter of a second, in a ring: all that checks see of
 * the readings. A block closes at a grid time once it holds enough frames; the grid hangs on stream time alone, never on
 * how the bytes were chunked. A channel without a reading in a block has NaN in its row.
 */
export class ChannelRows {
	/** The grid. A quarter of a second holds most of a quick finger movement and a dozen mains periods. */
	static readonly seconds = 0.25;
	/** Fewest frames in a block: a straight line and its scatter need a few degrees of freedom. */
	static readonly leastFrames = 6;
	static readonly capacity = 1024;
	/** Number of analog channels. */
	readonly width: number;
	/** Times of each block's grid, seconds; its frames, and the number of the first. */
	readonly start: Float64Array;
	readonly end: Float64Array;
	readonly frames: Int32Array;
	readonly firstFrame: Float64Array;
	/** Per channel, in counts: mean, lowest, highest. */
	readonly mean: Float64Array;
	readonly low: Float64Array;
	readonly high: Float64Array;
	/** rms of the second difference divided by √6: the noise's rms where noise is white, near 0 for a smooth movement. */
	readonly rough: Float64Array;
	/** rms of the first difference, counts. */
	readonly step: Float64Array;
	/** Rise of the block's own straight line, counts. */
	readonly trend: Float64Array;
	/** Share of the readings within `railShare` of full scale of the low or the high rail, 0…1. */
	readonly railLow: Float64Array;
	readonly railHigh: Float64Array;
	/** 1 where the channel moved during the block, beyond its own noise. */
	readonly moving: Uint8Array;
	private readonly closed: Int32Array;

	constructor(width: number, state: StateBlock) {
		const {capacity} = ChannelRows;
		this.width = width;
		this.start = state.floats(capacity);
		this.end = state.floats(capacity);
		this.frames = state.ints(capacity);
		this.firstFrame = state.floats(capacity);
		this.mean = state.floats(capacity * width);
		this.low = state.floats(capacity * width);
		this.high = state.floats(capacity * width);
		this.rough = state.floats(capacity * width);
		this.step = state.floats(capacity * width);
		this.trend = state.floats(capacity * width);
		this.railLow = state.floats(capacity * width);
		this.railHigh = state.floats(capacity * width);
		this.moving = state.bytes(capacity * width);
		this.closed = state.ints(1);
	}

	/** Blocks closed so far; numbers run from 0. */
	get count(): number {
		return this.closed[0];
	}

	/** Opens the next block: its slot. Counted by `close` once every channel's row is written. */
	open(start: number, end: number, firstFrame: number, frames: number): number {
		const slot = this.slot(this.count);
		this.start[slot] = start;
		this.end[slot] = end;
		this.firstFrame[slot] = firstFrame;
		this.frames[slot] = frames;
		return slot;
	}

	close(): void {
		this.closed[0]++;
	}

	/** Leaves nothing of channel `a` in the rows that are held, as if it had sent no readings. */
	forget(a: number): void {
		for (let place = a; place < this.mean.length; place += this.width) this.clear(place);
	}

	/** Writes that a channel had no reading into the row at `place`. */
	clear(place: number): void {
		for (const field of [this.mean, this.low, this.high, this.rough, this.step]) field[place] = Number.NaN;
		for (const field of [this.trend, this.railLow, this.railHigh, this.moving]) field[place] = 0;
	}

	/** Slot of block `number` in the per-block arrays. */
	slot(number: number): number {
		return number & (ChannelRows.capacity - 1);
	}

	/** Place of channel `a` of block `number` in the per-channel arrays. */
	at(number: number, a: number): number {
		return this.slot(number) * this.width + a;
	}

	/** Number of the oldest block still held. */
	get oldest(): number {
		return Math.max(0, this.count - ChannelRows.capacity);
	}

	/** Range of channel `a` in the blocks that hold a frame and all that came after it, counts; Infinity where they are not held. */
	rangeSince(frame: number, a: number): number {
		let low = Number.POSITIVE_INFINITY;
		let high = Number.NEGATIVE_INFINITY;
		const {oldest} = this;
		for (let number = this.count - 1; number >= oldest; number--) {
			const at = this.at(number, a);
			if (this.low[at] < low) low = this.low[at];
			if (this.high[at] > high) high = this.high[at];
			if (this.firstFrame[this.slot(number)] <= frame) return high - low;
		}
		return Number.POSITIVE_INFINITY;
	}

	/** The first held block that began at or after `t`. */
	firstSince(t: number): number {
		let number = this.count;
		const {oldest} = this;
		// Windows are short: walking back from the newest block is quickest.
		while (number > oldest && this.start[this.slot(number - 1)] >= t - 1e-9) number--;
		return number;
	}
}
