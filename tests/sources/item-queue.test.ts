import {describe, expect, it} from 'vitest';
import {ItemQueue} from '../../source/sources/item-queue.ts';
import {memorySource} from '../gloves/memory-source.ts';
import {readAll} from './reading.ts';

const item = (t: number) => ({t, mark: String(t)});

describe('ItemQueue', () => {
	it('hands over what waits as one batch, and the next when it comes', async () => {
		const queue = new ItemQueue();
		const batches = queue.batches();
		queue.push(item(1));
		queue.push(item(2));
		expect((await batches.next()).value).toEqual([item(1), item(2)]);
		const next = batches.next();
		queue.push(item(3));
		expect((await next).value).toEqual([item(3)]);
		const last = batches.next();
		queue.end();
		expect(await last).toEqual({value: undefined, done: true});
	});

	it('hands over everything before the end, and before an error', async () => {
		const queue = new ItemQueue();
		queue.push(item(1));
		queue.fail(new Error('gone'));
		queue.push(item(2));
		const batches = queue.batches();
		expect((await batches.next()).value).toEqual([item(1)]);
		await expect(batches.next()).rejects.toThrow('gone');
	});
});

describe('memorySource', () => {
	it('gives its items in batches, as they are', async () => {
		const items = Array.from({length: 10}, (_, n) => item(n));
		const source = memorySource(items, {name: 'test'}, 4);
		const sizes: number[] = [];
		for await (const batch of source.batches()) sizes.push(batch.length);
		expect(sizes).toEqual([4, 4, 2]);
		expect(await readAll(source)).toEqual(items);
		expect(source.info).toEqual({kind: 'simulator', name: 'test', timing: 'measured', baud: null});
	});

	it('stops when it is closed', async () => {
		const source = memorySource([item(1), item(2)], {}, 1);
		const batches = source.batches()[Symbol.asyncIterator]();
		expect((await batches.next()).value).toEqual([item(1)]);
		await source.close();
		expect(source.closed).toBe(true);
		expect((await batches.next()).done).toBe(true);
	});
});
