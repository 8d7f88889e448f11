import {expect, test} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import {type Course, type Drawing, fists, found, held, sessionOver, through} from '../gloves/draw.ts';

// Check-values D5.4, dropout: three jumps of 20 % FS that come back within 60 ms, within a minute; or two stretches at an end of
// the scale, entered and left by leaps that no ordinary step comes near.

const hand = {thumb: 50, index: 72, middle: 80, little: 66};
const works = (closed: number, times = 6): Course => fists({open: 30, closed, times});
const glove = (ring: Course, more: Partial<Drawing> = {}, others: Record<string, Course> = {}): Drawing => ({
	channels: {
		...Object.fromEntries(Object.entries(hand).map(([name, closed]) => [name, works(closed)])),
		ring,
		...others,
	},
	seconds: 16,
	...more,
});

/** A course that leaps to another level for some seconds at each of these times. */
const leaping =
	(course: Course, at: readonly number[], to: (level: number) => number, seconds: number): Course =>
	t =>
		at.some(start => t >= start - 1e-9 && t < start + seconds - 1e-9) ? to(course(t)) : course(t);

const up = (by: number) => (level: number) => level + by;
const zero = () => 0;
/** While the hand is open: between openings and closings of `works`. */
const open = [0.5, 2.7, 4.7, 6.7, 8.7, 10.7];

/** To and fro all the time at one speed: every step is as long as the fastest. */
const sawing =
	(stepPercent: number, rate: number): Course =>
	t => {
		const way = (t * rate * stepPercent) % 80;
		return 22 + (way < 40 ? way : 80 - way);
	};
/** Times at which `sawing` is at its lowest. */
const turns = (stepPercent: number, rate: number): number[] => [3, 6].map(k => (k * 80) / (stepPercent * rate));

/**
 * Fists of 58 % FS in this time, open at 22 %. At 100 frames a second the quickest of their steps are 58 × 1.875/(100 × way) of
 * full scale (minimum jerk): 5.4 % for 0.2 s, 9 % for 0.12 s.
 */
const snapping = (way: number): Course => fists({open: 22, closed: 80, times: 8, way, period: 1.6});

/** Fists so slow that 20 frames a second show them, and a stretch at zero at each of these times. */
const rarely = (...at: readonly number[]): Drawing =>
	glove(
		leaping(fists({open: 30, closed: 75, times: 3, way: 1, period: 4}), at, zero, 0.5),
		{seconds: at[at.length - 1] + 5, rate: 20},
		Object.fromEntries(
			Object.entries(hand).map(([name, closed]) => [name, fists({open: 30, closed, times: 3, way: 1, period: 4})]),
		),
	);

const fires: readonly [title: string, drawing: Drawing, who?: string][] = [
	['three jumps by 22 % for 20 ms', glove(leaping(works(75), open.slice(0, 3), up(22), 0.02))],
	['three jumps of 60 ms', glove(leaping(works(75), open.slice(0, 3), up(40), 0.06))],
	['three jumps to zero within a minute', glove(leaping(works(75), [0.5, 20, 50], zero, 0.02), {seconds: 52})],
	['single frames at 30 frames a second', glove(leaping(works(75), open.slice(0, 3), zero, 1 / 30), {rate: 30})],
	[
		'a stick axis that jumps',
		glove(works(75), {}, {'stick-x': leaping(held(50), open.slice(0, 3), zero, 0.02), 'stick-y': held(50)}),
		'stick-x',
	],
	['two stretches at zero', glove(leaping(works(75), [4.7, 8.7], zero, 0.25))],
	// 307 without its 3 and its 0 is 7 as well: a line does not lose the same digits for a quarter second.
	['two stretches just above zero', glove(leaping(works(75), [4.7, 8.7], () => 0.7, 0.25))],
	[
		'two stretches of seconds at the top',
		glove(
			leaping(works(75), [4.7, 10.7], () => 100, 4),
			{seconds: 18},
		),
	],
	['two stretches by 22 %', glove(leaping(fists({open: 22, closed: 75, times: 6}), [4.7, 8.7], zero, 0.25))],
	[
		'two stretches where one other finger rests at zero',
		glove(leaping(works(75), [4.7, 8.7], zero, 0.25), {}, {index: fists({open: 0, closed: 72, times: 6})}),
	],
	[
		'leaps of four times what a quick finger goes from frame to frame',
		glove(leaping(snapping(0.2), [0.4, 9, 12.2], zero, 0.3)),
	],
	['two stretches at zero within ten minutes', rarely(20, 580)],
	['leaps of 5.5 ordinary steps', glove(leaping(sawing(4, 100), turns(4, 100), zero, 0.2))],
];

