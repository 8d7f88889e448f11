import {Session} from '../session/session.ts';
import type {SessionOptions} from '../session/session-options.ts';
import type {Finding, Snapshot} from '../session/snapshot.ts';
import {Checkpoint} from './checkpoint.ts';
import type {ItemTape} from './item-tape.ts';

/** Most checkpoints kept: an hour gets one every 20 s, which is played over in some 40 ms. */
const mostCheckpoints = 180;

/** Closer together than this, checkpoints save nothing that can be felt. */
const leastSpacingSeconds = 5;

/** A tick of playing stops after so much work, so that keys stay alive at any speed. */
const playBudgetMs = 40;

type Stop = {readonly index: number; readonly t: number; readonly checkpoint: Checkpoint};

/**
 * Plays a recording held in memory. At every moment the session is what it would be had the recording been played to
 * there from its start: seeking goes back to a copy of an earlier state and plays on from that. Those copies are made
 * while a second session reads ahead in slices, which also finds out what lies further on.
 *
 * Reads no clock: time comes in as arguments, a stopwatch as a function.
 */
export class ReplayPlayer {
	readonly #tape: ItemTape;
	/** Stream seconds of the last item. */
	readonly duration: number;
	readonly #spacing: number;
	readonly #stops: Stop[];
	readonly #ahead: Session;
	#aheadIndex = 0;
	readonly #session: Session;
	/** Items before this one have been taken in. */
	#index = 0;
	#t = 0;
	#finished = false;
	/** A place the session is not at yet, because reading ahead has not come near it. */
	#wanted: {readonly t: number; readonly index: number} | undefined;

	constructor(tape: ItemTape, options: SessionOptions) {
		this.#tape = tape;
		this.duration = tape.length === 0 ? 0 : tape.timeOf(tape.length - 1);
		this.#spacing = Math.max(leastSpacingSeconds, this.duration / mostCheckpoints);
		this.#ahead = new Session(options);
		this.#session = new Session(options);
		this.#stops = [{index: 0, t: 0, checkpoint: new Checkpoint(this.#ahead)}];
	}

	/** The session as of `t`. */
	get session(): Session {
		return this.#session;
	}

	/** Stream seconds the replay is at. */
	get t(): number {
		return this.#wanted?.t ?? this.#t;
	}

	get atEnd(): boolean {
		return this.#wanted === undefined && this.#index >= this.#tape.length && this.#t >= this.duration;
	}

	/** Stream seconds up to which findings are known; `duration` once everything has been read. */
	get readTo(): number {
		return this.#readAll ? this.duration : this.#tape.timeOf(this.#aheadIndex);
	}

	/** The state after everything read ahead so far: at last what `check` says of the recording. */
	get snapshotAhead(): Snapshot {
		return this.#ahead.snapshot();
	}

	/** Findings of everything read ahead so far. */
	get findingsAhead(): readonly Finding[] {
		return this.#ahead.findings;
	}

	/** Stream seconds of all marks, whether reached or not. */
	get marks(): readonly number[] {
		return this.#tape.marks;
	}

	/** Goes to a place in stream seconds. Where reading ahead is not there yet, `readAhead` will finish the way. */
	seek(t: number): void {
		const place = Math.max(0, Math.min(this.duration, t));
		this.#seekTo(this.#tape.countUntil(place), place);
	}

