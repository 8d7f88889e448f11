import {describe, expect, it} from 'vitest';
import {Excursions, isEatenDigit} from '../../source/features/excursions.ts';

function run(readings: readonly number[], rate = 100, whole = false): Excursions {
	const excursions = new Excursions(1);
	excursions.least = -20;
	excursions.most = 1043;
	readings.forEach((reading, i) => {
		if (i > 0) excursions.step(0, readings[i - 1], reading, i / rate, 184, rate, whole, readings[Math.max(0, i - 2)]);
	});
	return excursions;
}

describe('jumps that come back', () => {
	it('one frame of 0 amid 500 is one, from 500 by −500', () => {
		const found = run([500, 501, 0, 500, 501]);
		expect(found.count[0]).toBe(1);
		expect(found.bases[0]).toBe(501);
		expect(found.heights[0]).toBe(-501);
	});
	it('60 ms are one, 200 ms are a break', () => {
		expect(run([500, ...Array(6).fill(900), 500]).count[0]).toBe(1);
		const broken = run([500, ...Array(20).fill(900), 500]);
		expect(broken.count[0]).toBe(0);
		expect(broken.brokeAt[0]).toBeCloseTo(0.01, 6);
	});
	it('a ramp is none, however steep on the whole', () => {
		expect(run([300, 400, 500, 600, 700, 600, 500, 400, 300]).count[0]).toBe(0);
	});
	it('at 30 frames a second a tap of 80 % in one frame is no contact', () => {
		// Minimum-jerk tap of 64 ms a way, sampled every 33 ms: at most 0.8 of the way in one frame.
		expect(run([100, 180, 500, 420, 100], 30).count[0]).toBe(0);
		expect(run([100, 100, 500, 100, 100], 30).count[0]).toBe(1);
	});
	it('a reading beyond the rails is the line’s, not the sensor’s', () => {
		const found = run([512, 512, 512_498, 512, 512]);
		expect(found.count[0]).toBe(1);
		expect(found.since(0, 0, 0)).toBe(0);
	});
});

describe('a lost digit', () => {
	it.each([
		[512, 52, true],
		[512, 12, true],
		[512, 51, true],
		// A neighbour of what was expected: 513 without its last.
		[510, 53, true],
		[1023, 123, true],
		[512, 300, false],
		[512, 0, false],
		[512, -52, false],
		[50, 5, false],
	])('%i read as %i: %s', (expected, reading, eaten) => {
		expect(isEatenDigit(expected, reading)).toBe(eaten);
	});
});
