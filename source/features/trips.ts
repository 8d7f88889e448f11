import {frameMask} from './frame-history.ts';
import {lead, type Run} from './run.ts';
import type {StateBlock} from './state-block.ts';

/** Trips remembered per channel. */
const kept = 64;

/**
 * A trip under way is taken for settled once it has hardly grown for this long, as long as a block: a finger pauses longer at its
 * ends. A way of minimum jerk takes a ninth of its time from 94.5 to 99.4 %, so one of up to 2.3 s is not taken to end before
 * it does; a slower one settles and goes on.
 */
const settledSeconds = 0.25;

/**
 * It has arrived for the time being after half of that: whatever it does next, so much of the way has been gone. Who only asks which
 * way it went and with whom need not wait until it is sure that the trip is over.
 */
const arrivedSeconds = settledSeconds / 2;
const hardlyShare = 0.05;

/** Where a trip sets out and where it arrives, as shares of its way. */
const setsOutShare = 0.1;
const arrivesShare = 0.9;

/**
 * A channel has gone its way where its level, taken over longer than a jump lasts (60 ms, check-values D5.4), has changed by half of
 * it: mains hum, leaps of a supply and tips of noise come back within that time. A tap at 7 Hz (check-values H16) keeps 0.69 of its way
 * (sin(x)/x with x = 2π · 7 Hz · 32.5 ms).
 */
const levelSeconds = 0.065;
const leastHeld = 0.5;

/** Slower than this a tap (71 ms a way) lies between two frames, and its level is not seen: there any way counts as movement. */
const leastRate = 25;

/** Two times as they are handed over. */
const times = new Float64Array(2);

/**
 * The trips of each channel (check-values D2): its ways from one turning point to the next. A trip begins once the reading has
 * come back from its turning point by the least way that counts then, so a trip that has begun has gone that far at least;
 * it grows until the next one begins. Past trips are not judged anew when that least way grows.
 */
export class Trips {
	static readonly kept = kept;
	/** Trips begun so far. Numbers run from 0; the last `kept` are held, see `at`. */
	readonly count: Int32Array;
	/** Turning points, as frame numbers and seconds; the end of a trip under way is its farthest point so far. */
	readonly startFrame: Float64Array;
	readonly endFrame: Float64Array;
	readonly startAt: Float64Array;
	readonly endAt: Float64Array;
	readonly startValue: Float64Array;
	/** Signed, counts. */
	readonly way: Float64Array;
	/** Rest noise as known when the trip began, counts. */
	readonly noise: Float64Array;
	/** Set once the trip is settled: its last frame below 10 %, its first above 90 % of the way, and their times. */
	readonly outFrame: Float64Array;
	readonly inFrame: Float64Array;
	readonly outAt: Float64Array;
	readonly inAt: Float64Array;
	/** Set with them: the level it set out from, how far its level has changed, counts, and 1 where that is enough of the way. */
	readonly startLevel: Float64Array;
	readonly level: Float64Array;
	readonly held: Uint8Array;
	/** 1 once it has ended or hardly grows any more. */
	readonly settled: Uint8Array;
	/** 1 once the above are set, though it may not be over: it has hardly grown for half as long. A settled trip has arrived. */
	readonly arrived: Uint8Array;
	/** Rises whenever a trip of the channel begins, settles or goes on after all: what hangs on these alone need not be asked again. */
	readonly changes: Float64Array;
	/** Frames a second, lately. */
	private readonly rate: Float64Array;
	/** Which way the channel goes now: 0 before its first trip. */
	private readonly heading: Int32Array;
	private readonly low: Float64Array;
	private readonly lowFrame: Float64Array;
	private readonly high: Float64Array;
	private readonly highFrame: Float64Array;
	/** The way at which the trip under way last grew, and when. */
	private readonly grown: Float64Array;
	private readonly grownAt: Float64Array;

	constructor(channels: number, state: StateBlock) {
		const each = channels * kept;
		this.count = state.ints(channels);
		this.startFrame = state.floats(each);
		this.endFrame = state.floats(each);
		this.startAt = state.floats(each);
		this.endAt = state.floats(each);
		this.startValue = state.floats(each);
		this.way = state.floats(each);
		this.noise = state.floats(each);
		this.outFrame = state.floats(each);
		this.inFrame = state.floats(each);
		this.outAt = state.floats(each);
		this.inAt = state.floats(each);
		this.startLevel = state.floats(each);
		this.level = state.floats(each);
		this.held = state.bytes(each);
		this.settled = state.bytes(each);
		this.arrived = state.bytes(each);
		this.changes = state.floats(channels);
		this.rate = state.floats(1);
		this.heading = state.ints(channels);
		this.low = state.floats(channels, Number.POSITIVE_INFINITY);
		this.lowFrame = state.floats(channels);
		this.high = state.floats(channels, Number.NEGATIVE_INFINITY);
		this.highFrame = state.floats(channels);
		this.grown = state.floats(channels);
		this.grownAt = state.floats(channels);
	}

