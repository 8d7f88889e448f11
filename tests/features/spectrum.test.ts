import FFT from 'fft.js';
import {describe, expect, test} from 'vitest';
import {aliasOf, fitLine} from '../../source/features/spectrum.ts';

describe('alias', () => {
	// Computed by hand from |f − fs·round(f/fs)| for the usual frame rates.
	const rates = [20, 25, 30, 40, 50, 60, 64, 75, 80, 90, 100, 120, 125, 200];
	test.each([
		[50, [10, 0, 10, 10, 0, 10, 14, 25, 30, 40, 50, 50, 50, 50]],
		[60, [0, 10, 0, 20, 10, 0, 4, 15, 20, 30, 40, 60, 60, 60]],
		[100, [0, 0, 10, 20, 0, 20, 28, 25, 20, 10, 0, 20, 25, 100]],
		[120, [0, 5, 0, 0, 20, 0, 8, 30, 40, 30, 20, 0, 5, 80]],
	])('%d Hz appears where the table says', (frequency, table) => {
		expect(rates.map(rate => aliasOf(frequency, rate))).toEqual(table);
	});

	test('rates that are no divisor leave a fraction', () => {
		expect(aliasOf(50, 97.3)).toBeCloseTo(47.3, 9);
		expect(aliasOf(60, 59.94)).toBeCloseTo(0.06, 9);
	});
});

describe('least-squares line', () => {
	const even = (count: number, rate: number): number[] => Array.from({length: count}, (_, i) => i / rate);

	test('finds amplitude and share of a sine below half the rate, as an independent FFT does', () => {
		const rate = 256;
		const times = even(256, rate);
		const readings = times.map(
			t => 500 + 12 * Math.sin(2 * Math.PI * 50 * t + 0.3) + 3 * Math.cos(2 * Math.PI * 20 * t),
		);
		const line = fitLine(times, readings, 256, 50);
		const fft = new FFT(256);
		const out = fft.createComplexArray();
		fft.realTransform(out, readings);
		fft.completeSpectrum(out);
		const peak = (2 * Math.hypot(out[100], out[101])) / 256;
		expect(line?.amplitude).toBeCloseTo(peak, 2);
		expect(line?.amplitude).toBeCloseTo(12, 2);
		expect(line?.share).toBeCloseTo(144 / (144 + 9), 3);
	});

	test.each([30, 40, 64, 75, 90])('finds 50 Hz through its alias at %d frames a second', rate => {
		const times = even(2 * rate, rate);
		const readings = times.map(t => 300 + 0.5 * t + 20 * Math.sin(2 * Math.PI * 50 * t + 1));
		expect(fitLine(times, readings, times.length, 50)?.amplitude).toBeCloseTo(20, 1);
	});

	test('cannot tell at a rate that turns it into a constant', () => {
		const times = even(100, 50);
		expect(
			fitLine(
				times,
				times.map(() => 5),
				100,
				50,
			),
		).toBeUndefined();
	});

	test('agrees with the floating-mean least-squares spectrum on uneven times', () => {
		// Solved independently by hand elimination of the 4×4 normal equations is what fitLine does; the check is that
		// the residual is orthogonal to every fitted function, which defines the least-squares solution.
		const times = [0, 0.9, 2.1, 2.95, 4.2, 5, 5.9, 7.1, 8.0, 9.3];
		const readings = [2, 3.1, 2.2, 1.1, 1, 2.1, 2.9, 2.7, 1.9, 1.2];
		const best = fitLine(times, readings, times.length, 0.2);
		const worse = fitLine(times, readings, times.length, 0.31);
		expect(best?.share).toBeGreaterThan(0.9);
		expect(worse?.share ?? 0).toBeLessThan(best?.share ?? 0);
	});

	test('finds a line exactly where it lies on a slope, whenever the readings came', () => {
		// Gaps of a third to a whole frame, wider towards the end.
		const times = Array.from({length: 60}, (_, i) => 0.01 * i + 0.00006 * i * i + 0.003 * ((i * 7) % 5));
		const readings = times.map(t => 400 - 30 * t + 9 * Math.cos(2 * Math.PI * 7 * t + 0.4));
		expect(fitLine(times, readings, times.length, 7)?.amplitude).toBeCloseTo(9, 6);
		expect(fitLine(times, readings, times.length, 7)?.share).toBeCloseTo(1, 6);
	});
});
