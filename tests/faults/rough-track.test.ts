import {expect, test} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import {type Course, type Drawing, fists, found, sessionOver, sum, through} from '../gloves/draw.ts';

// Check-values D5.4, rough-track: at least 60 kinks a minute of movement and 1.6 times their rate outside it, in 6 s of movement.

/** Slowly to and fro without a rest, two seconds a way. */
const sweeps = (closed: number, ways = 12): Course =>
	through(...Array.from({length: ways + 1}, (_, k) => [1 + 2 * k, k % 2 === 0 ? 25 : closed] as const));

const glove = (ring: Course, more: Partial<Drawing> = {}, others: Record<string, Course> = {}): Drawing => ({
	channels: {thumb: sweeps(50), index: sweeps(72), middle: sweeps(80), ring, little: sweeps(66), ...others},
	seconds: 26,
	rate: 50,
	...more,
});

/** One frame (at 50 a second) off by `height`, so many times a minute, from one time to another. */
const crackling =
	(course: Course, perMinute: number, height: number, from = 0, to = 1000): Course =>
	t => {
		const gap = 60 / perMinute;
		const k = Math.floor((t - from) / gap);
		const isKink = t >= from && t < to && t - from - k * gap < 0.02 - 1e-9;
		return course(t) + (isKink ? (k % 2 === 0 ? height : -height) : 0);
	};

/** Ten seconds of movement, then rest. */
const moved = sweeps(75, 5);

const fires: readonly [title: string, drawing: Drawing][] = [
	['80 kinks a minute of movement', glove(crackling(sweeps(75), 80, 6))],
	['after eight seconds of movement', glove(crackling(sweeps(75), 110, 6), {seconds: 9.8})],
	['twice as many as at rest', glove(crackling(crackling(moved, 150, 6, 0, 11), 70, 6, 11.5), {seconds: 26})],
	['two frames off at a time', {...glove(crackling(sweeps(75), 80, 6)), rate: 100}],
	['a finger that uses 20 % of the scale', glove(crackling(sweeps(45), 80, 2.5))],
];

test.each(fires)('is raised: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing))).toContain('rough-track ring');
});

const shared = (closed: number): Course => crackling(sweeps(closed), 120, 6);
const tapping: Course = t => 30 + 25 * (1 - Math.cos(2 * Math.PI * 5 * t));

const quiet: readonly [title: string, drawing: Drawing][] = [
	['a smooth track', glove(sweeps(75))],
	['45 kinks a minute of movement', glove(crackling(sweeps(75), 45, 6))],
	['five seconds of movement', glove(crackling(sweeps(75), 110, 6), {seconds: 6})],
	[
		'150 a minute in movement beside 115 at rest',
		glove(
			crackling(
				crackling(
					sum(moved, t => moved(t - 20) - 25),
					115,
					6,
					11.5,
					20.5,
				),
				150,
				6,
				21,
			),
			{seconds: 31},
		),
	],
	['kinks of 1.3 % FS', glove(crackling(sweeps(45), 120, 1.3))],
	['kinks of 4 % of its span', glove(crackling(sweeps(90), 120, 2.6))],
	['kinks that another channel shares', glove(shared(75), {}, {index: shared(72)})],
	['noise of 1 % FS, which has kinks of its own size', glove(sweeps(75), {noise: {ring: 1}})],
	['fists at three a second', glove(fists({open: 25, closed: 75, times: 60, period: 0.33, way: 0.16}))],
	[
		'fists at three a second, at 33 frames a second',
		glove(fists({open: 25, closed: 75, times: 60, period: 0.33, way: 0.16}), {rate: 33}),
	],
	['tapping at five a second, at 20 frames a second', glove(tapping, {rate: 20})],
	['tapping at five a second, at 33 frames a second', glove(tapping, {rate: 33})],
	['steps of a firmware that smooths over a grid of 2 % FS', glove(t => 2 * Math.round(sweeps(75)(t) / 2), {noise: 0})],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(name => name.startsWith('rough-track'))).toEqual([]);
});

test('ends with its last kink', () => {
	const session = sessionOver(glove(crackling(sweeps(75, 40), 110, 6, 0, 20), {seconds: 80}));
	const [finding] = session.findings.filter(({code}) => code === 'rough-track');
	expect(finding.to).toBeGreaterThan(19);
	expect(finding.to).toBeLessThan(20.1);
});

test('waits for six seconds of movement', () => {
	const row = checkRows(sessionOver(glove(through([1, 25], [3, 75], [5, 25])))).find(
		({code, channel}) => code === 'rough-track' && channel === 'ring',
	);
	expect(row).toMatchObject({state: 'waiting', needed: 6, next: 'bend and stretch ring slowly for some seconds'});
});
