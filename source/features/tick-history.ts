/**
 * Sums over each quarter of a second of what the link did, in a ring of 64 s: windows of seconds cost a few dozen
 * additions, whatever the frame rate.
 */
export class TickHistory {
	static readonly seconds = 0.25;
	static readonly capacity = 256;
	count = 0;
	/** End of each tick, stream seconds. */
	readonly end = new Float64Array(TickHistory.capacity);
	readonly bytes = new Float64Array(TickHistory.capacity);
	readonly nonText = new Float64Array(TickHistory.capacity);
	readonly frames = new Float64Array(TickHistory.capacity);
	readonly badLines = new Float64Array(TickHistory.capacity);
	/** Lines of the right shape in which a digit was lost. */
	readonly eaten = new Float64Array(TickHistory.capacity);
	/**
	 * Sum of |D| over the frames, seconds, D being RFC 3550's difference of spacing; its mean is what the running jitter
	 * tends to. Pauses are left out: they are findings of their own.
	 */
	readonly jitter = new Float64Array(TickHistory.capacity);
	/** Frames whose difference was counted. */
	readonly spaced = new Float64Array(TickHistory.capacity);
	/** Intervals at the nominal spacing, at whole multiples of it, frames missing in those, and all others. */
	readonly regular = new Float64Array(TickHistory.capacity);
	readonly gaps = new Float64Array(TickHistory.capacity);
	readonly missing = new Float64Array(TickHistory.capacity);
	readonly irregular = new Float64Array(TickHistory.capacity);
	/** Frames the counter says were lost. */
	readonly skipped = new Float64Array(TickHistory.capacity);

	/** Sum of one of the columns over the last `ticks` ticks. */
	total(column: Float64Array, ticks: number): number {
		let sum = 0;
		const first = Math.max(0, this.count - Math.min(ticks, TickHistory.capacity));
		for (let number = first; number < this.count; number++) sum += column[number & (TickHistory.capacity - 1)];
		return sum;
	}
}
