import {bestCopy} from './copies.ts';
import type {Features, Watch} from './features.ts';
import type {StateBlock} from './state-block.ts';

/** Trips in a row of the channel before over which a ghost has to copy it (check-values D5.4). */
const tripsInRow = 6;

/** A channel that has moved by itself may have come loose since: twice as many. */
const tripsAfterAlone = 12;

/** Trips that say something: by so many rest noises, and this share of full scale. */
const leastNoises = 20;
const leastShare = 0.03;

/** What may be left of a copy: a share of its own range, or rest noises, and never more than a share of full scale. */
const ofRange = 0.006;
const ofNoise = 1.5;
const mostOfScale = 0.008;

/**
 * Whether each channel is a scaled copy of the one read just before it: an open pin keeps the charge of that reading. Looked
 * at whenever a trip of the channel before has settled, over its latest six.
 */
export class Ghosts implements Watch {
	/** Trips in a row of the channel before, that went far enough, seen so far; at most `needed`. */
	readonly trips: Int32Array;
	/** Gain of the best copy, and what is left of it as a share of what may be left; Infinity before six trips. */
	readonly gain: Float64Array;
	readonly left: Float64Array;
	/** When the copied trips began and ended, seconds. */
	readonly from: Float64Array;
	readonly seenAt: Float64Array;
	private readonly lookedTo: Int32Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.trips = state.ints(channels);
		this.gain = state.floats(channels);
		this.left = state.floats(channels, Number.POSITIVE_INFINITY);
		this.from = state.floats(channels);
		this.seenAt = state.floats(channels);
		this.lookedTo = state.ints(channels);
	}

	/** Trips in a row that are asked of a channel. */
	needed(features: Features, a: number): number {
		return Number.isNaN(features.proof.aloneAt[a]) ? tripsInRow : tripsAfterAlone;
	}

	close(features: Features): void {
		const {trips} = features.analog;
		for (let a = 1; a < this.channels; a++) {
			const model = a - 1;
			// The last one may still grow.
			let settled = trips.count[model];
			if (settled > 0 && trips.settled[trips.at(model, settled - 1)] === 0) settled--;
			if (settled <= this.lookedTo[a]) continue;
			this.lookedTo[a] = settled;
			this.look(features, a, settled);
		}
	}

	/** Whether every pair of fingers that moved in the same stretch is a copy: a bar, or one finger and its ghosts. */
	areAllCopies(features: Features, a: number): {readonly all: boolean; readonly mostGain: number} {
		const fingers = features.handAt(a)?.fingers ?? [];
		const {history} = features;
		const from = Math.max(features.epochFrame, history.firstAt(this.from[a]));
		const to = history.firstAt(this.seenAt[a]);
		let mostGain = this.gain[a];
		for (const one of fingers) {
			if (one === a || !fingers.includes(one - 1)) continue;
			const copy = this.copyOver(features, one, from, to);
			if (copy === undefined) continue;
			if (copy.left > 1) return {all: false, mostGain};
			mostGain = Math.max(mostGain, copy.gain);
		}
		return {all: true, mostGain};
	}

	forget(a: number): void {
		for (const one of [a, a + 1]) {
			if (one >= this.channels) continue;
			this.trips[one] = 0;
			this.lookedTo[one] = 0;
			this.left[one] = Number.POSITIVE_INFINITY;
		}
	}

	private look(features: Features, a: number, settled: number): void {
		const {trips, noise} = features.analog;
		const {history} = features;
		const model = a - 1;
		const needed = this.needed(features, a);
		const least = Math.max(leastNoises * noise.of(model), leastShare * features.scale.fullScale);
		let number = settled;
		const aloneAt = features.proof.aloneAt[a];
		while (number > trips.oldest(model) && settled - number < needed) {
			const place = trips.at(model, number - 1);
			const way = Math.abs(trips.way[place]);
			if (way < least || trips.held[place] === 0 || trips.startAt[place] < aloneAt) break;
			number--;
		}
		this.trips[a] = settled - number;
		this.left[a] = Number.POSITIVE_INFINITY;
		if (settled - number < needed) return;
		const first = trips.at(model, number);
		const last = trips.at(model, settled - 1);
		const from = trips.startFrame[first];
		if (from < Math.max(history.oldest, features.epochFrameOf(a))) return;
		const copy = this.copyOver(features, a, from, trips.endFrame[last] + 1);
		this.from[a] = trips.startAt[first];
		this.seenAt[a] = trips.endAt[last];
		if (copy === undefined) return;
		this.gain[a] = copy.gain;
		this.left[a] = copy.left;
	}

	/** The best copy of the channel before, what is left as a share of what may be; undefined where one of the two rests. */
	private copyOver(features: Features, a: number, from: number, to: number): {gain: number; left: number} | undefined {
		const {analog, scale, history} = features;
		const {columns, noise} = analog;
		const copy = bestCopy(history, columns[a - 1], columns[a], from, to);
		if (copy === undefined) return undefined;
		if (copy.modelRange < leastNoises * noise.of(a - 1) || copy.copyRange < leastNoises * noise.of(a)) return undefined;
		const may = Math.min(mostOfScale * scale.fullScale, Math.max(ofRange * copy.copyRange, ofNoise * noise.of(a)));
		return {gain: copy.gain, left: copy.residual / may};
	}
}
