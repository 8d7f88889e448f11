import type {StateBlock} from './state-block.ts';

/** A thousandth of full scale: finer than any limit asks of where something rests. */
const bins = 1024;

/** Where as much has been gathered, all of it counts half from then on: what was mended shows within as long. */
const mostSeconds = 120;

/** For how long each of some signals lay still at which level: a rest point in constant memory. Levels in counts. */
export class StillLevels {
	private readonly seconds: Float64Array;
	/** Level × seconds of each bin, so that a median is as fine as the levels themselves. */
	private readonly sums: Float64Array;
	private readonly totals: Float64Array;
	/** The lowest and the highest bin with anything in it, of all signals. */
	private readonly lowest: Float64Array;
	private readonly highest: Float64Array;

	constructor(signals: number, state: StateBlock) {
		this.seconds = state.floats(signals * bins);
		this.sums = state.floats(signals * bins);
		this.totals = state.floats(signals);
		this.lowest = state.floats(signals, Number.POSITIVE_INFINITY);
		this.highest = state.floats(signals, Number.NEGATIVE_INFINITY);
	}

	/** Takes `seconds` of stillness at `level` counts, which is `share` of full scale (0…1) above the low rail. */
	add(signal: number, level: number, share: number, seconds: number): void {
		const bin = signal * bins + binOf(share);
		this.seconds[bin] += seconds;
		this.sums[bin] += level * seconds;
		this.totals[signal] += seconds;
		if (bin < this.lowest[signal]) this.lowest[signal] = bin;
		if (bin > this.highest[signal]) this.highest[signal] = bin;
		if (this.totals[signal] > mostSeconds) this.halve(signal);
	}

	/** Seconds of stillness between two shares of full scale. */
	secondsWithin(signal: number, from: number, to: number): number {
		let sum = 0;
		const last = Math.min(signal * bins + binOf(to), this.highest[signal]);
		for (let bin = Math.max(signal * bins + binOf(from), this.lowest[signal]); bin <= last; bin++)
			sum += this.seconds[bin];
		return sum;
	}

	/** The level below which it lay for half of the time, of what lies between two shares of full scale; undefined without any. */
	median(signal: number, from = 0, to = 1): number | undefined {
		const half = this.secondsWithin(signal, from, to) / 2;
		if (half === 0) return undefined;
		let seen = 0;
		const last = Math.min(signal * bins + binOf(to), this.highest[signal]);
		for (let bin = Math.max(signal * bins + binOf(from), this.lowest[signal]); bin <= last; bin++) {
			seen += this.seconds[bin];
			if (this.seconds[bin] > 0 && seen >= half) return this.sums[bin] / this.seconds[bin];
		}
		return undefined;
	}

	forget(signal: number): void {
		this.seconds.fill(0, signal * bins, (signal + 1) * bins);
		this.sums.fill(0, signal * bins, (signal + 1) * bins);
		this.totals[signal] = 0;
		this.lowest[signal] = Number.POSITIVE_INFINITY;
		this.highest[signal] = Number.NEGATIVE_INFINITY;
	}

	private halve(signal: number): void {
		for (let bin = signal * bins; bin < (signal + 1) * bins; bin++) {
			this.seconds[bin] /= 2;
			this.sums[bin] /= 2;
		}
		this.totals[signal] /= 2;
	}
}

function binOf(share: number): number {
	return Math.max(0, Math.min(bins - 1, Math.floor(share * bins)));
}
