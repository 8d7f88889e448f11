import type {Features, Watch} from './features.ts';
import type {StateBlock} from './state-block.ts';

/** Turning points held per end of a finger's travel: some two minutes of a hand that works. */
const kept = 32;

/** A way there is a visit where it goes this share of the finger's own span, as in a whole-hand movement (check-values D2). */
const ofOwnSpan = 0.4;

/**
 * An end is reached by so many other visits, which go no farther than this share of the span beyond it: three visits in all
 * (check-values D5.4). The farthest of many would grow with their number, by the sway of the hand.
 */
const leastOthers = 2;
const agreeShare = 0.05;

/** A level counts once it lasted: readings are averaged over this time, at least so many (as `fit` does). */
const lastsSeconds = 0.05;
const leastFrames = 3;

/** The end is where a way arrives, as far as it goes within this time, seconds: what a hand at rest creeps by later is none. */
const arrivalSeconds = 1;

/** The two ends of a travel, by their readings. */
export const low = 0;
export const high = 1;
export type Side = typeof low | typeof high;

/**
 * The ends of each finger's travel as it has been used lately: of the turning points of its ways the farthest that two others
 * reach too. Only of fingers of which a sheet declares the ends. Readings that are no evidence of movement (jumps that come
 * back) make no end, nor does the peak of the noise.
 */
export class TravelEnds implements Watch {
	/** Visits of each end (`2 a` low, `2 a + 1` high) so far; of the last `kept`: level and signed way in counts, time in seconds. */
	private readonly count: Int32Array;
	private readonly level: Float64Array;
	private readonly way: Float64Array;
	private readonly at: Float64Array;
	/** The trip of the newest visit, the farthest level that lasted in it, and the frame up to which it was looked for. */
	private readonly newest: Int32Array;
	private readonly farthest: Float64Array;
	private readonly lookedTo: Float64Array;
	/** What they come to by the span known now: visits that went far enough, the confirmed end, when it was first visited. */
	private readonly visited: Int32Array;
	private readonly end: Float64Array;
	private readonly since: Float64Array;
	private readonly bySpan: Float64Array;

	constructor(channels: number, state: StateBlock) {
		const ends = 2 * channels;
		this.count = state.ints(ends);
		this.level = state.floats(ends * kept);
		this.way = state.floats(ends * kept);
		this.at = state.floats(ends * kept);
		this.newest = state.ints(channels, -1);
		this.farthest = state.floats(channels, Number.NaN);
		this.lookedTo = state.floats(channels);
		this.visited = state.ints(ends);
		this.end = state.floats(ends, Number.NaN);
		this.since = state.floats(ends);
		this.bySpan = state.floats(channels);
	}

	close(features: Features): void {
		for (const {fingers} of features.hands)
			for (const f of fingers) if (features.declared.has(f)) this.follow(features, f);
	}

	forget(a: number): void {
		this.newest[a] = -1;
		this.bySpan[a] = 0;
		for (const side of [low, high]) {
			this.count[2 * a + side] = 0;
			this.visited[2 * a + side] = 0;
			this.end[2 * a + side] = Number.NaN;
		}
	}

	/** Visits of the end that was visited less often. */
	visits(a: number): number {
		return Math.min(this.visited[2 * a], this.visited[2 * a + 1]);
	}

	/** The end on one side, counts; NaN until three visits agree. */
	of(a: number, side: Side): number {
		return this.end[2 * a + side];
	}

	/** Whether both ends are confirmed. */
	areKnown(a: number): boolean {
		return !Number.isNaN(this.end[2 * a] + this.end[2 * a + 1]);
	}

	/** From one end to the other, counts; NaN until both are confirmed. */
	spanOf(a: number): number {
		return this.end[2 * a + 1] - this.end[2 * a];
	}

	/** When the first of the visits that confirm the ends was made, seconds. */
	firstAt(a: number): number {
		return Math.min(this.since[2 * a], this.since[2 * a + 1]);
	}

	private follow(features: Features, f: number): void {
		const {trips, spans} = features.analog;
		let isNew = this.goFarther(features, f);
		for (let number = Math.max(this.newest[f] + 1, trips.oldest(f)); number < trips.count[f]; number++) {
			if (trips.settled[trips.at(f, number)] === 0) break;
			this.begin(features, f, number);
			isNew = true;
		}
		const span = spans.of(f);
		if (!isNew && span === this.bySpan[f]) return;
		this.bySpan[f] = span;
		this.judge(f, low, span);
		this.judge(f, high, span);
	}

