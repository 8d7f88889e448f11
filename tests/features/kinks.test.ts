import {expect, test} from 'vitest';
import {type Course, type Drawing, fists, held} from '../gloves/draw.ts';
import {featuresOf, takeIn} from '../gloves/features-over.ts';

// Check-values D5.4, rough-track: kinks a minute of movement. A kink is one or two frames off the mean of their neighbours.

/** Crackles in the middle of each way, 0.4 s after it begins. */
const crackling: Course = t => {
	const since = (Math.round(100 * t) - 100) % 100;
	return fists({open: 20, closed: 75, times: 5, way: 0.8})(t) + (t > 1 && t < 11 && since === 40 ? 8 : 0);
};
const glove: Drawing = {channels: {thumb: held(20), ring: crackling}, seconds: 18};

test('kinks are counted once, though the stream pauses for five seconds in between', () => {
	const features = featuresOf(glove);
	takeIn(features, glove, 0, 12);
	const before = features.kinks.perMinute(1);
	expect(before).toBeGreaterThan(60);
	for (let end = 12.25; end <= 17; end += 0.25) features.closeBlock(end);
	takeIn(features, glove, 17);
	expect(features.kinks.perMinute(1)).toBe(before);
});
