import type {Ends} from './ends.ts';
import type {FrameHistory} from './frame-history.ts';
import {medianOf} from './nth-smallest.ts';
import type {Trips} from './trips.ts';

/** First turns that make the baseline, and latest ones that are compared with it. */
const group = 3;

/** Other fingers must turn within this time of a turn for it to belong to a movement of the whole hand. */
const togetherSeconds = 0.8;

/** Only turns between ways of more than half the span: a small gesture's turn is no end of travel. */
const leastWay = 0.55;

/** A turn whose way back has not ended after this long is judged as it stands. */
const patienceSeconds = 3;

/** Share of the other fingers that must turn as well: fingers that each play their own part coincide now and then. */
const companionShare = 0.6;

/** Readings this near to a turn are taken for its level: the quickest fists (3.3/s, minimum jerk) leave theirs by 7 % in it. */
const turnSeconds = 0.02;

/** The rest before the first movement: from 2 s to 0.8 s before its way was noted, within 2 % of that way (rms). */
const restBefore = [2, 0.8] as const;
const restScatter = 0.02;

/** A span that has grown by this much was not known before. */
const grownRatio = 1.5;

/** One end of a finger's travel over the cycles of the hand. */
export type EndLevels = {
	/** Median of the first and of the latest three turns, counts. */
	readonly first: number;
	readonly latest: number;
	/** Median change from one turn to the next, counts: how well the hand repeats this end. */
	readonly scatter: number;
	readonly turns: number;
	/** When the first and the latest turn were reached, seconds. */
	readonly since: number;
};

/** The levels each finger turns at in movements of the whole hand, for creep of the open or closed level. */
export class Cycles {
	private readonly channels: number;
	/** Per channel: turns at the bottom, then at the top. */
	private readonly counts: Int32Array;
	private readonly firsts: Float64Array;
	private readonly latest: Float64Array;
	private readonly since: Float64Array;
	/** Sizes of the latest changes between neighbouring turns. */
	private readonly changes: Float64Array;
	private readonly judged: Int32Array;
	/** What was found from so many turns of each row. */
	private readonly judgedTurns: Int32Array;
	private readonly judgedLevels: (EndLevels | undefined)[];
	private readonly spanAtFirst: Float64Array;
	private readonly restAtFirst: Float64Array;
	private readonly restSeen: Uint8Array;

	constructor(channels: number) {
		this.channels = channels;
		this.counts = new Int32Array(channels * 2);
		this.firsts = new Float64Array(channels * 2 * group);
		this.latest = new Float64Array(channels * 2 * group);
		this.since = new Float64Array(channels * 2);
		this.changes = new Float64Array(channels * 2 * 8);
		this.judged = new Int32Array(channels);
		this.judgedTurns = new Int32Array(channels * 2);
		this.judgedLevels = new Array(channels * 2).fill(undefined);
		this.restAtFirst = new Float64Array(channels).fill(Number.NaN);
		this.restSeen = new Uint8Array(channels);
		this.spanAtFirst = new Float64Array(channels).fill(Number.POSITIVE_INFINITY);
	}

	/** Judges the turns that are old enough for the other fingers to have turned as well. */
	close(
		trips: Trips,
		ends: Ends,
		fingers: readonly number[],
		columns: readonly number[],
		history: FrameHistory,
		now: number,
	): void {
		for (const a of fingers) {
			this.noteFirstRest(a, columns[a], history, trips, now);
			// The first movements may have been smaller ones: levels of another travel are no baseline.
			if (ends.span(a) > grownRatio * this.spanAtFirst[a]) this.forget(a);
			let number = Math.max(this.judged[a], trips.oldest(a));
			// The first turn noted is only where the channel happened to be.
			for (; number < trips.count[a]; number++) {
				const place = trips.at(a, number);
				if (trips.notedAt[place] > now - togetherSeconds) break;
				// The way after it must be over as well, or a pause would make it look short.
				if (number + 1 >= trips.count[a] && trips.notedAt[place] > now - patienceSeconds) break;
				if (number === 0 || wayAt(trips, a, number) < leastWay * ends.span(a)) continue;
				if (trips.reachedAt[place] - trips.reachedAt[trips.at(a, number - 1)] < leastWaySeconds(history)) continue;
				let together = 0;
				for (const b of fingers) if (b !== a && turnedNear(trips, b, trips.notedAt[place])) together++;
				if (together < companionShare * (fingers.length - 1)) continue;
				if (this.spanAtFirst[a] === Number.POSITIVE_INFINITY) this.spanAtFirst[a] = ends.span(a);
				const t = trips.reachedAt[place];
				this.take(
					trips.kinds[place] > 0 ? this.channels + a : a,
					levelAt(history, columns[a], t, trips.values[place]),
					t,
				);
			}
			this.judged[a] = number;
		}
	}

