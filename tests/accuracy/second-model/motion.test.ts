import {expect, test} from 'vitest';
import {Random} from '../../../source/simulator/random.ts';
import {unrest} from './involuntary.ts';
import {follow, minimumJerk} from './strokes.ts';

test('the path of least jerk begins, is half done and ends on time, and has no corner', () => {
	expect(minimumJerk(-1)).toBe(0);
	// By hand: (1/4)³ × (10 − 15/4 + 6/16) = 6.625/64.
	expect(minimumJerk(0.25)).toBeCloseTo(6.625 / 64, 12);
	expect(minimumJerk(0.5)).toBe(0.5);
	expect(minimumJerk(2)).toBe(1);
	expect(minimumJerk(0.001)).toBeLessThan(1.1e-8);
});

test('a stroke ends where it was meant to, also where it began before the last one was over', () => {
	const path = follow(
		[
			{finger: 'ring', start: 0, seconds: 1, target: 1},
			{finger: 'ring', start: 0.6, seconds: 0.5, target: 0.2},
		],
		200,
		100,
	);
	expect(path[0]).toBe(0);
	expect(path[50]).toBeCloseTo(0.5, 12);
	expect(path[199]).toBeCloseTo(0.2, 12);
	expect(Math.max(...path)).toBeLessThan(1);
});

test('unrest has the strength that was asked for, and lies below 3 Hz', () => {
	const rate = 100;
	const path = unrest(new Random(3), 20_000, rate, 0.8, 0.25);
	const power = (row: Float64Array): number => row.reduce((sum, value) => sum + value * value, 0) / row.length;
	expect(Math.sqrt(power(path))).toBeCloseTo(0.25, 9);
	// A mean over a third of a second takes away what is quicker than 3 Hz (its first zero).
	const width = 33;
	const quick = Float64Array.from({length: path.length - width}, (_, k) => {
		let sum = 0;
		for (let n = 0; n < width; n++) sum += path[k + n];
		return path[k + (width - 1) / 2] - sum / width;
	});
	expect(power(quick) / power(path)).toBeLessThan(0.1);
});
