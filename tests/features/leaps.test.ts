import {describe, expect, it} from 'vitest';
import {Leaps} from '../../source/features/leaps.ts';

function feed(leaps: Leaps, a: number, readings: readonly number[], from: number): void {
	for (let i = 3; i < readings.length; i++)
		leaps.step(a, readings[i - 3], readings[i - 2], readings[i - 1], readings[i], from + i, 60);
}

describe('leaps in mid-travel', () => {
	it('a dead stretch from 500 to 600 is found at its levels, up and down apart', () => {
		const leaps = new Leaps(1);
		for (let n = 0; n < 3; n++) {
			feed(leaps, 0, [460, 480, 500, 600, 620, 640], 100 * n);
			feed(leaps, 0, [600, 580, 560, 460, 440, 420], 100 * n + 50);
		}
		expect(leaps.since(0, true, 0)).toEqual({count: 3, start: 500, stop: 600, scatter: 0});
		expect(leaps.since(0, false, 0)).toEqual({count: 3, start: 560, stop: 460, scatter: 0});
	});
	it('a quick even movement has none: its steps are alike', () => {
		const leaps = new Leaps(1);
		feed(leaps, 0, [100, 200, 300, 400, 500], 0);
		expect(leaps.since(0, true, 0).count).toBe(0);
	});
	it('leaps of several channels in one frame are a lost frame', () => {
		const leaps = new Leaps(2);
		for (const a of [0, 1]) feed(leaps, a, [460, 480, 500, 600, 620, 640], 0);
		expect(leaps.sharedSince(0, 0)).toBe(1);
	});
});
