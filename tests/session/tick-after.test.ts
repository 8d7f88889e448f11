import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {firstTickAfter, tickAfter} from '../../source/session/tick-after.ts';

describe('the grid of stream time', () => {
	it('has every step for two minutes after the last byte', () => {
		for (let tick = 100.25; tick < 220; tick = tickAfter(tick, 0.25, 100)) expect(tick * 4).toBe(Math.round(tick * 4));
		let ticks = 0;
		for (let tick = 100.25; tick <= 220; tick = tickAfter(tick, 0.25, 100)) ticks++;
		expect(ticks).toBe(480);
	});

	it('has half as many in each doubling of the silence, by hand: steps of 2 from two minutes, of 4 from four', () => {
		expect(tickAfter(120, 0.25, 0)).toBe(120.5);
		expect(tickAfter(239.5, 0.25, 0)).toBe(240);
		expect(tickAfter(240, 0.25, 0)).toBe(241);
		expect(tickAfter(480, 0.25, 0)).toBe(482);
	});

	it('takes as many steps for each doubling, so that thirty years cost 23 times what four minutes do', () => {
		let ticks = 0;
		for (let tick = 0; tick < 1e9; tick = tickAfter(tick, 0.25, 0)) ticks++;
		// log2(1e9 / 120) = 22.99 doublings of 240 steps, after the first 480.
		expect(ticks).toBeGreaterThan(480 + 22 * 240 - 10);
		expect(ticks).toBeLessThan(480 + 23 * 240 + 10);
	});

	it('moves on from any moment by less than a step and lands on the grid', () => {
		fc.assert(
			fc.property(fc.double({min: 0, max: 1e6, noNaN: true}), t => {
				const tick = firstTickAfter(t, 0.25);
				expect(tick).toBeGreaterThan(t);
				expect(tick - t).toBeLessThanOrEqual(0.25 + 1e-6);
				expect(Number.isInteger(tick * 4)).toBe(true);
			}),
		);
	});
});
