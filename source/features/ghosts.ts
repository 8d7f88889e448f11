import {bestCopy, leastResidual} from './copies.ts';
import type {Features, Watch} from './features.ts';
import {FrameHistory} from './frame-history.ts';
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
	/** When the copied trips began and ended, seconds. */
	readonly from: Float64Array;
	readonly seenAt: Float64Array;
	private readonly lookedTo: Int32Array;
	/** Gain of the best copy, and what is left of it as a share of what may be left; Infinity before six trips. */
	private readonly gain: Float64Array;
	private readonly left: Float64Array;
	/**
	 * A copy that is worked out when it is asked for, or its frames are about to be overwritten: 1 where there is one, its
	 * frames, what holds for it (`facts` numbers each), and what is left at the least; NaN as long as nobody has asked.
	 */
	private readonly isWaiting: Uint8Array;
	private readonly fromFrame: Float64Array;
	private readonly toFrame: Float64Array;
	private readonly facts: Float64Array;
	private readonly atLeast: Float64Array;

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
		this.isWaiting = state.bytes(channels);
		this.fromFrame = state.floats(channels);
		this.toFrame = state.floats(channels);
		this.facts = state.floats(factsLength * channels);
		this.atLeast = state.floats(channels);
	}

	/** Gain of the best copy. Tells nothing where `leftOf` is Infinity. */
	gainOf(features: Features, a: number): number {
		this.workOut(features, a);
		return this.gain[a];
	}

	/** What is left of it as a share of what may be left; Infinity before six trips. */
	leftOf(features: Features, a: number): number {
		this.workOut(features, a);
		return this.left[a];
	}

	/** Whether at most so much is left. Mostly some of the frames show already that it is more. */
	leaves(features: Features, a: number, most: number): boolean {
		if (this.isWaiting[a] === 1) {
			if (Number.isNaN(this.atLeast[a])) this.atLeast[a] = this.leastLeft(features, a, most);
			if (this.atLeast[a] > most) return false;
		}
		return this.leftOf(features, a) <= most;
	}

	/** To be called every `FrameHistory.capacity / 8` frames: what waits for frames that will not be held until then is worked out. */
	keep(features: Features): void {
		for (let a = 1; a < this.channels; a++)
			if (this.isWaiting[a] === 1 && !isKept(features.history, this.fromFrame[a])) this.workOut(features, a);
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
		// Beside a stick axis every finger counts.
		const fingers = features.handAt(a)?.fingers ?? features.hands.flatMap(hand => hand.fingers);
		const {history} = features;
		const from = Math.max(features.epochFrame, history.firstAt(this.from[a]));
		const to = history.firstAt(this.seenAt[a]);
		let mostGain = this.gainOf(features, a);
		for (const one of fingers) {
			if (one === a || !fingers.includes(one - 1)) continue;
			const {noise} = features.analog;
			const copy = copyOver(features, one, from, to, noise.of(one - 1), noise.of(one), features.scale.fullScale);
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
			this.isWaiting[one] = 0;
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
		this.isWaiting[a] = 0;
		this.left[a] = Number.POSITIVE_INFINITY;
		if (settled - number < needed) return;
		const first = trips.at(model, number);
		const last = trips.at(model, settled - 1);
		const from = trips.startFrame[first];
		if (from < Math.max(history.oldest, features.epochFrameOf(a))) return;
		this.from[a] = trips.startAt[first];
		this.seenAt[a] = trips.endAt[last];
		this.isWaiting[a] = 1;
		this.fromFrame[a] = from;
		this.toFrame[a] = trips.endFrame[last] + 1;
		this.facts[factsLength * a] = noise.of(model);
		this.facts[factsLength * a + 1] = noise.of(a);
		this.facts[factsLength * a + 2] = features.scale.fullScale;
		this.atLeast[a] = Number.NaN;
		if (!isKept(history, from)) this.workOut(features, a);
	}

	/** Works out the copy that waits for it. */
	private workOut(features: Features, a: number): void {
		if (this.isWaiting[a] === 0) return;
		this.isWaiting[a] = 0;
		const i = factsLength * a;
		const {facts} = this;
		const copy = copyOver(features, a, this.fromFrame[a], this.toFrame[a], facts[i], facts[i + 1], facts[i + 2]);
		if (copy === undefined) return;
		this.gain[a] = copy.gain;
		this.left[a] = copy.left;
	}

	/** What the copy that waits leaves at the least, as a share of what may be left, as far as it takes to be more than `enough`. */
	private leastLeft({history, analog}: Features, a: number, enough: number): number {
		const {rows, columns} = analog;
		const from = this.fromFrame[a];
		const to = this.toFrame[a];
		const [modelNoise, noise, fullScale] = this.facts.subarray(factsLength * a, factsLength * (a + 1));
		const range = rows.rangeSince(from, a);
		// One of the two rests: there is no copy.
		if (range < leastNoises * noise || rows.rangeSince(from, a - 1) < leastNoises * modelNoise)
			return Number.POSITIVE_INFINITY;
		const may = mayBeLeft(range, noise, fullScale);
		let least = 0;
		for (let stride = 4; stride > 1 && !(least > enough); stride /= 2)
			least = (surely * leastResidual(history, columns[a - 1], columns[a], from, to, stride)) / may;
		return least;
	}
}

/** What holds for a copy: rest noise of the channel before and of its own, full scale, as they were when the trip settled, counts. */
const factsLength = 3;

/** Rounding may make something more of what is left. */
const surely = 1 - 1e-6;

/** Whether the frames from one on will still be held when `keep` is called next. */
function isKept(history: FrameHistory, from: number): boolean {
	return from >= history.count + FrameHistory.capacity / 8 - FrameHistory.capacity;
}

function mayBeLeft(range: number, noise: number, fullScale: number): number {
	return Math.min(mostOfScale * fullScale, Math.max(ofRange * range, ofNoise * noise));
}

/** The best copy of the channel before, what is left as a share of what may be; undefined where one of the two rests. */
function copyOver(
	{analog, history}: Features,
	a: number,
	from: number,
	to: number,
	modelNoise: number,
	noise: number,
	fullScale: number,
): {gain: number; left: number} | undefined {
	const {columns} = analog;
	const copy = bestCopy(history, columns[a - 1], columns[a], from, to);
	if (copy === undefined) return undefined;
	if (copy.modelRange < leastNoises * modelNoise || copy.copyRange < leastNoises * noise) return undefined;
	return {gain: copy.gain, left: copy.residual / mayBeLeft(copy.copyRange, noise, fullScale)};
}
