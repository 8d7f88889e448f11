import {FrameHistory, frameMask} from '../features/frame-history.ts';

/** Smallest jump of a contact: 20 % of full scale by definition, less the noise that may hide 2 % of it. */
const jumpShare = 0.18;

/** Longest jump that is a contact's and not a hand's: 60 ms or three frames, whichever is longer. */
const longestSeconds = 0.06;
const longestFrames = 3;

/** A jump has come back once this share of its height is left, or less. */
const backShare = 0.35;

/** Most readings held back: 60 ms at 4000 frames/s. */
const capacity = 240;

/** Readings of one channel in a row: the first `count` of each array. */
export type Readings = {readonly times: Float64Array; readonly readings: Float64Array; count: number};

/** Hands readings over one by one, in order: time in seconds, reading. */
export function forEachReading({times, readings, count}: Readings, take: (t: number, reading: number) => void): void {
	for (let i = 0; i < count; i++) take(times[i], readings[i]);
}

function roomForReadings(length: number): Readings {
	return {times: new Float64Array(length), readings: new Float64Array(length), count: 0};
}

/** What came through of a run of frames; used within one call only. */
const throughRun = roomForReadings(FrameHistory.capacity + capacity);

/**
 * Lets the readings of one channel through, less short jumps that come back: loose contacts, single damaged frames.
 * Readings are held back for 60 ms (three frames) while a jump may yet turn out to be one. At low frame rates a quick
 * tap of a finger can look the same and is left out too: whoever asks for ranges loses nothing by it.
 */
export class GlitchFilter {
	/** Jumps left out so far. */
	dropped = 0;
	private readonly pass: (through: Readings) => void;
	private readonly held = roomForReadings(capacity);
	private readonly through = roomForReadings(capacity + 1);
	private last = Number.NaN;
	private farthest = 0;

	/** @param pass Takes what came through, in order; nothing of it may be kept beyond the call. */
	constructor(pass: (through: Readings) => void) {
		this.pass = pass;
	}

	/** Takes one reading; NaN is passed over. `fullScale` in the unit of the readings. */
	push(t: number, reading: number, fullScale: number): void {
		const {through} = this;
		through.count = 0;
		if (!Number.isNaN(reading)) this.take(t, reading, fullScale, through);
		if (through.count > 0) this.pass(through);
	}

	/** Likewise a column's readings in the frames `from` (included) to `to` (not included), of which the history holds all. */
	takeFrames({columns, times}: FrameHistory, column: number, from: number, to: number, fullScale: number): void {
		const through = throughRun;
		const all = columns[column];
		const jump = jumpShare * fullScale;
		through.count = 0;
		for (let frame = from; frame < to; frame++) {
			const slot = frame & frameMask;
			const reading = all[slot];
			if (Number.isNaN(reading)) continue;
			if (this.held.count > 0 || Math.abs(reading - this.last) >= jump)
				this.take(times[slot], reading, fullScale, through);
			else {
				this.last = reading;
				through.times[through.count] = times[slot];
				through.readings[through.count++] = reading;
			}
		}
		if (through.count > 0) this.pass(through);
	}

	/** Lets through what is held back: no more readings come. */
	end(): void {
		const {through} = this;
		through.count = 0;
		this.release(through);
		if (through.count > 0) this.pass(through);
	}

	private take(t: number, reading: number, fullScale: number, through: Readings): void {
		const {held} = this;
		const height = Math.abs(reading - this.last);
		if (held.count === 0) {
			// False also for the first reading, when `last` is NaN.
			if (height >= jumpShare * fullScale) this.hold(t, reading, height);
			else this.accept(t, reading, through);
			return;
		}

		if (height <= backShare * this.farthest) {
			held.count = 0;
			this.dropped++;
			this.accept(t, reading, through);
			return;
		}

		this.hold(t, reading, Math.max(height, this.farthest));
		const lasted = t - held.times[0];
		if ((lasted > longestSeconds && held.count > longestFrames) || held.count === capacity) this.release(through);
	}

	private hold(t: number, reading: number, farthest: number): void {
		const {held} = this;
		held.times[held.count] = t;
		held.readings[held.count++] = reading;
		this.farthest = farthest;
	}

	private release(through: Readings): void {
		const {held} = this;
		for (let i = 0; i < held.count; i++) this.accept(held.times[i], held.readings[i], through);
		held.count = 0;
	}

	private accept(t: number, reading: number, through: Readings): void {
		this.last = reading;
		through.times[through.count] = t;
		through.readings[through.count++] = reading;
	}
}
