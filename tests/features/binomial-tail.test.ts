import {expect, test} from 'vitest';
import {binomialTail} from '../../source/features/binomial-tail.ts';

test.each([
	// 1 − 0.9⁵ and 0.5¹⁰, worked by hand.
	[5, 1, 0.1, 0.40951],
	[10, 10, 0.5, 1 / 1024],
	// Three or more sixes with four dice: (4 · 5 + 1) / 6⁴.
	[4, 3, 1 / 6, 21 / 1296],
	// Of two others, both within a third.
	[2, 2, 1 / 3, 1 / 9],
])('of %i tries at least %i hit', (tries, least, each, chance) => {
	expect(binomialTail(tries, least, each)).toBeCloseTo(chance, 12);
});

test('what is sure is sure, and what can’t be has no chance', () => {
	expect(binomialTail(3, 0, 0.2)).toBe(1);
	expect(binomialTail(3, 4, 0.2)).toBeCloseTo(0, 12);
	expect(binomialTail(3, 3, 1)).toBe(1);
	expect(binomialTail(2, 3, 1)).toBe(0);
});
