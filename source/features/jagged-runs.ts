import {medianOf} from '../math/nth-smallest.ts';
import {ChannelRows} from './channel-rows.ts';
import {companyOf} from './company.ts';
import type {Features, Watch} from './features.ts';
import {frameMask} from './frame-history.ts';
import {isRestOver} from './rests.ts';
import type {StateBlock} from './state-block.ts';

/** A half second is two blocks. */
const halfSecond = 2;

/** From here on a half second counts as noisy (share of full scale, rms); half of what an open pin shows. */
const noisyShare = 0.01;

/** Two half seconds running are noise (check-values D5.2). */
const knownSeconds = 1;

/** rms of x[n] − (x[n−1] + x[n+1])/2 over rms of first differences: 0.87 for white noise, below 0.3 for a smooth tap. */
const jaggedRatio = 0.6;

/**
 * Noise is in every frame, jumps and the steps of a quick hand in few: half of all |e| of white noise exceed 0.6745 of its
 * rms. Over the 18 readings of a half second at 35 frames/s that is known to a fifth; two of these less is no noise.
 */
const medianOfRms = 0.6745;
const leastOfWhite = 0.6;

/** The noise of a trip is what was there in the second before it; a trip goes ten times as far (check-values D2). */
const beforeSeconds = 1;
const tripNoises = 10;

/** A level that has been left: means over a second, apart by what an open pin wanders (check-values D5.2) and so many standard errors. */
const levelBlocks = 4;
/** A noisy contact of a public glove reached 4.4 % of full scale, rms between frames. */
const loudestContact = 0.05;
const leftShare = 0.02;
const leftErrors = 4;

/** From a rough row to e: e is half the second difference, whose rms is √6 times the roughness. */
const eOfRough = Math.sqrt(6) / 2;