	/** Takes in the way that has settled as trip `number`. */
	private begin(features: Features, f: number, number: number): void {
		const {history, analog} = features;
		const {trips} = analog;
		const place = trips.at(f, number);
		// The way back from it ends where readings go the other way again.
		const arrived = history.firstAt(trips.inAt[place] + arrivalSeconds);
		const next = number + 1 < trips.count[f] ? trips.endFrame[trips.at(f, number + 1)] : arrived;
		this.newest[f] = number;
		this.farthest[f] = farthestLasting(
			features,
			f,
			Math.sign(trips.way[place]),
			trips.inFrame[place],
			Math.min(next, arrived),
		);
		this.lookedTo[f] = Math.min(history.count, arrived);
		const end = this.endOf(features, f);
		this.at[end * kept + (this.count[end]++ % kept)] = trips.inAt[place];
		this.write(features, f);
	}

	/** The newest visit as it is now: the finger may go on until it turns back. True where it went farther. */
	private goFarther(features: Features, f: number): boolean {
		const {history, analog} = features;
		const {trips} = analog;
		if (this.newest[f] < trips.oldest(f)) return false;
		const place = trips.at(f, this.newest[f]);
		const sign = Math.sign(trips.way[place]);
		const from = Math.max(trips.inFrame[place], this.lookedTo[f] - lastingFrames(features) + 1);
		const to = history.firstAt(trips.inAt[place] + arrivalSeconds);
		if (to <= this.lookedTo[f]) return false;
		const level = farthestLasting(features, f, sign, from, to);
		this.lookedTo[f] = to;
		if (!(sign * level > sign * this.farthest[f]) && !Number.isNaN(this.farthest[f])) return false;
		this.farthest[f] = level;
		return this.write(features, f);
	}

	/** Writes the newest visit down, no farther than the readings that are evidence of it. */
	private write(features: Features, f: number): boolean {
		const {trips} = features.analog;
		const place = trips.at(f, this.newest[f]);
		const farthest = trips.startValue[place] + trips.way[place];
		const end = this.endOf(features, f);
		const slot = end * kept + ((this.count[end] - 1) % kept);
		const level = trips.way[place] > 0 ? Math.min(farthest, this.farthest[f]) : Math.max(farthest, this.farthest[f]);
		const isNew = level !== this.level[slot] || trips.way[place] !== this.way[slot];
		this.level[slot] = level;
		this.way[slot] = trips.way[place];
		return isNew;
	}

	/** Which end the newest visit is of. */
	private endOf({analog}: Features, f: number): number {
		return 2 * f + (analog.trips.way[analog.trips.at(f, this.newest[f])] > 0 ? high : low);
	}

	private judge(f: number, side: Side, span: number): void {
		const end = 2 * f + side;
		const sign = side === high ? 1 : -1;
		let used = 0;
		for (let k = 0; k < Math.min(kept, this.count[end]); k++) {
			const slot = end * kept + k;
			if (Math.abs(this.way[slot]) < ofOwnSpan * span || Number.isNaN(this.level[slot])) continue;
			levels[used] = this.level[slot];
			times[used++] = this.at[slot];
		}
		this.visited[end] = used;
		this.end[end] = Number.NaN;
		for (let i = 0; i < used; i++) {
			if (sign * levels[i] <= sign * this.end[end]) continue;
			let beyond = 0;
			let first = Number.POSITIVE_INFINITY;
			for (let j = 0; j < used; j++) {
				if (Math.abs(levels[j] - levels[i]) > agreeShare * span) continue;
				if (j !== i && sign * levels[j] >= sign * levels[i]) beyond++;
				first = Math.min(first, times[j]);
			}
			if (beyond < leastOthers) continue;
			this.end[end] = levels[i];
			this.since[end] = first;
		}
	}
}

/** Used within one call only. */
const levels = new Float64Array(kept);
const times = new Float64Array(kept);

/** Frames over which a level has to last. */
function lastingFrames({framesPerSecond}: Features): number {
	return Math.max(leastFrames, Math.round(lastsSeconds * (framesPerSecond ?? 0)));
}

/**
 * The farthest mean over the frames a level has to last, between frames `from` (included) and `to` (not included); `sign` +1:
 * the highest, −1: the lowest. NaN where there are too few readings in a row.
 */
function farthestLasting(features: Features, f: number, sign: number, from: number, to: number): number {
	const {history, analog} = features;
	const column = analog.columns[f];
	const frames = lastingFrames(features);
	let farthest = Number.NaN;
	let sum = 0;
	let count = 0;
	for (let frame = Math.max(from, history.oldest, features.epochFrameOf(f)); frame < to; frame++) {
		const reading = history.reading(frame, column);
		if (Number.isNaN(reading)) {
			[sum, count] = [0, 0];
			continue;
		}
		sum += reading;
		if (count === frames) sum -= history.reading(frame - frames, column);
		else count++;
		if (count === frames && !(sign * (sum / frames) <= sign * farthest)) farthest = sum / frames;
	}
	return farthest;
}
