import type {Features, Watch} from './features.ts';
import type {StateBlock} from './state-block.ts';

/** Neither noise nor wander beyond this (share of full scale), for so long (check-values D5.2). */
const quietShare = 0.006;
const quietSeconds = 10;

/** Since when each channel has been quiet: what tells that most of the glove is wired before any finger has moved. */
export class Quiet implements Watch {
	/** Seconds; NaN while it is not. */
	readonly since: Float64Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.since = state.floats(channels, Number.NaN);
	}

	close(features: Features): void {
		const {rows} = features.analog;
		const newest = rows.count - 1;
		const most = quietShare * features.scale.fullScale;
		for (let a = 0; a < this.channels; a++) {
			const isQuiet = rows.rough[rows.at(newest, a)] <= most && features.wanders.rms[a] <= most;
			if (!isQuiet) this.since[a] = Number.NaN;
			else if (Number.isNaN(this.since[a])) this.since[a] = rows.start[rows.slot(newest)];
		}
	}

	/** Other fingers that have been quiet for ten seconds. */
	fingersBeside(a: number, features: Features): number {
		let count = 0;
		for (const {fingers} of features.hands)
			for (const f of fingers) if (f !== a && features.now - this.since[f] >= quietSeconds) count++;
		return count;
	}

	forget(a: number): void {
		this.since[a] = Number.NaN;
	}
}
