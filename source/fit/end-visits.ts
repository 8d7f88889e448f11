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
	private readonly visits: Record<'low' | 'high', Visit[]> = {low: [], high: []};

	/** Takes the next reading. `fullScale` in the unit of the readings. */
	push(t: number, reading: number, fullScale: number): void {
		const band = dwellShare * fullScale;
		const step = reading - this.last;
		this.last = reading;
		if (step >= jumpShare * fullScale) this.top.jump(reading);
		else if (this.top.isByJump) this.top.moveOn(reading, band);
		if (-step >= jumpShare * fullScale) this.bottom.jump(reading);
		else if (this.bottom.isByJump) this.bottom.moveOn(reading, band);

		const level = this.average(t, reading);
		if (Number.isNaN(level)) return;
		if (level < this.lowest) this.lowest = level;
		if (level > this.highest) this.highest = level;
		const turn = turnAfter(this.highest - this.lowest, fullScale);
		if (this.direction >= 0) this.top.take(t, level, band);
		if (this.direction <= 0) this.bottom.take(t, level, band);
		if (this.direction >= 0 && level < this.top.level - turn) {
			this.note('high', this.top);
			this.direction = -1;
			this.bottom.begin(t, level);
		} else if (this.direction <= 0 && level > this.bottom.level + turn) {
			this.note('low', this.bottom);
			this.direction = 1;
			this.top.begin(t, level);
		}
	}

	/** The farthest visits to one end, farthest first; the visit under way is among them. Empty before any movement. */
	at(end: 'low' | 'high'): readonly Visit[] {
		const candidate = end === 'high' ? this.top : this.bottom;
		const isUnderWay = this.direction !== 0 && this.direction === candidate.sign;
		const all = isUnderWay ? [...this.visits[end], candidate.visit()] : [...this.visits[end]];
		return all.sort((one, other) => candidate.sign * (other.level - one.level));
	}

	private average(t: number, reading: number): number {
		const {times, readings} = this;
		let {first, size, sum} = this;
		if (size === capacity) {
			sum -= readings[first];
			first = (first + 1) & (capacity - 1);
			size--;
		}

		const place = (first + size) & (capacity - 1);
		times[place] = t;
		readings[place] = reading;
		size++;
		sum += reading;
		// The window reaches from its first to its last reading.
		while (size > leastFrames && t - times[first] > windowSeconds) {
			sum -= readings[first];
			first = (first + 1) & (capacity - 1);
			size--;
		}

		this.first = first;
		this.size = size;
		this.sum = sum;
		return size >= leastFrames ? sum / size : Number.NaN;
	}

	private note(end: 'low' | 'high', candidate: Candidate): void {
		this.count[end]++;
		const visits = this.visits[end];
		visits.push(candidate.visit());
		if (visits.length <= kept) return;
		// The nearest to the middle goes.
		let nearest = 0;
		for (let i = 1; i < visits.length; i++) {
			if (candidate.sign * (visits[i].level - visits[nearest].level) < 0) nearest = i;
		}

		visits.splice(nearest, 1);
	}
}

/** The farthest point of the way under way. */
class Candidate {
	readonly sign: -1 | 1;
	level: number;
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

	jump(reading: number): void {
		this.isByJump = true;
		this.landedAt = reading;
	}

	/** A fast finger goes on after the jump and brakes; a lost contact stays where it has landed. */
	moveOn(reading: number, band: number): void {
		if (this.sign * (reading - this.landedAt) > 2 * band) this.isByJump = false;
	}

	take(t: number, level: number, band: number): void {
		const beyond = this.sign * (level - this.level);
		// A level far beyond the one before begins its own stay.
		if (beyond > band) this.dwell = 0;
		if (beyond > 0) this.level = level;
		if (beyond >= -band && !Number.isNaN(this.lastT)) this.dwell += t - this.lastT;
		this.lastT = t;
	}

	visit(): Visit {
		return {level: this.level, dwellSeconds: this.dwell, isByJump: this.isByJump};
	}
}
