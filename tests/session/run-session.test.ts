import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {checkJson} from '../../source/report/check-json.ts';
import {runSession} from '../../source/session/run-session.ts';
import type {Source} from '../../source/stream/source.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {memorySource} from '../gloves/memory-source.ts';

const encoder = new TextEncoder();

/** Five fingers at 50 frames/s, opening and closing every 2 s, the ring finger stuck at mid-scale. */
function frames(seconds: number): SourceItem[] {
	return Array.from({length: seconds * 50}, (_, i) => {
		// Each finger a little behind the one before, and less far.
		const bend = (finger: number): number =>
			Math.round(500 - (350 - 40 * finger) * Math.cos(((i - 3 * finger) / 50) * Math.PI) + (i % 3));
		const line = [bend(0), bend(1), bend(2), 512, bend(3)].join(',');
		return {t: i / 50, bytes: encoder.encode(`${line}\r\n`)};
	});
}

describe('a session run over a source', () => {
	it('reads to the end, settles what was pending and closes the source', async () => {
		const source = memorySource(frames(12), {name: 'left hand', baud: 115_200});
		const {snapshot, info, sample} = await runSession(source);
		expect(snapshot.link.frames).toBe(600);
		expect(snapshot.findings.map(({code, channel}) => `${channel} ${code}`)).toEqual(['ring stuck-mid']);
		expect(info.name).toBe('left hand');
		expect(new TextDecoder().decode(sample)).toMatch(/^150,195,249,512,306\r\n/);
		expect(sample.length).toBe(4096);
		expect(source.closed).toBe(true);
	});

	it('gives the same for the same bytes however they come in batches', async () => {
		const items = frames(12);
		const runs = await Promise.all([1, 7, 4096].map(size => runSession(memorySource(items, {}, size))));
		const [one, ...others] = runs.map(({snapshot, info}) => JSON.stringify(checkJson(snapshot, info)));
		for (const other of others) expect(other).toBe(one);
	});

	it('begins anew where the source says that another session begins, and at no other event', async () => {
		const interrupted = (event: 'session' | 'dtr' | 'truncated'): SourceItem[] => [
			...frames(4),
			{t: 4, event},
			...frames(3).map(item => ({...item, t: item.t + 4})),
		];
		const events = ['session', 'dtr', 'truncated'] as const;
		const runs = await Promise.all(events.map(event => runSession(memorySource(interrupted(event)))));
		expect(runs.map(({snapshot}) => snapshot.link.frames)).toEqual([150, 350, 350]);
		expect(runs[0].snapshot.t).toBeCloseTo(3, 1);
	});

	it('stops at the time asked for', async () => {
		const {snapshot} = await runSession(memorySource(frames(12)), {forSeconds: 3});
		expect(snapshot.t).toBe(3);
		expect(snapshot.link.frames).toBe(151);
	});

	it('takes declared values over the source and passes its timing on', async () => {
		const source = memorySource(frames(1), {baud: 9600, timing: 'column'});
		const {session} = await runSession(source, {session: {baud: 57_600, fullScale: 4095}});
		expect(session.options).toMatchObject({baud: 57_600, fullScale: 4095, timing: 'column'});
	});

	it('is watched at the same tenths of a second of stream time however the items come in batches', async () => {
		const seen: number[][] = [];
		for (const size of [1, 4096]) {
			const times: number[] = [];
			await runSession(memorySource(frames(2), {}, size), {watch: ({t}) => times.push(t)});
			seen.push(times);
		}

		expect(seen[0]).toEqual(seen[1]);
		expect(seen[0].slice(0, 3).map(t => Math.round(t * 10))).toEqual([1, 2, 3]);
		expect(seen[0]).toHaveLength(20);
	});

	it('does not let watching change what is found', async () => {
		const plain = await runSession(memorySource(frames(12)));
		const watched = await runSession(memorySource(frames(12)), {watch: session => void session.snapshot()});
		expect(checkJson(watched.snapshot, watched.info)).toEqual(checkJson(plain.snapshot, plain.info));
	});

	it('keeps what was read when it is stopped', async () => {
		const stop = new AbortController();
		let batches = 0;
		const source = memorySource(frames(12), {}, 50);
		const {snapshot} = await runSession(
			{...source, totalBytes: 10_000, close: source.close, batches: source.batches},
			{
				signal: stop.signal,
				progress() {
					if (++batches === 3) stop.abort();
				},
			},
		);
		expect(snapshot.link.frames).toBe(150);
	});

	it('closes the source when reading fails, and passes the failure on', async () => {
		let closed = 0;
		const broken: Source = {
			info: {kind: 'tcp', name: 'tcp://glove', timing: 'measured', baud: null},
			async *batches() {
				yield frames(1);
				throw new CannotError('tcp://glove hung up.');
			},
			async close() {
				closed++;
			},
		};
		await expect(runSession(broken)).rejects.toThrow('tcp://glove hung up.');
		expect(closed).toBe(1);
	});

	it('ends a live source at the time asked for, though nothing arrives', async () => {
		const start = performance.now();
		let wake: (() => void) | undefined;
		const silent: Source = {
			info: {kind: 'serial', name: 'COM5', timing: 'measured', baud: 9600},
			now: () => (performance.now() - start) / 1000,
			async *batches() {
				await new Promise<void>(resolve => {
					wake = resolve;
				});
			},
			async close() {
				wake?.();
			},
		};
		const {snapshot} = await runSession(silent, {forSeconds: 0.05});
		expect(snapshot.t).toBeCloseTo(0.05, 2);
		expect(snapshot.link.bytes).toBe(0);
	});
});
