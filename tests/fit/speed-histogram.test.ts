import {describe, expect, it} from 'vitest';
import {SpeedHistogram} from '../../source/fit/speed-histogram.ts';

describe('SpeedHistogram', () => {
	it('gives the top speed of a sine within a bin of π · frequency · span', () => {
		const speeds = new SpeedHistogram();
		// 1 Hz over the whole scale: top speed π full scales a second.
		for (let i = 0; i < 2000; i++) speeds.push(i / 200, 500 - 500 * Math.cos((2 * Math.PI * i) / 200), 1000);
		const top = speeds.quantile(0.999, 0.25)!;
		expect(Math.abs(Math.log2(top / Math.PI))).toBeLessThan(1 / 8);
	});

	it('counts only time in which it moved', () => {
		const speeds = new SpeedHistogram();
		for (let i = 0; i < 1000; i++) speeds.push(i / 100, 500, 1000);
		expect(speeds.quantile(0.9, 0.25)).toBeUndefined();
	});
});