	/** Place of trip `number` of channel `a` in the rings. */
	at(a: number, number: number): number {
		return a * kept + (number & (kept - 1));
	}

	/** Number of the oldest trip still held. */
	oldest(a: number): number {
		return Math.max(0, this.count[a] - kept);
	}

	/**
	 * Whether channel `a` is, or was, on a trip between two times, seconds. A trip that hasn't settled goes on until now; one
	 * that its level did not go along with doesn't count.
	 */
	isOnTrip(a: number, from: number, to: number): boolean {
		times[0] = from;
		times[1] = to;
		return this.isOnTripWithin(a, times);
	}

	/** Likewise between the two times of an array: numbers that cross a call are allocated. */
	isOnTripWithin(a: number, window: Float64Array): boolean {
		const from = window[0];
		const to = window[1];
		const oldest = this.oldest(a);
		for (let number = this.count[a] - 1; number >= oldest; number--) {
			const place = this.at(a, number);
			const settled = this.settled[place] === 1;
			if (settled && this.inAt[place] < from) return false;
			if (settled && this.held[place] === 0 && this.rate[0] >= leastRate) continue;
			if ((settled ? this.outAt[place] : this.startAt[place]) <= to) return true;
		}
		return false;
	}

	/** Whether the level of channel `a` has gone at least `least` counts on a trip that began at or after a time, seconds. */
	hasGoneSince(a: number, t: number, least: number): boolean {
		const oldest = this.oldest(a);
		for (let number = this.count[a] - 1; number >= oldest; number--) {
			const place = this.at(a, number);
			if (this.startAt[place] < t) return false;
			if (this.settled[place] === 1 && this.held[place] === 1 && Math.abs(this.level[place]) >= least) return true;
		}
		return false;
	}

	/** Whether channel `a` has begun a trip at or after a time, seconds. */
	hasBegunSince(a: number, t: number): boolean {
		return this.count[a] > 0 && this.startAt[this.at(a, this.count[a] - 1)] >= t;
	}

	/**
	 * Takes a block's readings; `least` counts is the least way that counts, `noise` the channel's rest noise, `rate` in frames a
	 * second. With the `last` block the trip under way has settled.
	 */
	take(a: number, run: Run, least: number, noise: number, rate: number, last = false): void {
		this.rate[0] = rate;
		if (!this.staysBetween(a, run, least)) this.follow(a, run, least, noise);
		this.settle(a, run, last);
	}

	forget(a: number): void {
		this.count[a] = 0;
		this.changes[a]++;
		this.heading[a] = 0;
		this.low[a] = Number.POSITIVE_INFINITY;
		this.high[a] = Number.NEGATIVE_INFINITY;
	}

	/** Whether no reading of the block goes farther than before, nor far enough back for a turn. */
	private staysBetween(a: number, run: Run, least: number): boolean {
		const heading = this.heading[a];
		const turnsUp = heading <= 0 && run.high >= this.low[a] + least;
		const turnsDown = heading >= 0 && run.low <= this.high[a] - least;
		const goesOn = (heading >= 0 && run.high > this.high[a]) || (heading <= 0 && run.low < this.low[a]);
		return !turnsUp && !turnsDown && !goesOn;
	}

	private follow(a: number, run: Run, least: number, noise: number): void {
		const {readings, kept: keptPlaces, keptCount, frames} = run;
		for (let k = 0; k < keptCount; k++) {
			const i = keptPlaces[k];
			const reading = readings[lead + i];
			const heading = this.heading[a];
			if (heading >= 0 && reading > this.high[a]) {
				this.high[a] = reading;
				this.highFrame[a] = frames[i];
				if (heading > 0) this.grow(a, run, i, reading);
			}
			if (heading <= 0 && reading < this.low[a]) {
				this.low[a] = reading;
				this.lowFrame[a] = frames[i];
				if (heading < 0) this.grow(a, run, i, reading);
			}
			if (heading <= 0 && reading - this.low[a] >= least && reading > this.low[a]) this.begin(a, run, i, 1, noise);
			else if (heading >= 0 && this.high[a] - reading >= least && reading < this.high[a])
				this.begin(a, run, i, -1, noise);
		}
	}

