import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {LiveGlove} from '../../source/dashboard/live-glove.ts';
import {RecordingWriter} from '../../source/recording/recording-writer.ts';
import {openSource} from '../../source/sources/open-source.ts';
import type {Source} from '../../source/stream/source.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {memorySource} from '../gloves/memory-source.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {FedGlove} from './fed-glove.ts';
import {playGlove} from './play-glove.ts';

const options = {timing: 'measured', baud: null} as const;
const start = (path: string, onError: (message: string) => void) =>
	RecordingWriter.create(path, {source: memorySource([]).info, onError});

describe('LiveGlove', () => {
	const {at} = testFolder();

	it('passes a defect of the engine on, and has recorded what brought it about', async () => {
		const glove = new LiveGlove(memorySource(playGlove({seconds: 1}), {}, 10), options);
		const file = at('defect.gbrec');
		await glove.startRecording(file, start);
		const push = glove.session.push.bind(glove.session);
		const broken = new TypeError('broken on purpose');
		glove.session.push = item => {
			if (item.t > 0.5) throw broken;
			push(item);
		};
		await glove.run();
		expect(glove.failure).toBe(broken);
		await glove.close();
		const read: SourceItem[] = [];
		for await (const batch of (await openSource(file)).batches()) read.push(...batch);
		expect(read.at(-1)!.t).toBeGreaterThan(0.5);
		expect(read.some(item => 'event' in item)).toBe(false);
	});

	it('keeps in mind that a recording broke off', async () => {
		const glove = new LiveGlove(memorySource([]), options);
		let fail = (_: string): void => {};
		await glove.startRecording(at('broke.gbrec'), (to, onError) => {
			fail = onError;
			return start(to, onError);
		});
		expect(glove.recordingFailed).toBe(false);
		fail('The disk is full.');
		expect(glove.recording?.error).toBe('The disk is full.');
		await glove.close();
		expect(glove.recordingFailed).toBe(true);
	});

	it('records everything received, times counted from the recording’s own start', async () => {
		const items = playGlove({seconds: 3});
		const fed = new FedGlove();
		const {glove, queue} = fed;
		const running = glove.run();
		const arrive = (until: number) => {
			for (const item of items.filter(({t}) => t > fed.now - 1e-9 && t < until - 1e-9)) queue.push(item);
			fed.now = until;
		};
		arrive(0.5);
		await glove.gather();
		arrive(1);
		const file = at('part.gbrec');
		await glove.startRecording(file, start);
		arrive(3);
		expect(await glove.stopRecording()).toMatch(/^Recorded to .*part\.gbrec \(\d+ B|kB/);
		queue.end();
		await glove.gather();
		await running;
		const read: SourceItem[] = [];
		for await (const batch of (await openSource(file)).batches()) read.push(...batch);
		const expected = items.filter(({t}) => t >= 1);
		expect(read.filter(item => 'bytes' in item)).toHaveLength(expected.length);
		expect(read[0].t).toBeCloseTo(0, 6);
		expect(read.at(-1)!.t).toBeCloseTo(1.99, 6);
	});

	it('makes a mark after what arrived before it, though that was not gathered yet', async () => {
		const fed = new FedGlove();
		const {glove, queue} = fed;
		void glove.run();
		await glove.gather();
		fed.now = 2;
		for (const item of playGlove({seconds: 1.5})) queue.push(item);
		await glove.mark('reel 3 done');
		expect(glove.session.link.frames).toBe(150);
		expect(glove.session.snapshot().link.silentForSeconds).toBeCloseTo(0.51, 6);
		expect(glove.session.marks).toEqual([{t: 2, mark: 'reel 3 done'}]);
		await glove.close();
	});

	it('records what has arrived by the time it is closed', async () => {
		const fed = new FedGlove();
		const {glove, queue} = fed;
		fed.now = 1;
		const file = at('closed.gbrec');
		await glove.startRecording(file, start);
		void glove.run();
		await glove.gather();
		const items = playGlove({seconds: 1});
		for (const item of items.slice(0, 60)) queue.push(item);
		await glove.gather();
		for (const item of items.slice(60)) queue.push(item);
		await glove.close();
		const read: SourceItem[] = [];
		for await (const batch of (await openSource(file)).batches()) read.push(...batch);
		expect(read.filter(item => 'bytes' in item)).toHaveLength(100);
	});

	it('says why nothing more comes, and keeps what was seen', async () => {
		const source: Source = {
			...memorySource([]),
			async *batches() {
				yield playGlove({seconds: 1});
				throw new CannotError('The cable was pulled.');
			},
		};
		const glove = new LiveGlove(source, options);
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
		const glove = new LiveGlove(source, options);
		await glove.run();
		expect(glove.failure).toBe(error);
	});

	it('counts the time a port has been gone, until it is back', async () => {
		const glove = new LiveGlove({...memorySource([]), now: () => 9}, options);
		glove.session.push({t: 2, event: 'port-lost'});
		await glove.gather();
		expect(glove.lostFor).toBe(7);
		glove.session.push({t: 9.5, event: 'reattached'});
		expect(glove.lostFor).toBeNull();
	});

	it('refuses to write over a file, and goes on without recording', async () => {
		const file = at('twice.gbrec');
		const glove = new LiveGlove(memorySource([]), options);
		await glove.startRecording(file, start);
		await glove.stopRecording();
		await expect(glove.startRecording(file, start)).rejects.toThrow(CannotError);
		expect(glove.recording).toBeNull();
	});
});
