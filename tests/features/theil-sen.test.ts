import fc from 'fast-check';
import {median} from 'simple-statistics';
import {describe, expect, it} from 'vitest';
import {errorOfChange, theilSenSlope} from '../../source/features/theil-sen.ts';
import {Random} from '../../source/simulator/random.ts';

describe('the slope after Theil and Sen', () => {
	// Check-values Q20: of 28 pairs the mean of the middle two.
	it('is 1 for 1, 2, 3, 4, 50, where least squares has 10', () => {
		expect(theilSenSlope([1, 2, 3, 4, 50])).toBe(1);
	});
	it('is 2.0083 for a line of slope 2 with one value far off', () => {
		expect(theilSenSlope([0.1, 1.9, 4.2, 5.8, 8.1, 30, 12.2, 13.9])).toBeCloseTo(2.0083333333, 9);
	});
	it('is the median of the slopes of all pairs, as an independent library has it', () => {
		fc.assert(
			fc.property(fc.array(fc.integer({min: -99, max: 99}), {minLength: 2, maxLength: 40}), values => {
				const slopes = values.flatMap((value, i) => values.slice(i + 1).map((later, k) => (later - value) / (k + 1)));
				expect(theilSenSlope(values)).toBeCloseTo(median(slopes), 9);
			}),
		);
	});
	it('takes the first `count` values only, and is NaN below two', () => {
		expect(theilSenSlope([0, 3, 6, -50], 3)).toBe(3);
		expect(theilSenSlope([7], 1)).toBeNaN();
	});
	// Second method: two thousand drawn rows of twelve values without any trend.
	it('scatters times the count by the error that is told', () => {
		const random = new Random(3);
		let squares = 0;
		for (let k = 0; k < 2000; k++) {
			const row = Array.from({length: 12}, () => random.normal(0, 4));
			squares += (12 * theilSenSlope(row)) ** 2;
		}
		expect(Math.sqrt(squares / 2000) / errorOfChange(4, 12)).toBeCloseTo(1, 1);
	});
});