	private begin(a: number, run: Run, i: number, heading: 1 | -1, noise: number): void {
		if (this.count[a] > 0) this.mark(this.at(a, this.count[a] - 1), run);
		const reading = run.readings[lead + i];
		const place = this.at(a, this.count[a]++);
		const startFrame = heading > 0 ? this.lowFrame[a] : this.highFrame[a];
		this.startFrame[place] = startFrame;
		this.startAt[place] = run.history.time(Math.max(startFrame, run.history.oldest));
		this.startValue[place] = heading > 0 ? this.low[a] : this.high[a];
		this.noise[place] = noise;
		this.settled[place] = 0;
		this.arrived[place] = 0;
		this.changes[a]++;
		this.heading[a] = heading;
		this.grown[a] = 0;
		if (heading > 0) {
			this.high[a] = reading;
			this.highFrame[a] = run.frames[i];
		} else {
			this.low[a] = reading;
			this.lowFrame[a] = run.frames[i];
		}
		this.grow(a, run, i, reading);
	}

	private grow(a: number, run: Run, i: number, reading: number): void {
		const place = this.at(a, this.count[a] - 1);
		const way = reading - this.startValue[place];
		this.way[place] = way;
		this.endFrame[place] = run.frames[i];
		this.endAt[place] = run.time(i);
		if (Math.abs(way) - this.grown[a] < hardlyShare * Math.abs(way)) return;
		this.grown[a] = Math.abs(way);
		this.grownAt[a] = run.time(i);
		// It goes on after all: where it arrives is another place.
		this.settled[place] = 0;
		this.arrived[place] = 0;
		this.changes[a]++;
	}

	private settle(a: number, run: Run, last: boolean): void {
		if (this.count[a] === 0 || run.count === 0) return;
		const place = this.at(a, this.count[a] - 1);
		if (this.settled[place] === 1) return;
		const stillFor = run.time(run.count - 1) - this.grownAt[a];
		if (last || stillFor >= settledSeconds) {
			this.mark(place, run);
		} else if (stillFor >= arrivedSeconds) {
			this.measure(place, run);
			this.arrived[place] = 1;
		} else {
			this.takeLevel(place, run, run.frames[run.count - 1]);
		}
	}

	private mark(place: number, run: Run): void {
		this.measure(place, run);
		this.arrived[place] = 1;
		this.settled[place] = 1;
		this.changes[Math.floor(place / kept)]++;
	}

	/** Finds where the trip set out and where it arrived, as far back as frames are held. */
	private measure(place: number, run: Run): void {
		const {history, column} = run;
		const readings = history.columns[column];
		const start = Math.max(this.startFrame[place], history.oldest);
		const end = this.endFrame[place];
		const from = this.startValue[place];
		const way = this.way[place];
		let out = start;
		let arrived = end;
		for (let frame = start; frame <= end; frame++) {
			const share = (readings[frame & frameMask] - from) / way;
			if (share <= setsOutShare) out = frame;
			if (share >= arrivesShare) {
				arrived = frame;
				break;
			}
		}
		// Noise may still take a reading below the tenth after the first one above nine tenths: the way out counts.
		this.outFrame[place] = out;
		this.inFrame[place] = arrived;
		this.outAt[place] = history.time(out);
		this.inAt[place] = history.time(arrived);
		this.takeLevel(place, run, end);
	}

	/** How far the level has gone up to a frame: the trip's end, or the latest frame of one under way. */
	private takeLevel(place: number, run: Run, end: number): void {
		const start = Math.max(this.startFrame[place], run.history.oldest);
		// By frames, since batched delivery puts a whole movement into one moment; at least with the frames beside it.
		const beside = Math.max(1, Math.round((levelSeconds / 2) * this.rate[0]));
		this.startLevel[place] = levelAround(run, start, beside);
		const change = levelAround(run, end, beside) - this.startLevel[place];
		this.level[place] = change;
		this.held[place] = change / this.way[place] >= leastHeld ? 1 : 0;
	}
}

/** Mean reading around a frame, with so many frames on either side, as far as they are held; counts. */
function levelAround({history, column}: Run, frame: number, beside: number): number {
	const readings = history.columns[column];
	let sum = 0;
	let count = 0;
	const to = Math.min(history.count - 1, frame + beside);
	for (let one = Math.max(history.oldest, frame - beside); one <= to; one++) {
		const reading = readings[one & frameMask];
		if (Number.isNaN(reading)) continue;
		sum += reading;
		count++;
	}
	return sum / count;
}
