import {expect, test} from 'vitest';
import {featuresOver} from '../gloves/features-over.ts';
import {fiveFingers} from '../gloves/five-fingers.ts';

test('of five movements three go together at most as well as the middle one, and all at most as well as can be', () => {
	const {agreement} = featuresOver({channels: fiveFingers({}, {times: 3}), seconds: 7});
	expect(agreement.measured(3)).toBe(5);
	const middle = agreement.median(3) ?? Number.NaN;
	expect(middle).toBeGreaterThan(0.8);
	expect([agreement.against(3, middle), agreement.against(3, 1), agreement.against(3, -1)]).toEqual([3, 5, 0]);
});
