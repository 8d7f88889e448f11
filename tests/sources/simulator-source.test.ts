import {describe, expect, test} from 'vitest';
import {simulate} from '../../source/simulator/simulate.ts';
import {simulatorSource} from '../../source/sources/simulator-source.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {benchSpec} from '../simulator/bench.ts';

async function collect(batches: AsyncIterable<readonly SourceItem[]>): Promise<SourceItem[]> {
	const items: SourceItem[] = [];
	for await (const batch of batches) items.push(...batch);
	return items;
}

describe('simulatorSource', () => {
	test('gives the items of the simulation, unpaced', async () => {
		const spec = benchSpec([], {seconds: 5});
		const source = simulatorSource(spec, {paced: false});
		expect(await collect(source.batches())).toEqual(simulate(spec).items);
		expect(source.info).toMatchObject({kind: 'simulator', timing: 'measured', baud: 115200});
	});

	test('gives the same items at the times they carry, paced', async () => {
		const spec = benchSpec([], {seconds: 0.3});
		const source = simulatorSource(spec, {paced: true});
		const startedAt = performance.now();
		const early: number[] = [];
		const items: SourceItem[] = [];
		for await (const batch of source.batches()) {
			for (const item of batch) early.push(item.t - source.now!());
			items.push(...batch);
		}
		expect(items).toEqual(simulate(spec).items);
		// Never more than its tick before time.
		expect(Math.max(...early)).toBeLessThan(0.006);
		expect(performance.now() - startedAt).toBeGreaterThan(290);
	});

	test('stops when it is closed, and when its signal says so', async () => {
		const spec = benchSpec([], {seconds: 600});
		const source = simulatorSource({...spec, durationSeconds: Number.POSITIVE_INFINITY}, {paced: true});
		let batches = 0;
		for await (const _batch of source.batches()) if (++batches === 3) await source.close();
		expect(batches).toBe(3);
		const stop = new AbortController();
		const other = simulatorSource(spec, {paced: true, signal: stop.signal});
		for await (const _batch of other.batches()) stop.abort();
		expect(other.now!()).toBeLessThan(5);
	});
});
