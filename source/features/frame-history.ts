/**
 * The latest frames of a stream in rings, one per column: raw readings with their arrival times. Nothing is allocated per frame.
 * 8192 frames are 82 s at 100 frames/s and 8 s at 1000: enough for every detector's window and for freeze frames.
 */
export class FrameHistory {
	static readonly capacity = 8192;
	readonly times = new Float64Array(FrameHistory.capacity);
	readonly lineBytes = new Int32Array(FrameHistory.capacity);
	/**
	 * The readings of each column. Frame `n` lies at `n & frameMask`: whoever goes through many frames of a column takes them
	 * from here.
	 */
	readonly columns: readonly Float64Array[];
	/** Frames ever pushed; frame numbers run from 0. */
	count = 0;

	constructor(width: number) {
		this.columns = Array.from({length: width}, () => new Float64Array(FrameHistory.capacity));
	}

	push(t: number, values: Float64Array, lineBytes: number): void {
		const slot = this.count & frameMask;
		const {columns} = this;
		this.times[slot] = t;
		this.lineBytes[slot] = lineBytes;
		for (let i = 0; i < columns.length; i++) columns[i][slot] = values[i];
		this.count++;
	}

	/** Number of the oldest frame still held. */
	get oldest(): number {
		return Math.max(0, this.count - FrameHistory.capacity);
	}

	/** Reading of a column in frame `number`, counts; NaN where there was none. */
	reading(number: number, column: number): number {
		return this.columns[column][number & frameMask];
	}

	/** Arrival time of frame `number` in seconds. */
	time(number: number): number {
		return this.times[number & frameMask];
	}

	/** The first held frame that came at or after `t`; `count` if none did. */
	firstAt(t: number): number {
		const {times} = this;
		let low = this.oldest;
		let high = this.count;
		while (low < high) {
			const middle = (low + high) >>> 1;
			if (times[middle & frameMask] < t) low = middle + 1;
			else high = middle;
		}
		return low;
	}
}

/** Where a frame lies in the rings: its number, all but these bits left out. */
export const frameMask = FrameHistory.capacity - 1;
