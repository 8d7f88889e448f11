import {describe, expect, it} from 'vitest';
import {openNamedSource} from '../../source/command-line/source-options.ts';
import {openReplayDesk} from '../../source/dashboard/open-desk.ts';
import type {ReplayPlayer} from '../../source/dashboard/replay-player.ts';
import {checkJson} from '../../source/report/check-json.ts';
import {runSession} from '../../source/session/run-session.ts';
import {Session} from '../../source/session/session.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';

// Live, replay and check are one engine (check-values D5.1): the same bytes at the same times give the same JSON, to the digit.

const folder = new URL('../../recordings/', import.meta.url);

/** Epochs, a port that comes back, damaged bytes, readings of an open pin. */
const names = ['device-restart', 'port-lost', 'broken-frames', 'floating-input'];

const open = (name: string) =>
	openNamedSource(
		new URL(`${name}.gbrec`, folder).pathname,
		{},
		{stdin: process.stdin, signal: new AbortController().signal},
	);

/** Stream seconds between two calls of a live session's timer, and lengths of the pieces in which bytes come. */
const timerSeconds = 0.05;
const pieces = [1, 2, 3, 5, 7, 13, 64];

/** As a port drives it: bytes in pieces cut anywhere, and told every 50 ms that time passes. */
async function live(name: string): Promise<string> {
	const {source, session: options} = await open(name);
	const session = new Session({baud: source.info.baud, ...options, timing: source.info.timing});
	let ticks = 0;
	let piece = 0;
	const passUpTo = (t: number) => {
		for (; ticks * timerSeconds <= t; ticks++) session.advance(ticks * timerSeconds);
	};
	const push = (item: SourceItem) => {
		if (!('bytes' in item)) return session.push(item);
		for (let at = 0; at < item.bytes.length || at === 0; ) {
			const end = at + pieces[piece++ % pieces.length];
			session.push({t: item.t, bytes: item.bytes.slice(at, end)});
			at = end;
		}
	};
	for await (const batch of source.batches()) {
		for (const item of batch) {
			passUpTo(item.t);
			push(item);
		}
	}
	const endedAt = source.endedAt?.();
	if (endedAt !== undefined) passUpTo(endedAt);
	session.end(endedAt);
	return JSON.stringify(checkJson(session.snapshot(), source.info));
}

const stopwatch = () => 0;

/** As the replay plays it: looked at here and there, to and fro, before it comes to its end; then once more from its start. */
async function replayed(name: string): Promise<string[]> {
	const named = await open(name);
	const desk = await openReplayDesk([named], {}, new AbortController().signal);
	const player = desk.stations[0].player as ReplayPlayer;
	const told = () => JSON.stringify(checkJson(player.session.snapshot(), named.source.info));
	while (player.readAhead(1000, stopwatch));
	const ahead = JSON.stringify(checkJson(player.snapshotAhead, named.source.info));
	for (const share of [0.7, 0.2]) {
		player.seek(share * player.duration);
		for (let tick = 0; tick < 7; tick++) player.play(0.13, stopwatch);
		player.step(-1);
		player.step(1);
	}
	while (!player.atEnd) player.play(0.25, stopwatch);
	const played = told();
	player.seek(0);
	player.seek(player.duration);
	return [ahead, played, told()];
}

describe('live, replay and check give the same JSON for the same bytes and times', () => {
	it.each(names)('%s', async name => {
		const {source, session} = await open(name);
		const {snapshot, info} = await runSession(source, {session});
		const checked = JSON.stringify(checkJson(snapshot, info));
		expect(await live(name), 'live').toBe(checked);
		const [ahead, played, sought] = await replayed(name);
		expect(ahead, 'read ahead').toBe(checked);
		expect(played, 'played after seeks').toBe(checked);
		expect(sought, 'sought to its end').toBe(checked);
		if (!name.startsWith('healthy')) expect(snapshot.findings.map(({code}) => code)).toContain(name);
	});
});
