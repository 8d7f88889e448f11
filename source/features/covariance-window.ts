import type {BlockHistory} from './block-history.ts';

/** Means, covariances and agreement of all pairs of analog channels over a stretch of blocks. */
export class CovarianceWindow {
	frames = 0;
	readonly mean: Float64Array;
	/** Triangular, by `BlockHistory.pair`; counts². */
	readonly covariance: Float64Array;
	/** Frames in which a pair agreed to within a count or two. */
	readonly near: Float64Array;
	/** Lowest and highest block reading, and block mean, per channel. */
	readonly low: Float64Array;
	readonly high: Float64Array;
	readonly lowMean: Float64Array;
	readonly highMean: Float64Array;
	private readonly width: number;

	constructor(width: number) {
		const pairs = (width * (width + 1)) / 2;
		this.width = width;
		this.mean = new Float64Array(width);
		this.covariance = new Float64Array(pairs);
		this.near = new Float64Array(pairs);
		this.low = new Float64Array(width);
		this.high = new Float64Array(width);
		this.lowMean = new Float64Array(width);
		this.highMean = new Float64Array(width);
	}

	/** Sums up blocks `from` (included) to `to` (not included). */
	fill(blocks: BlockHistory, from: number, to: number): void {
		const {width, mean, covariance, near, low, high, lowMean, highMean} = this;
		mean.fill(0);
		covariance.fill(0);
		near.fill(0);
		low.fill(Number.POSITIVE_INFINITY);
		high.fill(Number.NEGATIVE_INFINITY);
		lowMean.fill(Number.POSITIVE_INFINITY);
		highMean.fill(Number.NEGATIVE_INFINITY);
		this.frames = 0;
		const {pairs, cross, near: nearFrames} = blocks;
		for (let number = from; number < to; number++) {
			const slot = blocks.slot(number);
			this.frames += blocks.frames[slot];
			const base = slot * width;
			for (let a = 0; a < width; a++) {
				const i = base + a;
				mean[a] += blocks.sum[i];
				if (blocks.low[i] < low[a]) low[a] = blocks.low[i];
				if (blocks.high[i] > high[a]) high[a] = blocks.high[i];
				if (blocks.mean[i] < lowMean[a]) lowMean[a] = blocks.mean[i];
				if (blocks.mean[i] > highMean[a]) highMean[a] = blocks.mean[i];
			}
			const first = slot * pairs;
			for (let p = 0; p < pairs; p++) {
				covariance[p] += cross[first + p];
				near[p] += nearFrames[first + p];
			}
		}
		const n = Math.max(1, this.frames);
		for (let a = 0; a < width; a++) mean[a] /= n;
		let p = 0;
		for (let b = 0; b < width; b++) {
			for (let a = 0; a <= b; a++, p++) covariance[p] = covariance[p] / n - mean[a] * mean[b];
		}
		// Rounding may leave a constant channel a hair below zero.
		for (let a = 0; a < width; a++) {
			const i = this.index(a, a);
			if (covariance[i] < 0) covariance[i] = 0;
		}
	}

	index(a: number, b: number): number {
		return a <= b ? (b * (b + 1)) / 2 + a : (a * (a + 1)) / 2 + b;
	}

	/** Covariance of two channels, counts²; of a channel with itself, its variance. */
	of(a: number, b: number): number {
		return this.covariance[this.index(a, b)];
	}

	/** rms about the window's mean, counts. */
	deviation(a: number): number {
		return Math.sqrt(this.of(a, a));
	}

	/** Pearson correlation; 0 where either channel is constant. */
	correlation(a: number, b: number): number {
		const scale = Math.sqrt(this.of(a, a) * this.of(b, b));
		return scale > 0 ? this.of(a, b) / scale : 0;
	}

	/** Range of the readings, counts. */
	range(a: number): number {
		return Math.max(0, this.high[a] - this.low[a]);
	}

	/** Range of the block means, counts: travel without noise. */
	travel(a: number): number {
		return Math.max(0, this.highMean[a] - this.lowMean[a]);
	}

	/** Share of frames in which the two channels agreed. */
	agreement(a: number, b: number): number {
		return this.frames === 0 ? 0 : this.near[this.index(a, b)] / this.frames;
	}

	/** Best straight-line copy of `source` in `copy`: gain, offset and rms of what is left, counts. */
	copy(source: number, copy: number): {gain: number; offset: number; residual: number} {
		const variance = this.of(source, source);
		const gain = variance > 0 ? this.of(source, copy) / variance : 0;
		const left = Math.max(0, this.of(copy, copy) - gain * this.of(source, copy));
		return {gain, offset: this.mean[copy] - gain * this.mean[source], residual: Math.sqrt(left)};
	}
}
