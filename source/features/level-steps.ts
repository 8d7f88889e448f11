import {lead, type Run} from './run.ts';
import type {StateBlock} from './state-block.ts';

/** Every so many blocks (10 s) the younger stretch takes over. */
const turnBlocks = 40;

/**
 * The step by which a channel's readings differ: the greatest common divisor of all differences. A chance pattern
 * cannot pass for a step: n unrelated differences are all multiples of 8 with a probability of 8⁻ⁿ. Lone damaged
 * readings would spoil a divisor for ever, so two half-overlapping stretches are kept and the older one answers.
 */
export class LevelSteps {
	private readonly divisor: Int32Array;
	private readonly anchor: Float64Array;
	private readonly changes: Int32Array;
	private readonly low: Float64Array;
	private readonly high: Float64Array;
	private readonly last: Float64Array;
	private readonly blocks: Int32Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.divisor = state.ints(channels * 2);
		this.anchor = state.floats(channels * 2, Number.NaN);
		this.changes = state.ints(channels * 2);
		this.low = state.floats(channels * 2, Number.POSITIVE_INFINITY);
		this.high = state.floats(channels * 2, Number.NEGATIVE_INFINITY);
		this.last = state.floats(channels, Number.NaN);
		this.blocks = state.ints(channels);
	}

	/** `railLow` and `railHigh`: readings there are limited, not measured, and may lie off the lattice. */
	take(a: number, run: Run, railLow: number, railHigh: number): void {
		const {readings, count, low, high} = run;
		if (++this.blocks[a] % turnBlocks === 0) this.turn(a);
		const old = a;
		const young = this.channels + a;
		if (low < this.low[old]) this.low[old] = low;
		if (high > this.high[old]) this.high[old] = high;
		if (low < this.low[young]) this.low[young] = low;
		if (high > this.high[young]) this.high[young] = high;
		// Both divisors already say that single counts occur: nothing more to learn in this block.
		if (this.divisor[old] === 1 && this.divisor[young] === 1) return;
		let last = this.last[a];
		for (let i = lead; i < lead + count; i++) {
			const reading = readings[i];
			if (reading === last || reading === railLow || reading === railHigh) continue;
			last = reading;
			this.change(old, reading);
			this.change(young, reading);
		}
		this.last[a] = last;
	}

	/** Blocks that the step was found from, the newest the last one. */
	reach(a: number): number {
		const blocks = this.blocks[a];
		return blocks < turnBlocks ? blocks : turnBlocks + (blocks % turnBlocks);
	}

	/** Step in counts over the last 10 to 20 s; 0 before anything changed; 1 for ordinary readings. */
	step(a: number): number {
		return this.divisor[a];
	}

	/** Changes that the step was found from. */
	changesSeen(a: number): number {
		return this.changes[a];
	}

	/** Range over which the step was found, counts. */
	range(a: number): number {
		return Math.max(0, this.high[a] - this.low[a]);
	}

	private change(i: number, reading: number): void {
		this.changes[i]++;
		if (Number.isNaN(this.anchor[i])) {
			this.anchor[i] = reading;
			return;
		}
		const difference = Math.abs(reading - this.anchor[i]);
		this.divisor[i] = Number.isInteger(difference) ? greatestCommonDivisor(difference, this.divisor[i]) : 1;
	}

	forget(a: number): void {
		this.begin(a);
		this.begin(this.channels + a);
		this.last[a] = Number.NaN;
		this.blocks[a] = 0;
	}

	private turn(a: number): void {
		const young = this.channels + a;
		this.divisor[a] = this.divisor[young];
		this.anchor[a] = this.anchor[young];
		this.changes[a] = this.changes[young];
		this.low[a] = this.low[young];
		this.high[a] = this.high[young];
		this.begin(young);
	}

	private begin(i: number): void {
		this.divisor[i] = 0;
		this.anchor[i] = Number.NaN;
		this.changes[i] = 0;
		this.low[i] = Number.POSITIVE_INFINITY;
		this.high[i] = Number.NEGATIVE_INFINITY;
	}
}

function greatestCommonDivisor(a: number, b: number): number {
	while (b !== 0) [a, b] = [b, a % b];
	return a;
}
