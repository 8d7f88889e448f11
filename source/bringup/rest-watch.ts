import type {Features} from '../features/features.ts';
import {itemAt} from '../item-at.ts';
import type {PullTracker} from './pull-tracker.ts';
import type {StepRecord} from './step-record.ts';

/** How long everything must lie still. */
const restSeconds = 3;

/** A channel that was never still for half of that is restless: an open input, or a hand on it. */
const restlessSeconds = restSeconds / 2;

/** The glove at rest: whether it lies still, and which channels never do. */
export class RestWatch {
	private readonly trackers: readonly PullTracker[];
	private readonly from: number;
	private readonly longest: number[];

	constructor(trackers: readonly PullTracker[], from: number) {
		this.trackers = trackers;
		this.from = from;
		this.longest = trackers.map(() => 0);
	}

	/**
	 * True once every channel has been still for three seconds, or, after `patienceSeconds`, at least half of them.
	 */
	isDone(t: number, patienceSeconds: number): boolean {
		let still = 0;
		this.trackers.forEach((tracker, i) => {
			const seconds = Math.min(tracker.stillFor(t), t - this.from);
			const longest = Math.max(itemAt(this.longest, i), seconds);
			this.longest[i] = longest;
			// A finger may have begun to move before the last one has been still for long enough.
			if (longest >= restSeconds) still++;
		});
		if (still === this.trackers.length) return true;
		return t - this.from >= patienceSeconds && 2 * still >= this.trackers.length;
	}

	/** Noise of each channel as the session measured it, and the channels that would not rest. */
	figures({analog, placeOf}: Features): Required<Pick<StepRecord, 'noise' | 'restless'>> {
		return {
			noise: this.trackers.flatMap(({column}) => {
				const rms = analog.restNoise(placeOf[column] ?? -1);
				return rms === undefined ? [] : [{column, rms}];
			}),
			restless: this.trackers.filter((_, i) => itemAt(this.longest, i) < restlessSeconds).map(({column}) => column),
		};
	}
}
