import {describe, expect, it} from 'vitest';
import {countTurns} from '../../source/faults/count-turns.ts';

describe('turns of a signal', () => {
	it('counts two for each period of a sinusoid, whatever its direction at the start', () => {
		const sine = (phase: number): number[] => Array.from({length: 1000}, (_, i) => Math.sin(0.05 * i + phase));
		// 50 radians are 7.96 periods: 15 or 16 extremes; the last leg may fall short.
		for (const phase of [0, 1, 2, 3, 4, 5, 6]) {
			expect(countTurns(sine(phase), 0.7)).toBeGreaterThanOrEqual(14);
			expect(countTurns(sine(phase), 0.7)).toBeLessThanOrEqual(16);
		}
	});
	it('counts by hand: up 5, down 3, up 4 is two turns; none if they must be larger', () => {
		expect(countTurns([0, 2, 5, 4, 2, 3, 6], 2)).toBe(2);
		expect(countTurns([0, 2, 5, 4, 2, 3, 6], 4)).toBe(0);
	});
	it('sees no turn in a ramp or a constant', () => {
		expect(countTurns([1, 2, 3, 4], 1)).toBe(0);
		expect(countTurns([4, 4, 4], 1)).toBe(0);
		expect(countTurns([], 1)).toBe(0);
	});
});
