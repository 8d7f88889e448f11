import {describe, expect, it} from 'vitest';
import {Ends} from '../../source/features/ends.ts';
import {runsOf} from './run-of.ts';

/** Minimum-jerk way from 0 to 1 (Flash and Hogan 1985): 10u³ − 15u⁴ + 6u⁵. */
const minimumJerk = (u: number): number => u ** 3 * (10 - 15 * u + 6 * u * u);

/** Four closings and openings of half a second each between 100 and 900, the top cut off at `limit`; 100 frames/s. */
function closings(limit: number, length = 4096): Ends {
	const ends = new Ends(1);
	const readings: number[] = [];
	for (let n = 0; n < 4; n++) {
		for (let i = 0; i <= 50; i++) readings.push(100 + 800 * minimumJerk(i / 50));
		for (let i = 0; i <= 50; i++) readings.push(900 - 800 * minimumJerk(i / 50));
	}
	const cut = readings.map(reading => Math.min(limit, reading));
	// Ends known beforehand, as after the first movements.
	ends.widen(0, 100, 100, 5);
	ends.widen(0, Math.min(900, limit), Math.min(900, limit), 5);
	for (const run of runsOf(cut, length)) ends.take(0, run, {band: 5, way: 240, lag: 3, slice: 7});
	return ends;
}

describe('arrivals at the ends', () => {
	it('a finger that brakes arrives softly', () => {
		const ends = closings(Number.POSITIVE_INFINITY);
		expect(ends.arrivals[1]).toBe(4);
		expect(ends.sharpHigh(0, 2)).toBe(0);
	});
	it('whole blocks and single readings give the same arrivals', () => {
		for (const limit of [Number.POSITIVE_INFINITY, 660]) {
			const single = closings(limit, 1);
			for (const length of [2, 11, 25, 50]) {
				const ends = closings(limit, length);
				expect([...ends.arrivals, ...ends.sharp]).toEqual([...single.arrivals, ...single.sharp]);
			}
		}
	});
	it('a reading cut off at 70 % of its way is stopped dead every time, and its other end is not', () => {
		const ends = closings(660);
		expect(ends.arrivals[1]).toBe(4);
		expect(ends.sharpHigh(0, 2)).toBe(1);
		expect(ends.sharpLow(0, 2)).toBe(0);
	});
	it('a lone glitch does not widen the range: a whole slice must lie beyond', () => {
		const ends = new Ends(1);
		ends.widen(0, 400, 410, 5);
		ends.widen(0, 405, 1023, 5);
		expect(ends.span(0)).toBe(0);
		ends.widen(0, 600, 620, 5);
		expect(ends.high[0]).toBe(600);
	});
});
