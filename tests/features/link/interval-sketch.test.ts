import {quantile} from 'simple-statistics';
import {describe, expect, test} from 'vitest';
import {IntervalSketch} from '../../../source/features/link/interval-sketch.ts';

function sketchOf(values: readonly number[]): IntervalSketch {
	const sketch = new IntervalSketch();
	for (const value of values) sketch.add(value);
	return sketch;
}

describe('quantiles in constant memory', () => {
	test('are exact where all intervals are equal', () => {
		expect(sketchOf(new Array(1000).fill(0.01)).quantile(0.5)).toBeCloseTo(0.01, 12);
	});

	test('type 7 on the worked example: 0.4 of 15, 20, 35, 40, 50 is 29', () => {
		// Hyndman and Fan 1996; here in milliseconds. Bins are 0.5 % wide, single values are exact.
		const sketch = sketchOf([15, 20, 35, 40, 50].map(ms => ms / 1000));
		expect(1000 * (sketch.quantile(0.4) ?? 0)).toBeCloseTo(29, 9);
	});

	test('stay within 0.5 % of a second implementation on a skewed sample', () => {
		// A fixed linear congruential sequence, so that the sample is the same each time.
		let state = 12345;
		const values = Array.from({length: 5000}, () => {
			state = (state * 1103515245 + 12345) % 2 ** 31;
			return 0.002 + 0.05 * (state / 2 ** 31) ** 4;
		});
		const sketch = sketchOf(values);
		for (const p of [0.05, 0.25, 0.5, 0.95, 0.99]) {
			const reference = quantile(values, p);
			expect(Math.abs((sketch.quantile(p) ?? 0) / reference - 1)).toBeLessThan(0.005);
		}
		expect(sketch.largest).toBe(Math.max(...values));
	});

	test('an empty sketch has none', () => {
		expect(new IntervalSketch().quantile(0.5)).toBeUndefined();
	});
});
