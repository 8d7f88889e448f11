import {describe, expect, it} from 'vitest';
import {reattachingSource} from '../../source/dashboard/reattaching-source.ts';
import {memorySource} from '../../source/sources/memory.ts';
import type {Source, SourceItem} from '../../source/sources/source.ts';

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
