import {expect, test} from 'vitest';
import {type Drawing, held} from '../gloves/draw.ts';
import {featuresOf, takeIn} from '../gloves/features-over.ts';

test('a stick that is held aside for the first quarter second, whenever that was, rests where it lies for the ten after it', () => {
	for (const from of [0, 100]) {
		const drawing: Drawing = {
			channels: {'stick-x': t => (t < from + 0.25 ? 58 : 50), 'stick-y': held(50)},
			fullScale: 1000,
			seconds: from + 10,
		};
		const features = featuresOf(drawing);
		takeIn(features, drawing, from);
		expect(features.stick?.restPoint('x')).toBeCloseTo(500, 0);
	}
});
