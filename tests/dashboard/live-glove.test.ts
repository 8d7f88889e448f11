import {mkdtemp, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {LiveGlove} from '../../source/dashboard/live-glove.ts';
import {RecordingWriter} from '../../source/recording/recording-writer.ts';
import {memorySource} from '../../source/sources/memory.ts';
import {openSource} from '../../source/sources/open-source.ts';
import type {Source, SourceItem} from '../../source/sources/source.ts';
import {playGlove} from './play-glove.ts';

const options = {timing: 'measured', baud: null} as const;
const start = (path: string, onError: (message: string) => void) =>
	RecordingWriter.create(path, {source: memorySource([]).info, onError});

describe('LiveGlove', () => {
	let folder: string;

	beforeAll(async () => {
		folder = await mkdtemp(path.join(tmpdir(), 'glove-'));
	});

	afterAll(() => rm(folder, {recursive: true}));

	it('records everything received, times counted from the recording’s own start', async () => {
		const items = playGlove({seconds: 3});
		let go: () => void = () => {};
		const gate = new Promise<void>(resolve => {
			go = resolve;
		});
		const source: Source = {
			...memorySource([]),
			now: () => 1,
			async *batches() {
				yield items.filter(({t}) => t < 1);
				await gate;
				yield items.filter(({t}) => t >= 1);
			},
		};
		const changed: (() => void)[] = [];
		const glove = new LiveGlove(source, options, () => changed.shift()?.());
		const running = glove.run();
		await new Promise<void>(resolve => changed.push(resolve));
		const file = path.join(folder, 'part.gbr');
		await glove.startRecording(file, start);
		go();
		await running;
		expect(await glove.stopRecording()).toMatch(/^Recorded to .*part\.gbr \(\d+ B|kB/);
		const read: SourceItem[] = [];
		for await (const batch of (await openSource(file)).batches()) read.push(...batch);
		const expected = items.filter(({t}) => t >= 1);
		expect(read.filter(item => 'bytes' in item)).toHaveLength(expected.length);
		expect(read[0].t).toBeCloseTo(0, 6);
		expect(read.at(-1)!.t).toBeCloseTo(1.99, 6);
	});

	it('says why nothing more comes, and keeps what was seen', async () => {
		const source: Source = {
			...memorySource([]),
			async *batches() {
				yield playGlove({seconds: 1});
				throw new CannotError('The cable was pulled.');
			},
		};
		const glove = new LiveGlove(source, options, () => {});
		await glove.run();
		expect(glove.over).toBe('The cable was pulled.');
		expect(glove.failure).toBeUndefined();
		expect(glove.session.link.frames).toBe(100);
	});

	it('hands a failure before the first byte to its owner', async () => {
		const error = new CannotError('Cannot open /dev/ttyUSB0: busy.');
		const source: Source = {
			...memorySource([]),
			// biome-ignore lint/correctness/useYield: it fails before it yields anything
			async *batches() {
				throw error;
			},
		};
		const glove = new LiveGlove(source, options, () => {});
		await glove.run();
		expect(glove.failure).toBe(error);
	});

	it('counts the time a port has been gone, until it is back', () => {
		const glove = new LiveGlove({...memorySource([]), now: () => 9}, options, () => {});
		glove.session.push({t: 2, event: 'port-lost'});
		glove.tick();
		expect(glove.lostFor).toBe(7);
		glove.session.push({t: 9.5, event: 'reattached'});
		expect(glove.lostFor).toBeNull();
	});

	it('refuses to write over a file, and goes on without recording', async () => {
		const file = path.join(folder, 'twice.gbr');
		const glove = new LiveGlove(memorySource([]), options, () => {});
		await glove.startRecording(file, start);
		await glove.stopRecording();
		await expect(glove.startRecording(file, start)).rejects.toThrow(CannotError);
		expect(glove.recording).toBeNull();
	});
});
