import {expect, test} from 'vitest';
import {Resampler} from '../../source/frames/resampler.ts';

/** Rows `t:value` of frames `[t, value]` on a grid. */
function resampled(rate: number, frames: readonly (readonly [number, number])[]): string[] {
	const rows: string[] = [];
	const resampler = new Resampler(rate, (t, values) => void rows.push(`${t}:${values[0]}`));
	for (const [t, value] of frames) resampler.frame(t, Float64Array.of(value));
	resampler.end();
	return rows;
}

test('holds the latest reading at even times, and mixes none', () => {
	expect(
		resampled(10, [
			[0.03, 1],
			[0.13, 2],
			[0.2, 3],
			[0.31, 4],
		]),
	).toEqual(['0.1:1', '0.2:3', '0.3:3']);
	expect(
		resampled(20, [
			[0, 1],
			[0.1, 2],
		]),
	).toEqual(['0:1', '0.05:1', '0.1:2']);
});

test('holds nothing through an outage of 200 ms and five intervals', () => {
	const rows = resampled(10, [
		[0, 1],
		[0.02, 2],
		[0.04, 3],
		[1, 4],
		[1.02, 5],
	]);
	expect(rows).toEqual(['0:1', '0.1:3', '0.2:3', '1:4']);
});

test('a slow stream of one frame in 150 ms is no outage', () => {
	const frames = Array.from({length: 10}, (_, i) => [i * 0.15, i] as const);
	expect(resampled(20, frames)).toHaveLength(28);
});
