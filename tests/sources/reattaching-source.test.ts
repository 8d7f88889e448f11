import {describe, expect, it} from 'vitest';
import {ItemQueue} from '../../source/sources/item-queue.ts';
import {reattachingSource} from '../../source/sources/reattaching-source.ts';
import type {Source} from '../../source/stream/source.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {memorySource} from '../gloves/memory-source.ts';

const bytes = new Uint8Array([49, 10]);
let clock = 0;

/** A connection that lasts for these items, its own clock starting when it was opened. */
function connection(items: readonly SourceItem[]): Source {
	const openedAt = clock;
	return {
		...memorySource(items, {kind: 'tcp', name: 'tcp://glove:3333'}),
		now: () => clock - openedAt,
		async *batches() {
			yield items;
			clock += 10;
		},
	};
}

/** A connection that says one thing and then nothing, until it is closed. */
function endless(): Source {
	const queue = new ItemQueue();
	queue.push({t: 0, bytes});
	return {...memorySource([]), now: () => 0, batches: () => queue.batches(), close: async () => queue.end()};
}

async function collect(source: Source, count: number): Promise<SourceItem[]> {
	const items: SourceItem[] = [];
	for await (const batch of source.batches()) {
		items.push(...batch);
		if (items.length >= count) await source.close();
	}

	return items;
}

describe('reattachingSource', () => {
	it('goes on in the same stream when the connection is back, at the time it comes', async () => {
		clock = 0;
		let attempts = 0;
		const source = reattachingSource(connection([{t: 1, bytes}]), {
			signal: new AbortController().signal,
			pause: async () => {
				clock += 1;
			},
			reopen: async () => {
				attempts++;
				if (attempts < 3) throw new Error('refused');
				return connection([{t: 0.5, bytes}]);
			},
		});
		expect(await collect(source, 4)).toEqual([
			{t: 1, bytes},
			{t: 10, event: 'port-lost', detail: 'The other side closed tcp://glove:3333.'},
			// Three pauses of a second.
			{t: 13, event: 'reattached', detail: 'tcp://glove:3333 is back.'},
			{t: 13.5, bytes},
		]);
	});

	it('tells a loss once', async () => {
		clock = 0;
		const lost: SourceItem = {t: 2, event: 'port-lost', detail: 'broke'};
		const source = reattachingSource(connection([lost]), {
			signal: new AbortController().signal,
			pause: async () => {},
			reopen: async () => connection([]),
		});
		const items = await collect(source, 2);
		expect(items.map(item => ('event' in item ? item.event : ''))).toEqual(['port-lost', 'reattached']);
	});

	it('ends when its time is up, connected or not', async () => {
		for (const reopen of [() => Promise.reject(new Error('refused')), async () => endless()]) {
			const source = reattachingSource(endless(), {reopen, forSeconds: 0.02, pause: async () => {}});
			const items: SourceItem[] = [];
			for await (const batch of source.batches()) items.push(...batch);
			expect(items).toEqual([{t: 0, bytes}]);
		}
	});

	it('does not take up a connection that came back too late', async () => {
		let closed = 0;
		const source = reattachingSource(connection([{t: 1, bytes}]), {
			pause: async () => {},
			reopen: async () => {
				await source.close();
				return {
					...connection([{t: 5, bytes}]),
					async close() {
						closed++;
					},
				};
			},
		});
		expect(await collect(source, 99)).toHaveLength(2);
		expect(closed).toBe(1);
	});

	it('stops waiting when it is closed, and when everything ends', async () => {
		const leave = new AbortController();
		const source = reattachingSource(connection([{t: 1, bytes}]), {
			signal: leave.signal,
			pause: (_seconds, signal) =>
				new Promise((_resolve, reject) => signal.addEventListener('abort', () => reject(signal.reason))),
			reopen: () => Promise.reject(new Error('refused')),
		});
		const items = collect(source, 99);
		await new Promise(resolve => setImmediate(resolve));
		leave.abort();
		expect(await items).toHaveLength(2);
	});
});
