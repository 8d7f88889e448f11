import {mean, sampleCorrelation, standardDeviation} from 'simple-statistics';
import {describe, expect, test} from 'vitest';
import {Random, Wander} from '../../source/simulator/random.ts';

describe('Random', () => {
	test('gives the published sequence of xoshiro128** from the state 1, 2, 3, 4', () => {
		// Source: the reference implementation, version 1.1 (Blackman and Vigna), as the Rust project's rand_xoshiro quotes it.
		const random = Random.fromState(1, 2, 3, 4);
		const numbers = Array.from({length: 10}, () => random.bits());
		expect(numbers).toEqual([
			11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
		]);
	});

	test('gives the same numbers for the same seed and others for another', () => {
		const draw = (seed: number): number[] => {
			const random = new Random(seed);
			return Array.from({length: 20}, () => random.bits());
		};
		expect(draw(42)).toEqual(draw(42));
		expect(draw(42)).not.toEqual(draw(43));
	});

	test('normal numbers have the mean, the spread and the tails of a Gaussian', () => {
		const random = new Random(1);
		const values = Array.from({length: 40000}, () => random.normal(3, 2));
		// Five standard errors: 2/√40000 = 0.01 for the mean, 2/√80000 for the deviation.
		expect(mean(values)).toBeCloseTo(3, 1);
		expect(Math.abs(mean(values) - 3)).toBeLessThan(0.05);
		expect(Math.abs(standardDeviation(values) - 2)).toBeLessThan(0.036);
		// 2.5758 deviations hold 99 % (check-values Q27).
		const outside = values.filter(value => Math.abs(value - 3) > 2 * 2.5758293035).length / values.length;
		expect(Math.abs(outside - 0.01)).toBeLessThan(0.0025);
	});

	test('a fork does not move its parent, and forks with different names are unrelated', () => {
		const random = new Random(9);
		const a = random.fork('a');
		const b = random.fork('b');
		const first = Array.from({length: 2000}, () => a.normal());
		const second = Array.from({length: 2000}, () => b.normal());
		expect(Math.abs(sampleCorrelation(first, second))).toBeLessThan(0.12);
		expect(random.bits()).toBe(new Random(9).bits());
	});

	test('weights decide how often an item is picked', () => {
		const random = new Random(4);
		let heavy = 0;
		for (let i = 0; i < 10000; i++)
			if (
				random.weighted([
					['heavy', 3],
					['light', 1],
				]) === 'heavy'
			)
				heavy++;
		expect(Math.abs(heavy / 10000 - 0.75)).toBeLessThan(0.025);
	});
});

describe('Wander', () => {
	test('keeps its deviation and forgets with its correlation time, whatever the step', () => {
		for (const step of [0.01, 0.1]) {
			const wander = new Wander(new Random(5), 2, 0.2);
			const values = Array.from({length: 40000}, (_, i) => wander.at(i * step));
			expect(Math.abs(standardDeviation(values) - 2)).toBeLessThan(0.25);
			// Autocorrelation over one step of an Ornstein–Uhlenbeck process is exp(−step/τ).
			const r = sampleCorrelation(values.slice(0, -1), values.slice(1));
			expect(Math.abs(r - Math.exp(-step / 0.2))).toBeLessThan(0.02);
		}
	});
});