	/**
	 * One frame on or back. A frame is what completes one; at either end nothing happens. Back costs a seek.
	 */
	step(by: 1 | -1): void {
		const {frames} = this.#session.link;
		if (by > 0) {
			while (this.#index < this.#tape.length && this.#session.link.frames === frames) this.#takeNext();
			if (this.#index >= this.#tape.length) this.#finish();
			return;
		}

		for (let index = this.#index - 1; index >= 0; index--) {
			if (!this.#tape.isBytes(index)) continue;
			this.#seekTo(index, index === 0 ? 0 : this.#tape.timeOf(index - 1));
			if (this.#session.link.frames < frames || this.#wanted !== undefined) return;
		}
	}

	/** Plays on for so many stream seconds; less, if that is too much work at once. */
	play(seconds: number, nowMs: () => number): void {
		if (this.#wanted !== undefined) return;
		const target = Math.min(this.duration, this.#t + seconds);
		const until = nowMs() + playBudgetMs;
		while (this.#index < this.#tape.length && this.#tape.timeOf(this.#index) <= target) {
			this.#takeNext();
			if (this.#index % 64 === 0 && nowMs() > until) return;
		}

		this.#t = target;
		this.#session.advance(target);
		if (this.#index >= this.#tape.length && target >= this.duration) this.#finish();
	}

	/** Reads ahead for about `budgetMs`. True while there is more to read. */
	readAhead(budgetMs: number, nowMs: () => number): boolean {
		const until = nowMs() + budgetMs;
		while (!this.#readAll) {
			this.#readAheadOne();
			if (this.#aheadIndex % 64 === 0 && nowMs() > until) break;
		}

		if (this.#wanted !== undefined && this.#aheadIndex >= this.#wanted.index) {
			const {index, t} = this.#wanted;
			this.#wanted = undefined;
			this.#seekTo(index, t);
		}

		return !this.#readAll;
	}

	/** Time of the finding after (or before) this place, or undefined. Just passing one does not count as being there. */
	findingBeside(by: 1 | -1): number | undefined {
		return beside(
			this.findingsAhead.map(finding => finding.flaggedAt),
			this.t,
			by,
		);
	}

	/** Time of the mark after (or before) this place, or undefined. */
	markBeside(by: 1 | -1): number | undefined {
		return beside(this.marks, this.t, by);
	}

	get #readAll(): boolean {
		return this.#aheadIndex > this.#tape.length;
	}

	#readAheadOne(): void {
		if (this.#aheadIndex >= this.#tape.length) {
			this.#ahead.end();
			this.#aheadIndex++;
			return;
		}

		// Before the item, so that the copy is the state at exactly this index.
		const item = this.#tape.at(this.#aheadIndex);
		const last = this.#stops.at(-1)!;
		if (item.t >= last.t + this.#spacing) {
			const checkpoint = new Checkpoint(this.#ahead, last.checkpoint);
			this.#stops.push({index: this.#aheadIndex, t: item.t, checkpoint});
		}

		this.#ahead.push(item);
		this.#aheadIndex++;
	}

	#seekTo(index: number, t: number): void {
		const from = this.#stops.findLast(stop => stop.index <= index)!;
		// Beyond what was read ahead there is no copy near by; going there in one go could take seconds.
		const {length} = this.#tape;
		if (index > this.#aheadIndex && this.#tape.timeOf(Math.min(index, length - 1)) - from.t > 2 * this.#spacing) {
			this.#wanted = {t, index};
			return;
		}

		this.#wanted = undefined;
		this.#finished = false;
		from.checkpoint.restoreInto(this.#session);
		this.#index = from.index;
		while (this.#index < index) this.#takeNext();
		this.#t = t;
		this.#session.advance(t);
		if (index >= length && t >= this.duration) this.#finish();
	}

	#takeNext(): void {
		const item = this.#tape.at(this.#index++);
		this.#session.push(item);
		this.#t = Math.max(this.#t, item.t);
	}

	/** At the very end the session is told so, as `check` does: a cut line and a last silence count. */
	#finish(): void {
		if (this.#finished) return;
		this.#finished = true;
		this.#t = this.duration;
		this.#session.end();
	}
}

/** Half a frame at 100 frames a second: nearer than that is the same place. */
const sameSeconds = 0.005;

function beside(times: readonly number[], t: number, by: 1 | -1): number | undefined {
	let best: number | undefined;
	for (const time of times) {
		if (by > 0 ? time <= t + sameSeconds : time >= t - sameSeconds) continue;
		if (best === undefined || (by > 0 ? time < best : time > best)) best = time;
	}

	return best;
}
