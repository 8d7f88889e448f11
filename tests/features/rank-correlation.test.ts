import fc from 'fast-check';
import {sampleRankCorrelation} from 'simple-statistics';
import {describe, expect, it} from 'vitest';
import {rankCorrelation} from '../../source/features/rank-correlation.ts';

describe('the rank correlation with order', () => {
	it('is 1 where each is above the one before, −1 where each is below', () => {
		expect(rankCorrelation([3, 5, 5.5, 900])).toBe(1);
		expect(rankCorrelation([3, 2, 1, -7])).toBe(-1);
	});
	it('is −29/165 for the hours in order of the table of check-values Q23', () => {
		// IQ 86, 97, 99, 100, 101, 103, 106, 110, 112, 113 in that order; the hours beside them.
		expect(rankCorrelation([2, 20, 28, 27, 50, 29, 7, 17, 6, 12])).toBeCloseTo(-29 / 165, 12);
	});
	it('is what an independent library has, also where values are equal', () => {
		fc.assert(
			fc.property(fc.array(fc.integer({min: 0, max: 12}), {minLength: 2, maxLength: 50}), values => {
				fc.pre(new Set(values).size > 1);
				const order = values.map((_, i) => i);
				expect(rankCorrelation(values)).toBeCloseTo(sampleRankCorrelation(values, order), 9);
			}),
		);
	});
	it('is 0 where all are equal, and below two values', () => {
		expect(rankCorrelation([4, 4, 4])).toBe(0);
		expect(rankCorrelation([4])).toBe(0);
	});
});
