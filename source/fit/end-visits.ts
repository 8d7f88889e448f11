import type {Readings} from './glitch-filter.ts';
import {turnAfter} from './turning.ts';

/** Readings are averaged over this time, at least three of them: a fist is held longer, noise is tamed. */
const windowSeconds = 0.05;
const leastFrames = 3;
const capacity = 256;

/** Visits kept per end, the farthest ones. */
const kept = 64;

/** Around a visit's farthest point, what counts as staying there. */
const dwellShare = 0.02;

/** From one reading to the next, share of full scale: a full-span movement does that only below 30 frames/s. */
const jumpShare = 0.18;

/** One visit to an end of the travel. */
export type Visit = {
	/** The farthest level that lasted the averaging window. */
	readonly level: number;
	/** Seconds spent within 2 % of full scale of it. */
	readonly dwellSeconds: number;
	/** True where a jump from one reading to the next led right to it, as a lost contact does. */
	readonly isByJump: boolean;
};

/** Average levels of a run; used within one call only. */
const levels = {values: new Float64Array(1024)};

/**
 * The visits of one channel to the two ends of its travel: every way there and back leaves one, with the level it
 * reached. Feed it readings without short jumps (`GlitchFilter`). Constant time per reading, nothing allocated.
 */
export class EndVisits {
	/** Turns at the top and at the bottom so far. */
	readonly count = {low: 0, high: 0};
	private readonly times = new Float64Array(capacity);
	private readonly readings = new Float64Array(capacity);
	private first = 0;
	private size = 0;
	private sum = 0;
	private lowest = Number.POSITIVE_INFINITY;
	private highest = Number.NEGATIVE_INFINITY;
	/** 0 until the first turn is known. */
	private direction: -1 | 0 | 1 = 0;
	private last = Number.NaN;
	private readonly top = new Candidate(1);
	private readonly bottom = new Candidate(-1);
	/** Farthest first. */
	private readonly visits: Record<'low' | 'high', Visit[]> = {low: [], high: []};

	/** Takes the next readings, in order. `fullScale` in the unit of the readings. */
	take(run: Readings, fullScale: number): void {
		const {times, readings, count} = run;
		const {top, bottom} = this;
		if (count > levels.values.length) levels.values = new Float64Array(2 * count);
		const averages = levels.values;
		this.average(run, averages);
		const jump = jumpShare * fullScale;
		top.band = dwellShare * fullScale;
		bottom.band = top.band;
		let turn = turnAfter(this.highest - this.lowest, fullScale);
		for (let i = 0; i < count; i++) {
			const step = readings[i] - this.last;
			this.last = readings[i];
			if (step >= jump || top.isByJump) top.meet(readings, i, step >= jump);
			if (-step >= jump || bottom.isByJump) bottom.meet(readings, i, -step >= jump);
			const level = averages[i];
			if (Number.isNaN(level)) continue;
			if (level < this.lowest || level > this.highest) {
				this.lowest = Math.min(this.lowest, level);
				this.highest = Math.max(this.highest, level);
				turn = turnAfter(this.highest - this.lowest, fullScale);
			}
			this.follow(times, averages, i, turn);
		}
	}

	/** Takes the average level at reading `i` of a run; back by `turn` a way is over. */
	private follow(times: Float64Array, averages: Float64Array, i: number, turn: number): void {
		const {top, bottom, direction} = this;
		if (direction >= 0) top.take(times, averages, i);
		if (direction <= 0) bottom.take(times, averages, i);
		if (direction >= 0 && averages[i] < top.level - turn) this.turn(-1, times, averages, i);
		else if (direction <= 0 && averages[i] > bottom.level + turn) this.turn(1, times, averages, i);
	}

	/** The farthest visits to one end, farthest first; the visit under way is among them. Empty before any movement. */
	at(end: 'low' | 'high'): readonly Visit[] {
		const candidate = end === 'high' ? this.top : this.bottom;
		const isUnderWay = this.direction !== 0 && this.direction === candidate.sign;
		const all = [...this.visits[end]];
		if (isUnderWay) insert(all, candidate.visit(), candidate.sign);
		return all;
	}

