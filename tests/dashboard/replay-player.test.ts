import fc from 'fast-check';
import {beforeAll, describe, expect, it} from 'vitest';
import {ItemTape} from '../../source/dashboard/item-tape.ts';
import {ReplayPlayer} from '../../source/dashboard/replay-player.ts';
import {Session} from '../../source/session/session.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {floatingRing, playGlove} from './play-glove.ts';

const options = {timing: 'measured', baud: 115200} as const;
const note: SourceItem = {t: 20.001, mark: 'reel re-soldered'};
const items = [...playGlove(floatingRing), note].toSorted((a, b) => a.t - b.t);
/** A clock that stands still: nothing ever takes long, however busy the machine is. */
const stopwatch = () => 0;

/** The state a session has when everything up to `t` was played to it. */
function playedTo(t: number, given: readonly SourceItem[] = items) {
	const session = new Session(options);
	for (const item of given) if (item.t <= t) session.push(item);
	session.advance(t);
	return session;
}

describe('ReplayPlayer', () => {
	let player: ReplayPlayer;

	beforeAll(() => {
		player = new ReplayPlayer(ItemTape.of(items), options);
		while (player.readAhead(50, stopwatch));
	});

	it('is after any seek what it would be had it been played to there', () => {
		fc.assert(
			fc.property(fc.array(fc.double({min: 0, max: 39.9, noNaN: true}), {minLength: 1, maxLength: 4}), places => {
				for (const t of places) player.seek(t);
				expect(player.session.snapshot()).toEqual(playedTo(places.at(-1)!).snapshot());
			}),
			{numRuns: 20},
		);
	});

	it('plays on from a seek as if it had never been elsewhere', () => {
		player.seek(30);
		player.seek(11.3);
		for (let tick = 0; tick < 40; tick++) player.play(0.1, stopwatch);
		expect(player.t).toBeCloseTo(15.3, 9);
		expect(player.session.snapshot()).toEqual(playedTo(player.t).snapshot());
	});

	it('steps one frame on and back again', () => {
		player.seek(12);
		const {frames} = player.session.link;
		player.step(1);
		expect(player.session.link.frames).toBe(frames + 1);
		player.step(-1);
		expect(player.session.link.frames).toBe(frames);
		player.step(-1);
		expect(player.session.link.frames).toBe(frames - 1);
	});

	it('steps by frames where a chunk holds several lines', () => {
		const bytes = Buffer.concat(playGlove({seconds: 2}).map(item => ('bytes' in item ? item.bytes : Buffer.alloc(0))));
		const chunked = new ReplayPlayer(
			ItemTape.of([
				{t: 0, bytes: bytes.subarray(0, 1000)},
				{t: 1, bytes: bytes.subarray(1000)},
			]),
			options,
		);
		chunked.seek(0.5);
		const {frames} = chunked.session.link;
		chunked.step(1);
		expect(chunked.session.link.frames).toBe(frames + 1);
	});

	it('stops at both ends', () => {
		player.seek(-5);
		expect(player.t).toBe(0);
		player.step(-1);
		expect(player.session.link.frames).toBe(playedTo(0).link.frames);
		player.seek(1e9);
		expect(player.t).toBe(player.duration);
		expect(player.atEnd).toBe(true);
		const snapshot = player.session.snapshot();
		player.step(1);
		player.play(5, stopwatch);
		expect(player.session.snapshot()).toEqual(snapshot);
	});

	it('ends as check does: told that the source is over', () => {
		player.seek(player.duration);
		const whole = new Session(options);
		for (const item of items) whole.push(item);
		whole.end();
		expect(player.session.snapshot()).toEqual(whole.snapshot());
	});

	it('knows findings and marks ahead, and the way to the next of them', () => {
		const [first] = player.findingsAhead;
		player.seek(0);
		expect(player.findingBeside(1)).toBe(first.flaggedAt);
		player.seek(first.flaggedAt);
		expect(player.findingBeside(-1)).toBeUndefined();
		player.seek(0);
		expect(player.markBeside(1)).toBe(20.001);
		player.seek(21);
		expect(player.markBeside(-1)).toBe(20.001);
		expect(player.markBeside(1)).toBeUndefined();
	});

	it('goes to a place it has not read yet once it has', () => {
		const fresh = new ReplayPlayer(ItemTape.of(items), options);
		fresh.seek(38);
		expect(fresh.t).toBe(38);
		while (fresh.readAhead(1, stopwatch));
		expect(fresh.session.snapshot()).toEqual(playedTo(38).snapshot());
	});

	it('gives way when playing is more work than one tick allows', () => {
		let clock = 0;
		player.seek(0);
		player.play(39, () => (clock += 30));
		expect(player.t).toBeGreaterThan(0);
		expect(player.t).toBeLessThan(39);
		expect(player.session.snapshot()).toEqual(playedTo(player.t).snapshot());
	});

	it('copes with a recording that holds nothing', () => {
		const empty = new ReplayPlayer(new ItemTape(), options);
		while (empty.readAhead(5, stopwatch));
		empty.seek(3);
		empty.step(1);
		empty.step(-1);
		empty.play(1, stopwatch);
		expect(empty.atEnd).toBe(true);
	});
});
