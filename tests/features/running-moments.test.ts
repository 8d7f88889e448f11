import * as statistics from 'simple-statistics';
import {describe, expect, test} from 'vitest';
import {RunningMoments} from '../../source/features/running-moments.ts';
import {norris} from './norris.ts';

/** Certified and computed digits: the log of the relative error, base 10 (as NIST states agreement). */
function digits(found: number, certified: number): number {
	return found === certified ? 16 : -Math.log10(Math.abs(found - certified) / Math.abs(certified));
}

function feed(values: readonly number[]): RunningMoments {
	const moments = new RunningMoments();
	for (const value of values) moments.add(value);
	return moments;
}

const deviation = (moments: RunningMoments): number => Math.sqrt(moments.variance ?? Number.NaN);
const alternating = (first: number, low: number, high: number): number[] => [
	first,
	...Array.from({length: 1000}, (_, i) => (i % 2 === 0 ? low : high)),
];

// NIST StRD, univariate: Mavro, values above 2 in units of 1e-5.
const mavro =
	'180 170 180 190 180 170 150 140 150 150 170 180 180 190 190 210 200 160 140 130 130 150 150 160 150 140 130 140 150 140 150 160 150 160 190 200 200 210 220 230 240 250 270 260 260 260 270 260 250 240'
		.split(' ')
		.map(value => 2 + Number(value) * 1e-5);

describe('running moments against NIST StRD (univariate sets)', () => {
	test('NumAcc1 is exact: mean 10000002, sd 1', () => {
		const moments = feed([10_000_001, 10_000_003, 10_000_002]);
		expect(moments.mean).toBe(10_000_002);
		expect(deviation(moments)).toBe(1);
	});

	test('NumAcc2, 3 and 4 agree to what the rounded inputs allow', () => {
		// The best a double can do on these inputs is 15.56, 9.457 and 8.253 digits.
		expect(digits(deviation(feed(alternating(1.2, 1.1, 1.3))), 0.1)).toBeGreaterThan(14.5);
		expect(digits(deviation(feed(alternating(1_000_000.2, 1_000_000.1, 1_000_000.3))), 0.1)).toBeGreaterThan(9.4);
		expect(digits(deviation(feed(alternating(10_000_000.2, 10_000_000.1, 10_000_000.3))), 0.1)).toBeGreaterThan(8.2);
	});

	test('Mavro: certified mean 2.001856, sd 0.000429123454003053', () => {
		const moments = feed(mavro);
		expect(digits(moments.mean, 2.001856)).toBeGreaterThan(14);
		expect(digits(deviation(moments), 0.000429123454003053)).toBeGreaterThan(12);
	});

	test('merging blocks gives what adding one by one gives', () => {
		const whole = feed(norris);
		const merged = new RunningMoments();
		for (let start = 0; start < norris.length; start += 7) {
			const block = norris.slice(start, start + 7);
			merged.merge(block.length, statistics.mean(block), statistics.sumNthPowerDeviations(block, 2));
		}
		expect(merged.count).toBe(whole.count);
		expect(digits(merged.mean, whole.mean)).toBeGreaterThan(13);
		expect(digits(merged.variance ?? 0, statistics.sampleVariance(norris))).toBeGreaterThan(13);
	});
});

test('a non-finite reading is rejected and changes nothing else', () => {
	const moments = feed([2, Number.NaN, 4, Number.POSITIVE_INFINITY, 9]);
	expect(moments).toMatchObject({count: 3, rejected: 2, mean: 5});
	expect(moments.variance).toBe(13);
});

test('below two readings there is no variance', () => {
	expect(feed([]).variance).toBeUndefined();
	expect(feed([7]).variance).toBeUndefined();
});
