import {expect, test} from 'vitest';
import type {Drawing} from '../gloves/draw.ts';
import {featuresOf, takeIn} from '../gloves/features-over.ts';
import {fistsOf, fiveFingers} from '../gloves/five-fingers.ts';

// Check-values D2: nothing learned in one epoch judges the next, and a channel that is forgotten begins one.

const glove: Drawing = {
	channels: fiveFingers({ring: fistsOf('middle', {times: 8})}, {times: 8}),
	noise: 0.03,
	seconds: 18,
};

test.each([
	['middle', 2],
	['ring', 3],
])('two channels that read the same are compared anew once %s has been forgotten', (_, forgotten) => {
	const features = featuresOf(glove);
	takeIn(features, glove, 0, 8);
	expect(features.equalPairs.of(features, 3, 4)).toMatchObject({with: 2, share: 1, from: 0});
	features.forget(forgotten);
	expect(features.equalPairs.of(features, 3, 0)).toBeUndefined();
	takeIn(features, glove, 8);
	// They read the same from the beginning of their epoch: four trips are enough, and no twelve.
	expect(features.equalPairs.of(features, 3, 4)).toMatchObject({with: 2, from: 8});
});

test('a channel that is forgotten takes nothing from two others', () => {
	const features = featuresOf(glove);
	takeIn(features, glove, 0, 8);
	features.forget(0);
	features.forget(4);
	expect(features.equalPairs.of(features, 3, 4)).toMatchObject({with: 2, from: 0});
});
