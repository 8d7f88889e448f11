/** A gap of so many intervals, and at least so many seconds, is an outage (`features/link/outages.ts`). */
const outageIntervals = 5;
const outageSeconds = 0.2;

/** Times of the grid are whole microseconds like all others. */
const timeSlack = 1e-9;

/**
 * Frames on an even grid of times: each holds the readings of the latest frame at or before it. Nothing is invented: in
 * between nothing is interpolated, and in an outage (200 ms and five intervals without a frame) no frame is held longer.
 */
export class Resampler {
	private readonly interval: number;
	private readonly emit: (t: number, values: Float64Array) => void;
	private held = new Float64Array(0);
	private heldAt = Number.NaN;
	/** Number of the next time on the grid, and the usual time between frames. */
	private next = 0;
	private spacing = Number.NaN;

	/** @param rate Frames per second of the grid, which begins at 0. */
	constructor(rate: number, emit: (t: number, values: Float64Array) => void) {
		this.interval = 1 / rate;
		this.emit = emit;
	}

	/** Takes a frame; `values` are copied. The grid is written up to it. */
	frame(t: number, values: Float64Array): void {
		if (Number.isNaN(this.heldAt)) this.next = Math.ceil((t - timeSlack) / this.interval);
		else {
			this.holdUntil(t);
			const gap = t - this.heldAt;
			// The middle of a bunch of intervals follows slowly, one outlier does not count.
			if (gap > 0)
				this.spacing = Number.isNaN(this.spacing)
					? gap
					: this.spacing + 0.05 * (Math.min(gap, 2 * this.spacing) - this.spacing);
		}

		if (this.held.length !== values.length) this.held = new Float64Array(values.length);
		this.held.set(values);
		this.heldAt = t;
	}

	/** The last frame stands for its own time. */
	end(): void {
		if (!Number.isNaN(this.heldAt)) this.holdUntil(this.heldAt + 2 * timeSlack);
	}

	private holdUntil(t: number): void {
		const usual = Number.isNaN(this.spacing) ? 0 : this.spacing;
		const limit = this.heldAt + Math.max(outageSeconds, outageIntervals * usual);
		for (;;) {
			const at = Math.round(this.next * this.interval * 1e6) / 1e6;
			if (at >= t - timeSlack) return;
			this.next++;
			if (at < limit) this.emit(at, this.held);
		}
	}
}
