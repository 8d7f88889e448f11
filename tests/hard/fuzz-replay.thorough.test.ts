import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {ItemTape} from '../../source/dashboard/item-tape.ts';
import {ReplayPlayer} from '../../source/dashboard/replay-player.ts';
import {Session} from '../../source/session/session.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {hostileStreams} from './hostile-streams.ts';

const options = {timing: 'measured', baud: 115_200} as const;
const stopwatch = (): number => 0;

/** A hostile stream with marks and events in it, and a silence in its middle so long that its steps thin out. */
function hostileItems(name: string, size: number, silence: number): SourceItem[] {
	const bytes = hostileStreams[name]!(size, 41);
	const items: SourceItem[] = [];
	for (let at = 0; at < size; at += 90) {
		const t = at / 400 + (at > size / 2 ? silence : 0);
		items.push({t, bytes: bytes.subarray(at, at + 90)});
		if (at % 900 === 0)
			items.push({t, mark: `m\u001b[2J${at}`}, {t, event: at % 1800 === 0 ? 'port-lost' : 'reattached'});
	}

	return items;
}

function playedTo(items: readonly SourceItem[], t: number): Session {
	const session = new Session(options);
	for (const item of items) if (item.t <= t) session.push(item);
	session.advance(t);
	return session;
}

describe('replaying what is hostile', () => {
	it.each(['a layout that flips every 8 lines', 'odd numbers among good frames', 'random bytes'])(
		'is after any seek what it would be had it been played to there: %s',
		name => {
			const silence = 900;
			const items = hostileItems(name, 6000, silence);
			const player = new ReplayPlayer(ItemTape.of(items), options);
			while (player.readAhead(50, stopwatch));
			const end = items.at(-1)!.t;
			const place = fc.oneof(
				fc.double({min: 0, max: 7, noNaN: true}),
				fc.double({min: silence, max: end - 0.01, noNaN: true}),
				fc.constant(silence / 2),
			);
			fc.assert(
				fc.property(fc.array(place, {minLength: 1, maxLength: 2}), places => {
					for (const t of places) player.seek(t);
					expect(player.session.snapshot()).toEqual(playedTo(items, places.at(-1)!).snapshot());
				}),
				{seed: 13, numRuns: 3},
			);
			player.step(1);
			player.step(-1);
			player.seek(end);
			expect(player.atEnd).toBe(true);
		},
	);

	it('holds chunks far larger than its blocks', () => {
		const huge = new Uint8Array(3 << 20).fill(0x37);
		const player = new ReplayPlayer(
			ItemTape.of([
				{t: 0, bytes: huge},
				{t: 1, bytes: Buffer.from('\n1,2,3\n')},
			]),
			options,
		);
		player.seek(1);
		expect(player.session.link.bytes).toBe((3 << 20) + 7);
	});
});
