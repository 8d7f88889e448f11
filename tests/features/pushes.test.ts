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
