import {lead, type Run} from './run.ts';

/**
 * The step by which a channel's readings differ: the greatest common divisor of all differences. A chance pattern
 * cannot pass for a step: n unrelated differences are all multiples of 8 with a probability of 8⁻ⁿ. Lone damaged
 * readings would spoil a divisor for ever, so two half-overlapping epochs are kept and the older one answers.
 */
export class LevelSteps {
	private readonly divisor: Int32Array;
	private readonly anchor: Float64Array;
	private readonly changes: Int32Array;
	private readonly low: Float64Array;
	private readonly high: Float64Array;
	private readonly last: Float64Array;
	private readonly blocks: Int32Array;

	constructor(private readonly channels: number) {
		this.divisor = new Int32Array(channels * 2);
		this.anchor = new Float64Array(channels * 2).fill(Number.NaN);
		this.changes = new Int32Array(channels * 2);
		this.low = new Float64Array(channels * 2).fill(Number.POSITIVE_INFINITY);
		this.high = new Float64Array(channels * 2).fill(Number.NEGATIVE_INFINITY);
		this.last = new Float64Array(channels).fill(Number.NaN);
		this.blocks = new Int32Array(channels);
	}

	/** `railLow` and `railHigh`: readings there are limited, not measured, and may lie off the lattice. */
	take(a: number, run: Run, railLow: number, railHigh: number): void {
		const {readings, count, low, high} = run;
		// Every 40 blocks (10 s) the younger epoch takes over.
		if (++this.blocks[a] % 40 === 0) this.turn(a);
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

	private turn(a: number): void {
		const young = this.channels + a;
		this.divisor[a] = this.divisor[young];
		this.anchor[a] = this.anchor[young];
		this.changes[a] = this.changes[young];
		this.low[a] = this.low[young];
		this.high[a] = this.high[young];
		this.divisor[young] = 0;
		this.anchor[young] = Number.NaN;
		this.changes[young] = 0;
		this.low[young] = Number.POSITIVE_INFINITY;
		this.high[young] = Number.NEGATIVE_INFINITY;
	}
}

function greatestCommonDivisor(a: number, b: number): number {
	while (b !== 0) [a, b] = [b, a % b];
	return a;
}
