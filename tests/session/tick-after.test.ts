import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {firstTickAfter, tickAfter} from '../../source/session/tick-after.ts';

describe('the grid of stream time', () => {
	it('has every step for ten minutes after the last byte', () => {
		for (let tick = 100.25; tick < 700; tick = tickAfter(tick, 0.25, 100)) expect(tick * 4).toBe(Math.round(tick * 4));
		let ticks = 0;
		for (let tick = 100.25; tick <= 700; tick = tickAfter(tick, 0.25, 100)) ticks++;
		expect(ticks).toBe(2400);
	});

	it('has half as many in each doubling of the silence, by hand: steps of 2 from ten minutes, of 4 from twenty', () => {
		expect(tickAfter(600, 0.25, 0)).toBe(600.5);
		expect(tickAfter(1199.5, 0.25, 0)).toBe(1200);
		expect(tickAfter(1200, 0.25, 0)).toBe(1201);
		expect(tickAfter(2400, 0.25, 0)).toBe(2402);
	});

	it('takes as many steps for each doubling, so that thirty years cost 21 times what ten minutes do', () => {
		let ticks = 0;
		for (let tick = 0; tick < 1e9; tick = tickAfter(tick, 0.25, 0)) ticks++;
		// log2(1e9 / 600) = 20.7 doublings of 1200 steps, after the first 2400.
		expect(ticks).toBeGreaterThan(2400 + 20 * 1200 - 10);
		expect(ticks).toBeLessThan(2400 + 21 * 1200 + 10);
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
