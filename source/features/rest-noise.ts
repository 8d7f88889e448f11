import type {StateBlock} from './state-block.ts';

/** Bins of a quarter octave, from 2⁻²⁰ of full scale (finer than any converter) to full scale. */
const octaves = 20;
const perOctave = 4;
const bins = octaves * perOctave + 1;

/** The quiet end of what blocks show: four in five may lie in movement. */
const quietShare = 0.2;

/** With fewer blocks off the rails than this, those at a rail have to serve. */
const leastOffRail = 4;

/**
 * From this share of full scale on, rms between frames, a pin is open (check-values D5.2): what was that loud before its wire came
 * is no rest noise of the channel, once there are so many quieter blocks.
 */
const openShare = 0.02;
const openBin = Math.round((Math.log2(openShare) + octaves) * perOctave);
const leastQuieter = 4;

/** A converter's own rounding has an rms of 0.29 of its step. */
const ofSmallestStep = 0.3;

/**
 * Rest noise of each channel (check-values D2): what is left between neighbouring frames at rest, rms in counts. The quiet end of
 * the roughness of all blocks since the epoch began, in constant memory; never below 0.3 of the smallest step seen.
 */
export class RestNoise {
	private readonly counts: Int32Array;
	private readonly sums: Float64Array;
	private readonly offRail: Int32Array;
	private readonly smallest: Float64Array;
	private readonly known: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.counts = state.ints(channels * 2 * bins);
		this.sums = state.floats(channels * 2 * bins);
		this.offRail = state.ints(channels);
		this.smallest = state.floats(channels, Number.POSITIVE_INFINITY);
		this.known = state.floats(channels, Number.NaN);
	}

	/** Takes a block's roughness, rms counts, and the smallest step other than 0 between its readings. */
	take(a: number, rough: number, smallestStep: number, isOffRail: boolean, fullScale: number): void {
		if (smallestStep > 0 && smallestStep < this.smallest[a]) this.smallest[a] = smallestStep;
		const share = rough / fullScale;
		const bin = share > 0 ? Math.round((Math.log2(share) + octaves) * perOctave) : 0;
		const all = a * bins + Math.max(0, Math.min(bins - 1, bin));
		this.counts[all]++;
		this.sums[all] += rough;
		if (isOffRail) {
			const off = (this.channels + a) * bins + (all - a * bins);
			this.counts[off]++;
			this.sums[off] += rough;
			this.offRail[a]++;
		}
		const first = (this.offRail[a] >= leastOffRail ? this.channels + a : a) * bins;
		this.known[a] = Math.max(this.quietEnd(first), this.smallestOf(a));
	}

	/** rms in counts; NaN before the first block. */
	of(a: number): number {
		return this.known[a];
	}

	forget(a: number): void {
		for (const first of [a * bins, (this.channels + a) * bins]) {
			this.counts.fill(0, first, first + bins);
			this.sums.fill(0, first, first + bins);
		}
		this.offRail[a] = 0;
		this.smallest[a] = Number.POSITIVE_INFINITY;
		this.known[a] = Number.NaN;
	}

	private smallestOf(a: number): number {
		return this.smallest[a] === Number.POSITIVE_INFINITY ? 0 : ofSmallestStep * this.smallest[a];
	}

	private quietEnd(first: number): number {
		let total = 0;
		for (let bin = 0; bin < openBin; bin++) total += this.counts[first + bin];
		if (total < leastQuieter) for (let bin = openBin; bin < bins; bin++) total += this.counts[first + bin];
		const rank = quietShare * (total - 1);
		let seen = 0;
		for (let bin = 0; bin < bins; bin++) {
			seen += this.counts[first + bin];
			if (seen > rank) return this.sums[first + bin] / this.counts[first + bin];
		}
		return 0;
	}
}
