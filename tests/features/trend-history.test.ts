import {describe, expect, it} from 'vitest';
import {FrameHistory} from '../../source/features/frame-history.ts';
import {TrendHistory} from '../../source/features/trend-history.ts';

/** Frames of one column at 100 a second; `reading` of the frame's number. */
function trendOf(frames: number, reading: (frame: number) => number, bulk = 1000): TrendHistory {
	const history = new FrameHistory(1);
	const trend = new TrendHistory(1);
	for (let n = 0; n < frames; n++) {
		history.push(n / 100 + 0.001, Float64Array.of(reading(n)), 0);
		if (n % bulk === 0) trend.take(history);
	}
	trend.take(history);
	return trend;
}

describe('the trend of a channel', () => {
	it('keeps a single reading among an hour of others, and when it came', () => {
		const trend = trendOf(360_000, n => (n === 123_456 ? 900 : 500 + (n % 3)));
		const buckets = trend.read(0, 0, 3600, 100, 3600);
		expect(buckets.findIndex(({high}) => high === 900)).toBe(Math.floor(1234.56 / 36));
		expect(buckets.filter(({high}) => high === 900)).toHaveLength(1);
		expect(buckets.every(({low}) => low === 500)).toBe(true);
	});
	it('is the same however many frames are taken at once', () => {
		const reading = (n: number): number => (n * 7919) % 1024;
		const one = trendOf(20_000, reading, 1).read(0, 100, 200, 50, 200);
		expect(trendOf(20_000, reading, 1024).read(0, 100, 200, 50, 200)).toEqual(one);
		const lowest = Math.min(...Array.from({length: 200}, (_, i) => reading(10_000 + i)));
		expect(one[0].low).toBe(lowest);
	});
	it('a missing reading hides none of its neighbours', () => {
		const trend = trendOf(10, n => (n === 2 ? 40 : n === 3 ? Number.NaN : 100 + n));
		expect(trend.read(0, 0, 0.1, 1, 0.1)).toEqual([{low: 40, high: 109}]);
		expect(trendOf(5, () => Number.NaN).read(0, 0, 0.05, 1, 0.05)).toEqual([{low: Number.NaN, high: Number.NaN}]);
	});
	it('is each column’s own', () => {
		const history = new FrameHistory(3);
		const trend = new TrendHistory(3);
		for (let n = 0; n < 100; n++) history.push(n / 100 + 0.001, Float64Array.of(100 + n, 500 - n, 7), 0);
		trend.take(history);
		const told = [0, 1, 2].map(column => trend.read(column, 0, 1, 2, 1));
		expect(told).toEqual([
			[
				{low: 100, high: 149},
				{low: 150, high: 199},
			],
			[
				{low: 451, high: 500},
				{low: 401, high: 450},
			],
			[
				{low: 7, high: 7},
				{low: 7, high: 7},
			],
		]);
	});
});
