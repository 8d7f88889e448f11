import type {Features} from '../features/features.ts';

/** Levels told apart: 1.6 % of full scale, finer than a rest has to be placed in a finger's range. */
const bins = 64;

/** Standard errors that chance does not reach in a session: one in a million blocks. */
const unlikely = 5;

/**
 * What one analog channel does while it rests: how like each other successive readings are, and where it rests.
 * Fed with closed blocks; constant time per reading of a resting block.
 */
export class RestScatter {
	/** Seconds at rest so far. */
	seconds = 0;
	/** Seconds at rest by level, over the range of possible readings. */
	readonly levels = new Float64Array(bins);
	private squares = 0;
	private products = 0;
	private degrees = 0;
	private readonly residuals = new Float64Array(4096);

	/** Takes in a closed block of channel `a` if the channel rested. */
	take(features: Features, block: number, a: number): void {
		const {analog, history} = features;
		const {rows, scale} = analog;
		const at = rows.at(block, a);
		const mean = rows.mean[at];
		if (Number.isNaN(mean) || (rows.moving[at] === 1 && !this.isSlowNoise(features, block, a))) return;
		const slot = rows.slot(block);
		const seconds = rows.end[slot] - rows.start[slot];
		this.seconds += seconds;
		const share = (mean - scale.lowOf(a)) / scale.fullScale;
		this.levels[Math.max(0, Math.min(bins - 1, Math.floor(share * bins)))] += seconds;
		const from = rows.firstFrame[slot];
		const frames = Math.min(rows.frames[slot], this.residuals.length);
		if (from < history.oldest || frames < 8) return;
		this.correlate(features, from, frames, analog.columns[a], mean, rows.trend[at]);
	}

	/**
	 * Correlation of successive readings at rest, 0…1: 0 for white noise, towards 1 where the firmware smooths. Taken
	 * over quarter-second blocks about their own straight lines; what fitting a line takes off is given back, else
	 * white noise would seem to alternate. Undefined before half a second of rest.
	 */
	get correlation(): number | undefined {
		if (this.degrees < 30 || this.seconds < 0.5) return undefined;
		if (this.squares <= 0) return 0;
		return Math.max(0, Math.min(0.99, this.products / this.squares));
	}

	/**
	 * Whether noise as slow as was seen so far explains what looked like movement: means and slopes of smoothed noise
	 * scatter by √((1 + ρ)/(1 − ρ)) more than those of white noise.
	 */
	private isSlowNoise({analog}: Features, block: number, a: number): boolean {
		const {correlation} = this;
		const {rows} = analog;
		if (correlation === undefined || block <= rows.oldest) return false;
		const at = rows.at(block, a);
		const frames = rows.frames[rows.slot(block)];
		const noise = Math.sqrt(this.squares / this.degrees);
		const error = noise * Math.sqrt((1 + correlation) / (1 - correlation) / frames);
		const shift = Math.abs(rows.mean[at] - rows.mean[rows.at(block - 1, a)]);
		return shift <= unlikely * error * Math.SQRT2 && Math.abs(rows.trend[at]) <= unlikely * error * Math.sqrt(12);
	}

	private correlate(features: Features, from: number, frames: number, column: number, mean: number, rise: number) {
		const {history} = features;
		const {residuals} = this;
		const slope = rise / (frames - 1);
		let squares = 0;
		for (let i = 0; i < frames; i++) {
			const reading = history.reading(from + i, column);
			if (Number.isNaN(reading)) return;
			const residual = reading - mean - slope * (i - (frames - 1) / 2);
			residuals[i] = residual;
			squares += residual * residual;
		}

		let products = 0;
		for (let i = 1; i < frames; i++) products += residuals[i] * residuals[i - 1];
		const variance = squares / (frames - 2);
		this.squares += variance * (frames - 1);
		this.products += products + lineLoss(frames) * variance;
		this.degrees += frames - 2;
	}
}

/**
 * By how much a fitted straight line lowers the sum of n − 1 neighbouring products of white noise, in units of its
 * variance: the neighbouring products of the line's hat matrix, Σ h(i, i+1) with h(i,j) = 1/n + (i − m)(j − m)/Q.
 */
function lineLoss(n: number): number {
	const middle = (n - 1) / 2;
	const squares = (n * (n * n - 1)) / 12;
	let loss = 0;
	for (let i = 0; i + 1 < n; i++) loss += 1 / n + ((i - middle) * (i + 1 - middle)) / squares;
	return loss;
}