	/** Level at which a finger rested before its first movement; NaN where it did not rest there for a second. */
	firstRest(a: number): number {
		return this.restAtFirst[a];
	}

	private noteFirstRest(a: number, column: number, history: FrameHistory, trips: Trips, now: number): void {
		if (trips.count[a] === 0 || this.restSeen[a] === 1) return;
		this.restSeen[a] = 1;
		// The second up to a little before the reading had gone its first way.
		const leftAt = trips.notedAt[trips.at(a, 0)];
		let sum = 0;
		let squares = 0;
		let count = 0;
		let moved = false;
		for (let frame = history.firstAt(leftAt - restBefore[0]); frame < history.count; frame++) {
			if (history.time(frame) > leftAt - restBefore[1] || history.time(frame) > now) break;
			const reading = history.values[history.base(frame) + column];
			sum += reading;
			squares += reading * reading;
			count++;
		}
		if (history.time(history.oldest) > leftAt - restBefore[0] || count < 10) return;
		const mean = sum / count;
		moved =
			Math.sqrt(Math.max(0, squares / count - mean * mean)) >
			restScatter * Math.abs(trips.values[trips.at(a, 0)] - trips.farthest(a));
		if (!moved) this.restAtFirst[a] = mean;
	}

	/** Levels at the bottom or the top of a finger's travel; undefined before five turns there. */
	levels(a: number, top: boolean): EndLevels | undefined {
		const row = top ? this.channels + a : a;
		const turns = this.counts[row];
		// Asked for far more often than it changes.
		if (this.judgedTurns[row] !== turns) {
			this.judgedTurns[row] = turns;
			this.judgedLevels[row] = this.judgeLevels(row);
		}
		return this.judgedLevels[row];
	}

	private judgeLevels(row: number): EndLevels | undefined {
		const turns = this.counts[row];
		// With five the middle one belongs to both groups: two medians of three that differ by a whole step all the same.
		if (turns < 2 * group - 1) return undefined;
		const held = Math.min(turns - 1, 8);
		return {
			first: medianOf(this.firsts, row * group, group),
			latest: medianOf(this.latest, row * group, group),
			scatter: medianOf(this.changes, row * 8, held),
			turns,
			since: this.since[row],
		};
	}

	private forget(a: number): void {
		for (const row of [a, this.channels + a]) {
			this.counts[row] = 0;
			this.judgedTurns[row] = 0;
			this.judgedLevels[row] = undefined;
		}
		this.spanAtFirst[a] = Number.POSITIVE_INFINITY;
	}

	private take(row: number, value: number, t: number): void {
		const count = this.counts[row];
		if (count === 0) this.since[row] = t;
		else {
			const before = this.latest[row * group + ((count - 1) % group)];
			this.changes[row * 8 + ((count - 1) % 8)] = Math.abs(value - before);
		}
		if (count < group) this.firsts[row * group + count] = value;
		this.latest[row * group + (count % group)] = value;
		this.counts[row]++;
	}
}

/** Faster fists do not open all the way, and on a slow stream the very turn may fall between two frames. */
function leastWaySeconds(history: FrameHistory): number {
	const frames = Math.min(history.count, 64) - 1;
	const spacing =
		frames < 8 ? 0 : (history.time(history.count - 1) - history.time(history.count - 1 - frames)) / frames;
	return Math.max(0.3, 8 * spacing);
}

/** The shorter of the ways before and after a turn, counts; the way after it may still be under way. */
function wayAt(trips: Trips, a: number, number: number): number {
	const value = trips.values[trips.at(a, number)];
	const before = Math.abs(value - trips.values[trips.at(a, number - 1)]);
	const next = number + 1 < trips.count[a] ? trips.values[trips.at(a, number + 1)] : trips.farthest(a);
	return Math.min(before, Math.abs(next - value));
}

/**
 * Median of the readings within 20 ms of a turn: the farthest single reading is the level plus the highest of the noise,
 * and would creep when the noise grows.
 */
function levelAt(history: FrameHistory, column: number, t: number, farthest: number): number {
	const readings: number[] = [];
	for (
		let frame = history.firstAt(t - turnSeconds);
		frame < history.count && history.time(frame) <= t + turnSeconds;
		frame++
	) {
		const reading = history.values[history.base(frame) + column];
		if (!Number.isNaN(reading)) readings.push(reading);
	}
	return readings.length < 3 ? farthest : medianOf(readings);
}

function turnedNear(trips: Trips, b: number, t: number): boolean {
	for (let number = trips.count[b] - 1; number >= trips.oldest(b); number--) {
		const at = trips.notedAt[trips.at(b, number)];
		if (at < t - togetherSeconds) return false;
		if (at <= t + togetherSeconds) return true;
	}
	return false;
}
