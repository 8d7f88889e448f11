import {expect, test} from 'vitest';
import {othersAtFirmwaresTop} from '../../source/features/scaling.ts';
import {featuresOver} from '../gloves/features-over.ts';
import {fistsOf, fiveFingers} from '../gloves/five-fingers.ts';

// Check-values D5.4: tops that are alike at 50 to 95 % FS are a supply's (shared-ceiling); where firmware ends is told by the others.

test.each([
	['firmware that maps to 1000 of 1023', 97.8, 3],
	['the highest that is still a ceiling', 95, 0],
	['3.3 V against 5 V', 66, 0],
	['the lowest that is still a ceiling', 50, 0],
	['firmware that maps to 180 of 409', 44, 3],
	['full scale itself', 100, 0],
])('fingers that end alike are at an end of the firmware’s own, or none of them is: %s', (_, level, expected) => {
	const ended = (name: 'index' | 'middle' | 'little') => fistsOf(name, {closed: level, times: 2});
	const features = featuresOver({
		channels: fiveFingers({
			thumb: fistsOf('thumb', {closed: 40, times: 2}),
			index: ended('index'),
			middle: ended('middle'),
			ring: fistsOf('ring', {closed: 38, times: 2}),
			little: ended('little'),
		}),
		fullScale: 5000,
		noise: 0,
		seconds: 6,
	});
	expect(othersAtFirmwaresTop(features, 3)).toBe(expected);
});