test.each(fires)('is raised: %s', (_title, drawing, who = 'ring') => {
	expect(found(sessionOver(drawing))).toContain(`dropout ${who}`);
});

/** Taps of 71 ms a way, in rows of seven a second. */
const taps: Course = t => {
	const phase = (t % 2) * 7;
	return phase < 7 ? 30 + 25 * (1 - Math.cos(2 * Math.PI * phase)) : 30;
};

const quiet: readonly [title: string, drawing: Drawing][] = [
	['two jumps', glove(leaping(works(75), open.slice(0, 2), up(40), 0.02))],
	['three jumps by 17 %', glove(leaping(works(75), open.slice(0, 3), up(17), 0.02))],
	['three jumps of 120 ms', glove(leaping(works(75), open.slice(0, 3), up(40), 0.12))],
	['three jumps in 70 s', glove(leaping(works(75), [0.5, 35.5, 70.5], up(40), 0.02), {seconds: 72})],
	['rows of taps at 100 frames a second', glove(taps)],
	['rows of taps at 36 frames a second', glove(taps, {rate: 36})],
	['rows of taps at 25 frames a second', glove(taps, {rate: 25})],
	['rows of taps at 21 frames a second, a third of which each tap takes', glove(taps, {rate: 21})],
	['rows of taps at 10 frames a second', glove(taps, {rate: 10})],
	['noise of 4 % rms', glove(works(75), {noise: {ring: 4}})],
	['two stretches at zero eleven minutes apart', rarely(20, 680)],
	['one stretch at zero', glove(leaping(works(75), [4.7], zero, 0.25))],
	['two stretches by 17 %', glove(leaping(fists({open: 17, closed: 75, times: 6}), [4.7, 8.7], zero, 0.25))],
	['leaps of 3.6 ordinary steps, counted over two frames', glove(leaping(sawing(14, 100), turns(14, 100), zero, 0.2))],
	[
		'leaps of 2.4 times what a finger goes from frame to frame that snaps',
		glove(leaping(snapping(0.12), [0.4, 9, 12.2], zero, 0.3)),
	],
	[
		'an end that two other fingers use',
		glove(
			leaping(works(75), [4.7, 8.7], zero, 0.25),
			{},
			{index: fists({open: 0, closed: 72, times: 6}), middle: fists({open: 0, closed: 80, times: 6})},
		),
	],
	[
		'a stick that is pushed to its stop in two frames and let go',
		glove(works(75), {}, {'stick-x': leaping(held(50), [3, 5, 7], () => 100, 0.4), 'stick-y': held(50)}),
	],
	['a finger that goes to zero and back in its own time', glove(fists({open: 0, closed: 75, times: 6}))],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(name => name.startsWith('dropout'))).toEqual([]);
});

test('is over a minute after the last jump, and then dated back to it', () => {
	const session = sessionOver(glove(leaping(works(75), open.slice(0, 4), up(40), 0.02), {seconds: 75}));
	const [finding] = session.findings.filter(({code}) => code === 'dropout');
	// When it fell, not when it came back 20 ms later.
	expect(finding.from).toBeCloseTo(0.5, 3);
	expect(finding.to).toBeCloseTo(6.72, 2);
});

test('waits for three movements of the channel', () => {
	const ring = through([1, 30], [1.4, 75], [2, 75], [2.4, 30]);
	const row = checkRows(sessionOver(glove(ring))).find(({code, channel}) => code === 'dropout' && channel === 'ring');
	expect(row).toMatchObject({state: 'waiting', seen: 2, needed: 3, next: 'move ring there and back'});
});

test('tells how long the longest stretch lay, and how far it leapt', () => {
	const ring = leaping(leaping(works(75), [4.7], zero, 0.25), [8.7], zero, 0.5);
	const finding = sessionOver(glove(ring)).findings.find(({code}) => code === 'dropout');
	expect(finding?.summary).toBe('ring leapt to zero and back 2 times, and lay there for up to 0.5 s.');
	expect(finding?.evidence).toMatchObject({stretches: 2, longestSeconds: 0.5, leapPercentFs: expect.closeTo(30, 0)});
});