/** Stretches in which each channel jitters between neighbouring frames, half second by half second. */
export class JaggedRuns implements Watch {
	/** When the stretch up to now began, seconds; NaN while the channel is quiet. */
	readonly since: Float64Array;
	/** Noise of the quieter of the latest two half seconds, rms counts, and how jagged it is. */
	readonly rms: Float64Array;
	readonly jagged: Float64Array;
	/** Sum of squared roughness over the frames of the stretch, counts², and how many frames that are. */
	private readonly squares: Float64Array;
	private readonly frames: Float64Array;
	/** Noise it had in the second before it last moved by itself, its noise left aside, rms counts; 0 before. */
	readonly whenMoved: Float64Array;
	private readonly movedAt: Float64Array;
	/** rms of the latest half seconds, by block, newest last. */
	private readonly latest: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.since = state.floats(channels, Number.NaN);
		this.rms = state.floats(channels);
		this.jagged = state.floats(channels);
		this.squares = state.floats(channels);
		this.frames = state.floats(channels);
		this.whenMoved = state.floats(channels);
		this.movedAt = state.floats(channels, Number.NaN);
		this.latest = state.floats(channels * (halfSecond + 1));
	}

	close(features: Features): void {
		const {rows} = features.analog;
		const first = rows.count - halfSecond;
		if (first < rows.oldest) return;
		for (let a = 0; a < this.channels; a++) {
			let rough = 0;
			let step = 0;
			for (let number = first; number < rows.count; number++) {
				rough += rows.rough[rows.at(number, a)] ** 2;
				step += rows.step[rows.at(number, a)] ** 2;
			}
			const last = a * (halfSecond + 1);
			this.latest.copyWithin(last, last + 1, last + halfSecond + 1);
			this.latest[last + halfSecond] = Math.sqrt(rough / halfSecond);
			this.rms[a] = Math.min(this.latest[last], this.latest[last + halfSecond]);
			this.jagged[a] = step > 0 ? eOfRough * Math.sqrt(rough / step) : 0;
			const isRough = this.rms[a] >= noisyShare * features.scale.fullScale && this.jagged[a] >= jaggedRatio;
			// A run is known for noise by its first second; where it goes on one half second may look otherwise.
			const isKnown = features.now - this.since[a] > knownSeconds;
			const isNoisy = isRough && (isKnown || this.isInEveryFrame(features, a, first));
			if (isRough && !isNoisy) this.rms[a] = 0;
			this.takeMove(features, a);
			this.takeRun(a, rows, isNoisy ? first - halfSecond : undefined);
			features.analog.jitter[a] = isNoisy && this.rms[a] < loudestContact * features.scale.fullScale ? this.rms[a] : 0;
		}
	}

	/**
	 * Noise over the whole stretch up to now, less its standard error, rms counts; NaN while quiet. The rms of n second
	 * differences of white noise is known to 1/√n: neighbours share readings (correlations −2/3 and 1/6), which leaves n/1.94 of
	 * them independent.
	 */
	overRun(a: number): number {
		if (Number.isNaN(this.since[a])) return Number.NaN;
		return Math.sqrt(this.squares[a] / this.frames[a]) * (1 - 1 / Math.sqrt(this.frames[a]));
	}

	/** Takes the newest block into the stretch, which begins at block `first` where there was none; `undefined` ends it. */
	private takeRun(a: number, rows: ChannelRows, first: number | undefined): void {
		if (first === undefined) {
			this.since[a] = Number.NaN;
			return;
		}
		let number = rows.count - 1;
		if (Number.isNaN(this.since[a])) {
			number = Math.max(rows.oldest, first);
			this.since[a] = rows.start[rows.slot(number)];
			this.squares[a] = 0;
			this.frames[a] = 0;
		}
		for (; number < rows.count; number++) {
			const rough = rows.rough[rows.at(number, a)];
			if (Number.isNaN(rough)) continue;
			const frames = rows.frames[rows.slot(number)];
			this.squares[a] += frames * rough ** 2;
			this.frames[a] += frames;
		}
	}

	/**
	 * Whether the channel left its level when it began to jitter, while the other fingers rested: its means of the seconds before
	 * and after differ by more than the jitter explains. A noisy wiper stays where it is; what a pin without a wire shows has
	 * nothing to do with where the finger is. Where it is louder than any contact there is no level to speak of.
	 */
	hasLeft(features: Features, a: number): boolean {
		const {analog, scale} = features;
		if (this.rms[a] >= loudestContact * scale.fullScale) return true;
		const {rows} = analog;
		const onset = rows.firstSince(this.since[a]);
		const mean = (from: number): number => {
			let sum = 0;
			for (let number = from; number < from + levelBlocks; number++) sum += rows.mean[rows.at(number, a)];
			return sum / levelBlocks;
		};
		if (onset - levelBlocks < rows.oldest || onset + levelBlocks >= rows.count) return false;
		if (!isRestOver(analog, companyOf(features, a), onset - levelBlocks, onset + levelBlocks)) return false;
		const frames = rows.frames[rows.slot(onset)] * levelBlocks;
		// The block in which it began is partly of before.
		const change = Math.abs(mean(onset + 1) - mean(onset - levelBlocks));
		return change >= Math.max(leftShare * scale.fullScale, leftErrors * this.rms[a] * Math.sqrt(2 / frames));
	}

	/** Whether what lies between neighbouring frames since block `first` is that of most frames, not of a few. */
	private isInEveryFrame({analog, history}: Features, a: number, first: number): boolean {
		const {rows, columns} = analog;
		const last = rows.slot(rows.count - 1);
		// A block's roughness begins with the e of the last frame before it, known with the block's first.
		const from = Math.max(history.oldest + 1, rows.firstFrame[rows.slot(first)] - 1);
		const to = rows.firstFrame[last] + rows.frames[last];
		const bends: number[] = [];
		const readings = history.columns[columns[a]];
		for (let frame = from; frame < to - 1; frame++) {
			const e =
				readings[frame & frameMask] - (readings[(frame - 1) & frameMask] + readings[(frame + 1) & frameMask]) / 2;
			if (!Number.isNaN(e)) bends.push(Math.abs(e));
		}
		const rms = Math.sqrt(bends.reduce((sum, e) => sum + e * e, 0) / bends.length);
		return medianOf(bends) >= leastOfWhite * medianOfRms * rms;
	}

	/** Takes the noise from before a trip of its own that goes beyond it. */
	private takeMove({analog, proof}: Features, a: number): void {
		const {rows} = analog;
		const at = proof.asideAt[a];
		if (Number.isNaN(at) || at === this.movedAt[a]) return;
		this.movedAt[a] = at;
		const roughs: number[] = [];
		for (let number = rows.firstSince(at - beforeSeconds); number < rows.count; number++) {
			if (rows.end[rows.slot(number)] > at + ChannelRows.seconds) break;
			const rough = rows.rough[rows.at(number, a)];
			if (!Number.isNaN(rough)) roughs.push(rough);
		}
		const noise = roughs.length > 0 ? medianOf(roughs) : 0;
		if (proof.asideWay[a] >= tripNoises * noise) this.whenMoved[a] = noise;
	}

	forget(a: number): void {
		this.whenMoved[a] = 0;
		this.movedAt[a] = Number.NaN;
		this.since[a] = Number.NaN;
		this.latest.fill(0, a * (halfSecond + 1), (a + 1) * (halfSecond + 1));
	}
}
