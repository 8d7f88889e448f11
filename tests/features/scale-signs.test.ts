import {expect, test} from 'vitest';
import {fingersAtTenBit, fingersNearTenBit} from '../../source/features/scale-signs.ts';
import {held} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';
import {fistsOf, fiveFingers} from '../gloves/five-fingers.ts';

// Check-values D5.4, wrong-full-scale: of a board of 10 bit that is taken for one of 12 fingers reach 1000.

test.each([
	[1000, 2, 3],
	[999, 2, 0],
	[1000, 1, 0],
])('of three fingers that end at %i counts, %i times, %i are near the top of 10 bit', (counts, times, expected) => {
	const ended = (name: 'index' | 'middle' | 'ring') => fistsOf(name, {closed: (100 * counts) / 4095, open: 5, times});
	const features = featuresOver({
		channels: fiveFingers({
			thumb: fistsOf('thumb', {closed: 20, open: 5}),
			index: ended('index'),
			middle: ended('middle'),
			ring: ended('ring'),
			little: fistsOf('little', {closed: 20, open: 5}),
		}),
		fullScale: 4095,
		noise: 0,
		seconds: 10,
	});
	expect(fingersNearTenBit(features)).toBe(expected);
});

test('a finger that lies at 1023 for half of the time does so for at least half, and not for more', () => {
	const features = featuresOver({
		channels: {thumb: t => (t < 5 ? 100 : 60), index: held(60), middle: held(100)},
		noise: 0,
		seconds: 10,
	});
	expect([0.49, 0.5, 0.51].map(share => fingersAtTenBit(features, share))).toEqual([2, 2, 1]);
});
