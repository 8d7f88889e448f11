import {expect, test} from 'vitest';
import {type Course, fists, held} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';

// Check-values D5.4, crosstalk: what each way of a finger does to the channel read just after it.

const little = fists({open: 20, closed: 75, times: 4});
const pushed: Course = t => 50 + (4 / 55) * (little(t) - 20);

/** Ways of the little finger that tell whether it pushes the stick. */
function chances(stickX: Course): number {
	const drawing = {channels: {thumb: held(20), little, 'stick-x': stickX, 'stick-y': held(50)}, seconds: 10};
	return featuresOver(drawing).pushes.count[2];
}

test('a way during which a channel’s readings are missing is no chance to see it pushed', () => {
	expect(chances(pushed)).toBe(8);
	// The second closing.
	expect(chances(t => (t > 2.9 && t < 3.5 ? Number.NaN : pushed(t)))).toBe(7);
});

/** Ways that begin at once and end slowly, as a door that is pulled shut: a tenth of a second to go two thirds of what is left. */
const creeping: Course = t => {
	const since = t - Math.floor(t);
	const shut = 1 - Math.exp(-since / 0.1);
	return 20 + 55 * (t < 1 || t >= 9 ? 0 : Math.floor(t) % 2 === 1 ? shut : 1 - shut);
};

test.each([0, 0.5, 1])('a finger that follows the one before it %f frames later is told by how many', frames => {
	const ring: Course = t => 20 + 0.4 * (creeping(t - frames / 200) - 20);
	const {pushes} = featuresOver({
		channels: {thumb: held(20), middle: creeping, ring},
		rate: 200,
		fullScale: 65_535,
		noise: 0.01,
		seconds: 11,
	});
	expect(pushes.delay(2)).toBeCloseTo(frames, 1);
});
