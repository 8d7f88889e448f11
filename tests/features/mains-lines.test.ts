import {expect, test} from 'vitest';
import {showsMains} from '../../source/features/mains-lines.ts';
import {type Course, held, sum} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';

// From the table of aliases (check-values N8), worked by hand: |f − fs·round(f/fs)| is 2 Hz or more for 50 or for 60 Hz.
test.each([
	[10, false],
	[20, true],
	[25, true],
	[30, true],
	[50, true],
	[59.94, true],
	[60, true],
	[100, true],
])('at %s frames a second a mains line shows: %s', (rate, shows) => {
	expect(showsMains(rate)).toBe(shows);
});

/** Mains of 6 % FS peak on a level that is held. */
const humming: Course = sum(held(45), t => 6 * Math.sin(2 * Math.PI * 50.1 * t));
const peakOf = (ring: Course, rate = 125, seconds = 9): number => {
	const features = featuresOver({channels: {thumb: held(20), ring}, rate, seconds});
	return features.percent(features.mainsLines.peak(1));
};

test.each([125, 220, 500, 800, 1000])('the peak of a line is told, at %i frames a second', rate => {
	expect(peakOf(humming, rate)).toBeCloseTo(6, 0);
});

test('readings that are missing for eight seconds say nothing of a line that was there before', () => {
	expect(peakOf(t => (t > 3.999 && t < 12 ? Number.NaN : humming(t)), 125, 13)).toBeCloseTo(6, 0);
});
