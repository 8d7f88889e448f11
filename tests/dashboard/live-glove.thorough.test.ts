import {mkdtemp, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {LiveGlove} from '../../source/dashboard/live-glove.ts';
import {ItemQueue} from '../../source/sources/item-queue.ts';
import type {Source} from '../../source/stream/source.ts';
import {memorySource} from '../gloves/memory-source.ts';
import {floatingRing, playGlove} from './play-glove.ts';

const options = {timing: 'measured', baud: null} as const;

/** A live source that is fed by the test. */
const queueSource = (queue: ItemQueue, now: () => number): Source => ({
	...memorySource([]),
	now,
	batches: () => queue.batches(),
});

describe('LiveGlove', () => {
	let folder: string;

	beforeAll(async () => {
		folder = await mkdtemp(path.join(tmpdir(), 'glove-'));
	});

	afterAll(() => rm(folder, {recursive: true}));

	it('gives the same state however seldom it is asked to gather, and keeps the times of arrival', async () => {
		const items = playGlove({...floatingRing, seconds: 20});
		const states = [];
		for (const every of [1, 7, 50, 400]) {
			const queue = new ItemQueue();
			let now = 0;
			const glove = new LiveGlove(
				queueSource(queue, () => now),
				options,
			);
			void glove.run();
			for (const [index, item] of items.entries()) {
				now = item.t;
				queue.push(item);
				if (index % every === every - 1) await glove.gather();
			}

			await glove.gather();
			states.push(glove.session.snapshot());
			await glove.close();
		}

		expect(states[0].findings.map(({code}) => code)).toContain('floating-input');
		expect(states[0].link.framesPerSecond).toBeCloseTo(100, 6);
		for (const state of states) expect(state).toEqual(states[0]);
	});
});
