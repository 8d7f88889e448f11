import type {StateBlock} from '../state-block.ts';

/**
 * Sums over each quarter of a second of what the link did, in a ring of 64 s: windows of seconds cost a few dozen
 * additions, whatever the frame rate. In a long silence ticks are farther apart, so windows go by their times.
 */
export class TickHistory {
	static readonly seconds = 0.25;
	static readonly capacity = 256;
	/** End of each tick, stream seconds. */
	readonly end: Float64Array;
	readonly bytes: Float64Array;
	/** Bytes that no text contains. */
	readonly nonText: Float64Array;
	readonly frames: Float64Array;
	/** Lines that were meant as frames and are none. */
	readonly badLines: Float64Array;
	/** Those of them with another number of values than a frame has. */
	readonly miscounted: Float64Array;
	/** Readings that look as if a digit of theirs had been lost. */
	readonly eaten: Float64Array;
	/** Frames that the counter says were lost, and frames that carried a counter. */
	readonly lost: Float64Array;
	readonly counted: Float64Array;
	private readonly closed: Int32Array;
	/** All columns, and of each the sum of everything up to each tick. */
	private readonly columns: readonly Float64Array[];
	private readonly sums: Float64Array;

	constructor(state: StateBlock) {
		const {capacity} = TickHistory;
		this.end = state.floats(capacity);
		this.bytes = state.floats(capacity);
		this.nonText = state.floats(capacity);
		this.frames = state.floats(capacity);
		this.badLines = state.floats(capacity);
		this.miscounted = state.floats(capacity);
		this.eaten = state.floats(capacity);
		this.lost = state.floats(capacity);
		this.counted = state.floats(capacity);
		this.closed = state.ints(1);
		this.columns = [
			this.bytes,
			this.nonText,
			this.frames,
			this.badLines,
			this.miscounted,
			this.eaten,
			this.lost,
			this.counted,
		];
		this.sums = state.floats(capacity * this.columns.length);
	}

	/** Ticks closed so far. */
	get count(): number {
		return this.closed[0];
	}

	/** Place of tick `number` in the columns. */
	place(number: number): number {
		return number & (TickHistory.capacity - 1);
	}

	/** The tick whose columns have been filled is over. */
	close(end: number): void {
		const place = this.place(this.count);
		const before = this.count === 0 ? -1 : this.place(this.count - 1);
		this.end[place] = end;
		for (let c = 0; c < this.columns.length; c++) {
			const from = c * TickHistory.capacity;
			this.sums[from + place] = (before < 0 ? 0 : this.sums[from + before]) + this.columns[c][place];
		}
		this.closed[0]++;
	}

	/**
	 * Sum of one of the columns over the ticks that ended within the last `seconds`, none from before `since`. All columns
	 * hold whole numbers, so that the difference of two running sums is exact.
	 */
	total(column: Float64Array, seconds: number, since = Number.NEGATIVE_INFINITY): number {
		const {count} = this;
		if (count === 0) return 0;
		const first = this.first(seconds, since);
		if (first === count) return 0;
		const c = this.columns.indexOf(column) * TickHistory.capacity;
		const oldest = this.place(first);
		return this.sums[c + this.place(count - 1)] - this.sums[c + oldest] + column[oldest];
	}

	/** When the first of those ticks began in which the column is not 0; NaN where there is none. */
	firstIn(column: Float64Array, seconds: number, since = Number.NEGATIVE_INFINITY): number {
		if (this.total(column, seconds, since) === 0) return Number.NaN;
		for (let number = this.first(seconds, since); number < this.count; number++) {
			const place = this.place(number);
			if (column[place] > 0) return this.end[place] - TickHistory.seconds;
		}
		return Number.NaN;
	}

	/** When the last of those ticks ended in which the column is not 0; NaN where there is none. */
	lastIn(column: Float64Array, seconds: number, since = Number.NEGATIVE_INFINITY): number {
		if (this.total(column, seconds, since) === 0) return Number.NaN;
		const first = this.first(seconds, since);
		for (let number = this.count - 1; number >= first; number--) {
			const place = this.place(number);
			if (column[place] > 0) return this.end[place];
		}
		return Number.NaN;
	}

	/** Seconds that those ticks took: the last one may be cut short by the end of the source. */
	spanned(seconds: number): number {
		return this.count === 0 ? 0 : this.end[this.place(this.count - 1)] - this.startOf(seconds);
	}

	/** When the first tick of the last `seconds` began. */
	startOf(seconds: number): number {
		return this.end[this.place(this.first(seconds, Number.NEGATIVE_INFINITY))] - TickHistory.seconds;
	}

	private first(seconds: number, since: number): number {
		const {count} = this;
		if (count === 0) return 0;
		const from = Math.max(since, this.end[this.place(count - 1)] - seconds) + 1e-6;
		// Ticks end one after the other.
		let low = Math.max(0, count - TickHistory.capacity);
		let high = count;
		while (low < high) {
			const middle = (low + high) >>> 1;
			if (this.end[this.place(middle)] > from) high = middle;
			else low = middle + 1;
		}
		return low;
	}
}
