import fc from 'fast-check';
import {median, quantileSorted} from 'simple-statistics';
import {describe, expect, it} from 'vitest';
import {medianOf, nthSmallest, quantileOf, upperMedianOf} from '../../source/math/nth-smallest.ts';

describe('the n-th smallest', () => {
	it('is what sorting finds, whatever the order and however often values repeat', () => {
		fc.assert(
			fc.property(fc.array(fc.integer({min: -9, max: 9}), {minLength: 1, maxLength: 60}), fc.nat(), (list, seed) => {
				const n = seed % list.length;
				const sorted = [...list].sort((one, other) => one - other);
				expect(nthSmallest(Float64Array.from(list), list.length, n)).toBe(sorted[n]);
			}),
		);
	});
	it('gives the median of an odd count, as an independent library has it', () => {
		const list = [7.5, 1023, 0, 512, 512, 3, 88, 91, -4];
		const sorted = [...list].sort((one, other) => one - other);
		expect(nthSmallest(Float64Array.from(list), 9, 4)).toBe(quantileSorted(sorted, 0.5));
	});
	it('leaves alone what lies behind the count', () => {
		const values = Float64Array.of(3, 2, 1, -5);
		expect(nthSmallest(values, 3, 0)).toBe(1);
		expect(values[3]).toBe(-5);
	});
});

describe('the median', () => {
	it('is what an independent library has for odd and even counts, and leaves its values alone', () => {
		fc.assert(
			fc.property(fc.array(fc.integer({min: -50, max: 50}), {minLength: 1, maxLength: 40}), list => {
				const before = [...list];
				expect(medianOf(list)).toBe(median(list));
				expect(list).toEqual(before);
			}),
		);
	});
	it('of a stretch looks at nothing else, and of nothing is none', () => {
		expect(medianOf([99, 1, 5, 3, 99], 1, 3)).toBe(3);
		expect(medianOf([])).toBeNaN();
	});
});

describe('the upper median', () => {
	it('is the value that half of them or more do not exceed and that was there, and leaves the order alone', () => {
		fc.assert(
			fc.property(fc.array(fc.integer({min: -50, max: 50}), {minLength: 1, maxLength: 40}), list => {
				const before = [...list];
				const sorted = [...list].sort((one, other) => one - other);
				expect(upperMedianOf(list)).toBe(sorted[Math.floor(list.length / 2)]);
				expect(list).toEqual(before);
			}),
		);
	});
	it('of nothing is none', () => {
		expect(upperMedianOf([])).toBeNaN();
	});
});

describe('a quantile', () => {
	it('lies between the two nearest in order: the list of Hyndman & Fan in check-values Q14', () => {
		const list = [20, 3, 16, 6, 15, 7, 13, 8, 10, 8];
		expect([0.05, 0.25, 0.5, 0.75, 0.95].map(share => quantileOf(list, 10, share))).toEqual(
			[4.35, 7.25, 9, 14.5, 18.2].map(value => expect.closeTo(value, 9)),
		);
		expect([quantileOf(list, 10, 0), quantileOf(list, 10, 1), quantileOf(list, 0, 0.5)]).toEqual([3, 20, Number.NaN]);
	});
});
