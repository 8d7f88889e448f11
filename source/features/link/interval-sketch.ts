import {StateBlock} from '../state-block.ts';

/** Bins per e-fold; one bin is 0.5 % wide. */
const binsPerFold = 200;
const smallestSeconds = 1e-6;
const binCount = Math.ceil(Math.log(1e9) * binsPerFold) + 2;

/** An interval alone, as it is handed over. */
const alone = new Float64Array(1);

/**
 * Quantiles of any number of positive intervals in constant memory: a histogram with bins 0.5 % wide from 1 µs to
 * 1000 s, each remembering the sum of what fell into it. The answer is the mean of the bin the quantile falls into,
 * so it is within 0.5 % of the sample quantile, and exact where all intervals of a bin are equal.
 */
export class IntervalSketch {
	private readonly counts: Int32Array;
	private readonly sums: Float64Array;
	private readonly size: Float64Array;
	private readonly longest: Float64Array;
	/** The latest bin, and the least and greatest interval that fell into it: what lies between needs no logarithm. Saves time only. */
	private readonly latest = Float64Array.of(0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY);

	constructor(state = new StateBlock()) {
		this.counts = state.ints(binCount);
		this.sums = state.floats(binCount);
		this.size = state.floats(1);
		this.longest = state.floats(1);
	}

	/** Intervals taken so far. */
	get total(): number {
		return this.size[0];
	}

	/** The longest of them, seconds. */
	get largest(): number {
		return this.longest[0];
	}

	/** Takes an interval, seconds, from a place in an array: numbers that cross a call are allocated. */
	addAt(values: Float64Array, place: number): void {
		const seconds = values[place];
		const {latest} = this;
		const bin = seconds >= latest[1] && seconds <= latest[2] ? latest[0] : this.binOf(seconds);
		this.counts[bin]++;
		this.sums[bin] += seconds;
		this.size[0]++;
		if (seconds > this.longest[0]) this.longest[0] = seconds;
	}

	/** Takes an interval, seconds. */
	add(seconds: number): void {
		alone[0] = seconds;
		this.addAt(alone, 0);
	}

	private binOf(seconds: number): number {
		const {latest} = this;
		const bin = binOf(seconds);
		if (bin !== latest[0]) {
			latest[0] = bin;
			latest[1] = seconds;
			latest[2] = seconds;
		} else {
			if (!(seconds >= latest[1])) latest[1] = seconds;
			if (!(seconds <= latest[2])) latest[2] = seconds;
		}
		return bin;
	}

	/** How many intervals are at least so long, to the width of a bin. */
	from(seconds: number): number {
		let count = 0;
		for (let bin = binOf(seconds); bin < binCount; bin++) count += this.counts[bin];
		return count;
	}

	/** Type 7 quantile (h = (n − 1)·p, Hyndman and Fan 1996) to the width of a bin; undefined while empty. */
	quantile(p: number): number | undefined {
		if (this.total === 0) return undefined;
		const rank = (this.total - 1) * p;
		const lower = Math.floor(rank);
		const low = this.atRank(lower);
		if (rank === lower) return low;
		return low + (rank - lower) * (this.atRank(lower + 1) - low);
	}

	private atRank(rank: number): number {
		let seen = 0;
		for (let bin = 0; bin < binCount; bin++) {
			seen += this.counts[bin];
			if (seen > rank) return this.sums[bin] / this.counts[bin];
		}
		return this.largest;
	}
}

function binOf(seconds: number): number {
	if (!(seconds > smallestSeconds)) return 0;
	return Math.min(binCount - 1, 1 + Math.floor(Math.log(seconds / smallestSeconds) * binsPerFold));
}
