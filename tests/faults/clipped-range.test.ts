import {expect, test} from 'vitest';
import {type Course, type Drawing, found, sessionOver, through} from '../gloves/draw.ts';
import {type FingerName, fistsOf, fiveFingers} from '../gloves/five-fingers.ts';

// Check-values D5.4, clipped-range: flat at a rail for at least 10 % of the moving time; silent where the firmware puts fingers at
// the rails, which most of them show.

const glove = (
	own: Partial<Record<FingerName, Course>>,
	{times = 4, seconds = 2 * times + 2}: {times?: number; seconds?: number} = {},
): Drawing => ({
	channels: fiveFingers(own, {times}),
	// On 10 bit three fingers at the top may be 12-bit readings limited to 10.
	fullScale: 4095,
	seconds,
});

/** Grasps that open again at once, each closing to one of these levels in turn: beyond 100 lies past the end of the track. */
const grasps = (open: number, ...closed: readonly number[]): Course =>
	through(
		...closed.flatMap((level, k): [number, number][] => {
			const at = 1 + 2 * k;
			return [
				[at, open],
				[at + 0.4, level],
				[at + 0.5, level],
				[at + 0.9, open],
			];
		}),
	);

test.each<[string, Drawing, string[]]>([
	['every grasp runs into the end, 13 % of the moving time', glove({ring: grasps(30, 101, 101, 101, 101)}), ['ring']],
	['the closed end lies far beyond the track', glove({ring: fistsOf('ring', {closed: 125})}), ['ring']],
	['the open hand lies beyond the low end', glove({ring: fistsOf('ring', {open: -20})}), ['ring']],
	[
		'after three closings and three openings',
		glove({ring: fistsOf('ring', {closed: 125, times: 3})}, {times: 3}),
		['ring'],
	],
	[
		'half of the other fingers run into it as well: three reels are fitted wrongly',
		glove({
			thumb: fistsOf('thumb', {closed: 120}),
			index: fistsOf('index', {closed: 115}),
			ring: fistsOf('ring', {closed: 125}),
		}),
		['index', 'ring', 'thumb'],
	],
])('is raised: %s', (_title, drawing, channels) => {
	expect(found(sessionOver(drawing))).toEqual(channels.map(channel => `clipped-range ${channel}`));
});

test.each<[string, Drawing]>([
	['a finger that ends just short of the rail', glove({ring: fistsOf('ring', {closed: 98})})],
	['one that touches it in every other grasp, 7 % of the moving time', glove({ring: grasps(30, 101, 90, 101, 90)})],
	[
		'fractions of one: who sends them has scaled them',
		{...glove({ring: fistsOf('ring', {closed: 125})}), fullScale: 1, whole: false},
	],
	['five movements', glove({ring: fistsOf('ring', {closed: 125, times: 3})}, {times: 3, seconds: 6.1})],
	[
		'three of the other four end at a rail too: that is where the firmware puts them',
		glove({
			thumb: fistsOf('thumb', {closed: 120}),
			index: fistsOf('index', {closed: 115}),
			middle: fistsOf('middle', {closed: 118}),
			ring: fistsOf('ring', {closed: 125}),
		}),
	],
	[
		'all fingers but one reach both rails: the firmware scales them, the must not',
		glove({
			thumb: fistsOf('thumb', {open: 0, closed: 100}),
			index: fistsOf('index', {open: 0, closed: 100}),
			ring: fistsOf('ring', {open: 0, closed: 100}),
			little: fistsOf('little', {open: 0, closed: 100}),
		}),
	],
])('is silent: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(name => name.startsWith('clipped-range'))).toEqual([]);
});

test('waits for six movements of the whole hand', () => {
	const drawing = glove({ring: fistsOf('ring', {closed: 125, times: 2})}, {times: 2});
	const {checks} = sessionOver(drawing).snapshot();
	expect(checks.find(({code, channel}) => code === 'clipped-range' && channel === 'ring')).toMatchObject({
		state: 'waiting',
		seen: 4,
		needed: 6,
		next: 'open and close the whole hand',
	});
});
