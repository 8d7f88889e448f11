import type {Features, Watch} from './features.ts';
import type {StateBlock} from './state-block.ts';

/** A half second is two blocks. */
const halfSecond = 2;

/** From here on a half second counts as noisy (share of full scale, rms); half of what an open pin shows. */
const noisyShare = 0.01;

/** rms of x[n] − (x[n−1] + x[n+1])/2 over rms of first differences: 0.87 for white noise, below 0.3 for a smooth tap. */
const jaggedRatio = 0.6;

/** Noise spreads over five of its rms in a hundred readings, never over ten: more is the jumps of a contact. */
const mostRange = 10;

/** From a rough row to e: e is half the second difference, whose rms is √6 times the roughness. */
const eOfRough = Math.sqrt(6) / 2;

/** Stretches in which each channel jitters between neighbouring frames, half second by half second. */
export class JaggedRuns implements Watch {
	/** When the stretch up to now began, seconds; NaN while the channel is quiet. */
	readonly since: Float64Array;
	/** Noise of the quieter of the latest two half seconds, rms counts, and how jagged it is. */
	readonly rms: Float64Array;
	readonly jagged: Float64Array;
	/** rms of the latest half seconds, by block, newest last. */
	private readonly latest: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.since = state.floats(channels, Number.NaN);
		this.rms = state.floats(channels);
		this.jagged = state.floats(channels);
		this.latest = state.floats(channels * (halfSecond + 1));
	}

	close(features: Features): void {
		const {rows} = features.analog;
		const first = rows.count - halfSecond;
		if (first < rows.oldest) return;
		for (let a = 0; a < this.channels; a++) {
			let [rough, step] = [0, 0];
			for (let number = first; number < rows.count; number++) {
				rough += rows.rough[rows.at(number, a)] ** 2;
				step += rows.step[rows.at(number, a)] ** 2;
			}
			const last = a * (halfSecond + 1);
			this.latest.copyWithin(last, last + 1, last + halfSecond + 1);
			this.latest[last + halfSecond] = Math.sqrt(rough / halfSecond);
			this.rms[a] = Math.min(this.latest[last], this.latest[last + halfSecond]);
			this.jagged[a] = step > 0 ? eOfRough * Math.sqrt(rough / step) : 0;
			const hasJumps = this.widest(features, a, first) > mostRange * this.latest[last + halfSecond];
			if (hasJumps) this.rms[a] = 0;
			const isNoisy = this.rms[a] >= noisyShare * features.scale.fullScale && this.jagged[a] >= jaggedRatio;
			if (!isNoisy) this.since[a] = Number.NaN;
			else if (Number.isNaN(this.since[a]))
				this.since[a] = rows.start[rows.slot(Math.max(rows.oldest, first - halfSecond))];
		}
	}

	/** Widest range of readings in a block since block `first`, counts. */
	private widest({analog}: Features, a: number, first: number): number {
		const {rows} = analog;
		let widest = 0;
		for (let number = first; number < rows.count; number++) {
			const at = rows.at(number, a);
			widest = Math.max(widest, rows.high[at] - rows.low[at]);
		}
		return widest;
	}

	forget(a: number): void {
		this.since[a] = Number.NaN;
		this.latest.fill(0, a * (halfSecond + 1), (a + 1) * (halfSecond + 1));
	}
}
