import {lead, type Run} from './run.ts';
import type {StateBlock} from './state-block.ts';

/** An extreme counts once it has lasted longer than an intermittent contact's jump (60 ms, check-values D5.4). */
const lastsSeconds = 0.065;
const leastFrames = 2;

/** The range each channel has been seen to use since its epoch began, counts, without lone glitches. */
export class Spans {
	readonly low: Float64Array;
	readonly high: Float64Array;

	constructor(channels: number, state: StateBlock) {
		this.low = state.floats(channels, Number.NaN);
		this.high = state.floats(channels, Number.NaN);
	}

	/** high − low; 0 before anything was seen. */
	of(a: number): number {
		const span = this.high[a] - this.low[a];
		return Number.isNaN(span) ? 0 : Math.max(0, span);
	}

	/** Takes a block's readings that are evidence; `rate` in frames a second. */
	take(a: number, run: Run, rate: number): void {
		if (run.low >= this.low[a] && run.high <= this.high[a]) return;
		const {readings, kept, keptCount} = run;
		const slice = Math.max(leastFrames, Math.ceil(lastsSeconds * rate));
		for (let from = 0; from + slice <= keptCount; from += slice) this.takeSlice(a, readings, kept, from, slice);
		// What is left of the block is looked at together with what came before it, so that no slice is shorter.
		if (keptCount >= slice && keptCount % slice !== 0) this.takeSlice(a, readings, kept, keptCount - slice, slice);
	}

	forget(a: number): void {
		this.low[a] = Number.NaN;
		this.high[a] = Number.NaN;
	}

	private takeSlice(a: number, readings: Float64Array, kept: Int32Array, from: number, slice: number): void {
		let low = Number.POSITIVE_INFINITY;
		let high = Number.NEGATIVE_INFINITY;
		for (let k = from; k < from + slice; k++) {
			const reading = readings[lead + kept[k]];
			if (reading < low) low = reading;
			if (reading > high) high = reading;
		}
		this.widen(a, low, high);
	}

	/** All readings of a slice lay between these two. */
	private widen(a: number, low: number, high: number): void {
		if (!(high >= this.low[a])) this.low[a] = high;
		if (!(low <= this.high[a])) this.high[a] = low;
	}
}
