import {expect, test} from 'vitest';
import {featuresOver} from '../gloves/features-over.ts';
import {fistsOf, fiveFingers} from '../gloves/five-fingers.ts';

test('fingers that stop at one level are told as soon as anybody asks, and as often', () => {
	const stopped = (name: 'index' | 'middle' | 'ring') => (t: number) => Math.min(66, fistsOf(name, {closed: 80})(t));
	const features = featuresOver({
		channels: fiveFingers({index: stopped('index'), middle: stopped('middle'), ring: stopped('ring')}),
		fullScale: 4095,
		seconds: 10,
	});
	for (const _ of [1, 2]) {
		const {fingers, level} = features.ceilings.group(features, 0.02);
		expect([fingers, Math.round(features.percent(level))]).toEqual([[1, 2, 3], 66]);
	}
});
