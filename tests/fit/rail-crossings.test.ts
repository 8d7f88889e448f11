import {describe, expect, it} from 'vitest';
import {RailCrossings} from '../../source/fit/rail-crossings.ts';
import {minimumJerk} from '../../source/simulator/axis.ts';

/** Five movements there and back, of which the first `share` of the way lies between the rails; 1 s each, 200 frames/s. */
function crossing(share: number): RailCrossings {
	const crossings = new RailCrossings();
	for (let i = 0; i < 5 * 800; i++) {
		const t = i / 200;
		const phase = t % 4;
		const way = phase < 2 ? minimumJerk(phase) : 1 - minimumJerk(phase - 2);
		crossings.push(t, Math.min(1, way / share));
	}

	return crossings;
}

describe('RailCrossings', () => {
	// 10u³ − 15u⁴ + 6u⁵ solved by hand for 20, 60 and 98 % of the way read: see docs/fit.md.
	it.each([
		[1, 1.385],
		[0.9, 1.026],
		[0.75, 0.854],
		[0.5, 0.733],
	])('of a minimum-jerk movement whose first %f is read is %f towards the rail that cuts it off', (share, ratio) => {
		expect(crossing(share).ratio('high')).toBeCloseTo(ratio, 1);
	});

	it('sees a whole braking towards the rail where the finger really ends', () => {
		expect(crossing(0.5).ratio('low')).toBeGreaterThan(1.3);
	});

	it('says nothing from fewer than four crossings', () => {
		const crossings = new RailCrossings();
		for (let i = 0; i < 3 * 800; i++) {
			const phase = (i / 200) % 4;
			crossings.push(i / 200, phase < 2 ? minimumJerk(phase) : 1 - minimumJerk(phase - 2));
		}

		expect(crossings.ratio('high')).toBeUndefined();
	});
});
