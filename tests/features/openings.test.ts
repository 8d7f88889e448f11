import {expect, test} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {type Course, through} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';
import {fiveFingers} from '../gloves/five-fingers.ts';

// Check-values D5.4, baseline-drift: the slope after Theil and Sen over all openings, times their number.

/** Fists that each open to the next of these levels, % FS. */
const openingTo = (levels: readonly number[]): Course =>
	through(
		[1, levels[0]],
		...levels.flatMap((level, k): [number, number][] => [
			[1.4 + 2 * k, 80],
			[2 + 2 * k, 80],
			[2.4 + 2 * k, level],
			[3 + 2 * k, level],
		]),
	);

function openingsAt(levels: readonly number[]) {
	const times = levels.length;
	const features = featuresOver({
		channels: fiveFingers({ring: openingTo(levels)}, {times}),
		seconds: 2 * times + 2,
		noise: 0,
	});
	return {
		count: features.openings.count[3],
		change: () => features.openings.changeAsShare(features, 3) ?? Number.NaN,
		isLess: (share: number) => features.openings.hasChangedLess(features, 3, share),
	};
}

test('a level that moves on once, half-way through six openings, has changed by one and a half times the step', () => {
	// Of its 15 pairs 6 do not differ, and 9 do by the step over 1, 2, 2, 3, 3, 3, 4, 4 and 5: the eighth slope is a quarter of the step.
	const {count, change, isLess} = openingsAt([20, 20, 20, 28, 28, 28]);
	expect(count).toBe(6);
	expect([0.1, 0.15, 0.18].map(isLess)).toEqual([false, false, false]);
	// Of a span of 60 % FS.
	expect(change() / ((1.5 * 8) / 60)).toBeCloseTo(1, 1);
});

test.each(Array.from({length: 4}, (_, seed) => seed + 1))(
	'a change is said to be less than a share only where it is (drawn openings %i)',
	seed => {
		const random = new Random(seed);
		const step = random.uniform(0, 2);
		const levels = Array.from({length: 6 + (seed % 5)}, (_, k) => 20 + step * k + random.uniform(0, 6));
		const {change, isLess} = openingsAt(levels);
		const shares = Array.from({length: 40}, (_, k) => 0.01 * (k + 1));
		const said = shares.filter(isLess);
		expect(said.length).toBeGreaterThan(0);
		expect(Math.min(...said)).toBeGreaterThan(Math.abs(change()));
	},
);

test('a level that is the same each time has changed less than by a tenth, at the first question', () => {
	expect(openingsAt([20, 20, 20, 20, 20, 20]).isLess(0.1)).toBe(true);
});