	/** The level at each reading of a run, averaged over the window that ends there; NaN while there are too few. */
	private average({times: newTimes, readings: newReadings, count}: Readings, averages: Float64Array): void {
		const {times, readings} = this;
		let {first, size, sum} = this;
		for (let i = 0; i < count; i++) {
			if (size === capacity) {
				sum -= readings[first];
				first = (first + 1) & (capacity - 1);
				size--;
			}

			const place = (first + size) & (capacity - 1);
			const t = newTimes[i];
			times[place] = t;
			readings[place] = newReadings[i];
			size++;
			sum += newReadings[i];
			// The window reaches from its first to its last reading.
			while (size > leastFrames && t - times[first] > windowSeconds) {
				sum -= readings[first];
				first = (first + 1) & (capacity - 1);
				size--;
			}
			averages[i] = size >= leastFrames ? sum / size : Number.NaN;
		}

		this.first = first;
		this.size = size;
		this.sum = sum;
	}

	/** A way is over at reading `i`: its farthest point is a visit, and the way back begins. */
	private turn(direction: -1 | 1, times: Float64Array, averages: Float64Array, i: number): void {
		const [end, over, next] =
			direction < 0 ? (['high', this.top, this.bottom] as const) : (['low', this.bottom, this.top] as const);
		this.note(end, over);
		this.direction = direction;
		next.begin(times[i], averages[i]);
	}

	private note(end: 'low' | 'high', candidate: Candidate): void {
		this.count[end]++;
		const visits = this.visits[end];
		insert(visits, candidate.visit(), candidate.sign);
		if (visits.length <= kept) return;
		// The nearest to the middle goes, of several the oldest.
		let nearest = visits.length - 1;
		while (nearest > 0 && visits[nearest - 1].level === visits[nearest].level) nearest--;
		visits.splice(nearest, 1);
	}
}

/** Puts a visit behind those that went as far or farther. */
function insert(visits: Visit[], visit: Visit, sign: -1 | 1): void {
	let low = 0;
	let high = visits.length;
	while (low < high) {
		const middle = (low + high) >>> 1;
		if (sign * (visits[middle].level - visit.level) >= 0) low = middle + 1;
		else high = middle;
	}
	visits.splice(low, 0, visit);
}

/** The farthest point of the way under way. */
class Candidate {
	readonly sign: -1 | 1;
	level: number;
	/** How near to the farthest point counts as staying there, in the unit of the readings. */
	band = 0;
	private dwell = 0;
	isByJump = false;
	private landedAt = 0;
	private lastT = Number.NaN;

	constructor(sign: -1 | 1) {
		this.sign = sign;
		this.level = sign * Number.NEGATIVE_INFINITY;
	}

	begin(t: number, level: number): void {
		this.level = level;
		this.dwell = 0;
		this.isByJump = false;
		this.lastT = t;
	}

	/** Reading `i` is come to by a jump this way, or follows one: a fast finger goes on and brakes; a lost contact stays where it has landed. */
	meet(readings: Float64Array, i: number, jumps: boolean): void {
		if (jumps) {
			this.isByJump = true;
			this.landedAt = readings[i];
		} else if (this.sign * (readings[i] - this.landedAt) > 2 * this.band) this.isByJump = false;
	}

	/** Takes the average level at reading `i` of a run. */
	take(times: Float64Array, averages: Float64Array, i: number): void {
		const t = times[i];
		const beyond = this.sign * (averages[i] - this.level);
		// A level far beyond the one before begins its own stay.
		if (beyond > this.band) this.dwell = 0;
		if (beyond > 0) this.level = averages[i];
		if (beyond >= -this.band && !Number.isNaN(this.lastT)) this.dwell += t - this.lastT;
		this.lastT = t;
	}

	visit(): Visit {
		return {level: this.level, dwellSeconds: this.dwell, isByJump: this.isByJump};
	}
}
