import fc from 'fast-check';
import {mean, sumSimple} from 'simple-statistics';
import {describe, expect, it} from 'vitest';
import {meanOf, sumOf} from '../../source/math/sums.ts';

/** Whole numbers, whose sums are exact in any order. */
const someNumbers = fc.array(fc.integer({min: -1000, max: 1000}), {minLength: 1, maxLength: 40});

describe('the sum and the mean', () => {
	it('are what an independent library has', () => {
		fc.assert(
			fc.property(someNumbers, list => {
				expect(sumOf(list)).toBe(sumSimple(list));
				expect(sumOf(Float64Array.from(list))).toBe(sumSimple(list));
				expect(meanOf(list)).toBeCloseTo(mean(list), 9);
			}),
		);
	});
	it('of nothing are 0 and none', () => {
		expect([sumOf([]), meanOf([])]).toEqual([0, Number.NaN]);
	});
});
