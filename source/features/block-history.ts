/**
 * Summaries of the analog channels over consecutive blocks of about a quarter of a second, in a ring. A block closes
 * at a grid time once it holds enough frames, so every window of a detector is a few dozen blocks and costs nothing
 * per frame. The grid hangs on stream time alone, never on how the bytes were chunked.
 */
export class BlockHistory {
	/** The grid. A quarter of a second holds most of a quick finger movement and a dozen mains periods. */
	static readonly seconds = 0.25;
	/** Fewest frames in a block: a straight line and its scatter need a few degrees of freedom. */
	static readonly leastFrames = 6;
	static readonly capacity = 512;
	/** Number of analog channels. */
	readonly width: number;
	/** Pairs of analog channels, a ≤ b, in triangular order; see `pair`. */
	readonly pairs: number;
	count = 0;
	readonly start: Float64Array;
	readonly end: Float64Array;
	readonly frames: Int32Array;
	readonly firstFrame: Float64Array;
	/** Per channel, in counts: mean, lowest, highest. */
	readonly mean: Float64Array;
	readonly low: Float64Array;
	readonly high: Float64Array;
	/** rms about the block's own straight line, counts. */
	readonly noise: Float64Array;
	/** rms of the second difference divided by √6: equals `noise` for white noise, near 0 for a smooth movement. */
	readonly rough: Float64Array;
	/** Rise of the straight line over the block, counts. */
	readonly trend: Float64Array;
	/** Sums and sums of products of (reading − pivot). */
	readonly sum: Float64Array;
	readonly cross: Float64Array;
	/** Frames in which both channels of a pair agree to within a count or two. */
	readonly near: Int32Array;
	/** Frames in which the other fingers moved together, and of these the ones in which the channel lay at a rail. */
	readonly handFrames: Int32Array;
	readonly railLow: Int32Array;
	readonly railHigh: Int32Array;
	/** Per channel: 1 where it moved during the block; 1 where it did nothing but its own noise. */
	readonly moving: Uint8Array;
	readonly settled: Uint8Array;

	constructor(width: number) {
		const {capacity} = BlockHistory;
		this.width = width;
		this.pairs = (width * (width + 1)) / 2;
		this.start = new Float64Array(capacity);
		this.end = new Float64Array(capacity);
		this.frames = new Int32Array(capacity);
		this.firstFrame = new Float64Array(capacity);
		this.mean = new Float64Array(capacity * width);
		this.low = new Float64Array(capacity * width);
		this.high = new Float64Array(capacity * width);
		this.noise = new Float64Array(capacity * width);
		this.rough = new Float64Array(capacity * width);
		this.trend = new Float64Array(capacity * width);
		this.sum = new Float64Array(capacity * width);
		this.handFrames = new Int32Array(capacity * width);
		this.railLow = new Int32Array(capacity * width);
		this.railHigh = new Int32Array(capacity * width);
		this.moving = new Uint8Array(capacity * width);
		this.settled = new Uint8Array(capacity * width);
		this.cross = new Float64Array(capacity * this.pairs);
		this.near = new Int32Array(capacity * this.pairs);
	}

	/** Slot of block `number` in the per-block arrays. */
	slot(number: number): number {
		return number & (BlockHistory.capacity - 1);
	}

	/** Place of channel `a` of block `number` in the per-channel arrays. */
	at(number: number, a: number): number {
		return this.slot(number) * this.width + a;
	}

	/** Index of a pair within a block; the order of `a` and `b` does not matter. */
	pair(a: number, b: number): number {
		return a <= b ? (b * (b + 1)) / 2 + a : (a * (a + 1)) / 2 + b;
	}

	/** Place of the pair in the per-pair arrays of block `number`. */
	pairAt(number: number, a: number, b: number): number {
		return this.slot(number) * this.pairs + this.pair(a, b);
	}

	get oldest(): number {
		return Math.max(0, this.count - BlockHistory.capacity);
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
