import {expect, test} from 'vitest';
import {type Course, type Drawing, held, through} from '../gloves/draw.ts';
import {featuresOf, featuresOver, takeIn} from '../gloves/features-over.ts';

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

/** An axis that rests in the middle and is pushed to each of these levels in turn for half a second, from a time on. */
const pushedTo = (from: number, ...levels: readonly number[]): Course =>
	through(
		...levels.flatMap((level, k): [number, number][] => [
			[from + 1.5 * k, 50],
			[from + 1.5 * k + 0.1, level],
			[from + 1.5 * k + 0.5, level],
			[from + 1.5 * k + 0.6, 50],
		]),
	);

test('pushes are counted by axis and side, with those that end like the farthest of their side', () => {
	const features = featuresOver({
		channels: {'stick-x': pushedTo(2, 20, 20.4, 19.8, 90, 75), 'stick-y': pushedTo(10, 85, 85.3, 70, 84.8)},
		seconds: 18,
	});
	const {stick} = features;
	expect([stick?.pushCount(0), stick?.pushCount(1)]).toEqual([5, 4]);
	const told = ([0, 1] as const).flatMap(a =>
		([0, 1] as const).map(side => {
			const {pushes, alike} = stick?.straightPushes(a, side, 0.03) ?? {};
			return [pushes, alike];
		}),
	);
	expect(told).toEqual([
		[3, 3],
		[2, 1],
		[0, 0],
		[4, 3],
	]);
});

test('a light push that is held until the next full one is not where the stick came to rest', () => {
	const light = [58, 54, 60, 55];
	const points = light.flatMap((level, k): [number, number][] => {
		const at = 2 + 3 * k;
		return [
			[at, k === 0 ? 50 : light[k - 1]],
			[at + 0.1, 90],
			[at + 0.5, 90],
			[at + 0.6, 50],
			[at + 1.6, 50],
			[at + 1.8, level],
		];
	});
	const {stick} = featuresOver({channels: {'stick-x': through(...points), 'stick-y': held(50)}, seconds: 15});
	expect(stick?.releaseCount).toBe(4);
	expect(((stick?.scatter(0, 64) ?? Number.NaN) / 1023) * 100).toBeLessThan(0.5);
});
