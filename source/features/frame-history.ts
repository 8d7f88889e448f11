/**
 * The latest frames of a stream in a ring: raw readings with their arrival times. Nothing is allocated per frame.
 * 8192 frames are 82 s at 100 frames/s and 8 s at 1000: enough for every detector's window and for freeze frames.
 */
export class FrameHistory {
	static readonly capacity = 8192;
	readonly width: number;
	readonly times = new Float64Array(FrameHistory.capacity);
	readonly lineBytes = new Int32Array(FrameHistory.capacity);
	readonly values: Float64Array;
	/** Frames ever pushed; frame numbers run from 0. */
	count = 0;

	constructor(width: number) {
		this.width = width;
		this.values = new Float64Array(FrameHistory.capacity * width);
	}

	push(t: number, values: Float64Array, lineBytes: number): void {
		const slot = this.count & (FrameHistory.capacity - 1);
		const {width} = this;
		this.times[slot] = t;
		this.lineBytes[slot] = lineBytes;
		const base = slot * width;
		for (let i = 0; i < width; i++) this.values[base + i] = values[i];
		this.count++;
	}

	/** Number of the oldest frame still held. */
	get oldest(): number {
		return Math.max(0, this.count - FrameHistory.capacity);
	}

	/** Where frame `number` begins in `values`. */
	base(number: number): number {
		return (number & (FrameHistory.capacity - 1)) * this.width;
	}

	/** Arrival time of frame `number` in seconds. */
	time(number: number): number {
		return this.times[number & (FrameHistory.capacity - 1)];
	}

	/** The first held frame that came at or after `t`; `count` if none did. */
	firstAt(t: number): number {
		let low = this.oldest;
		let high = this.count;
		while (low < high) {
			const middle = (low + high) >>> 1;
			if (this.time(middle) < t) low = middle + 1;
			else high = middle;
		}
		return low;
	}
}
