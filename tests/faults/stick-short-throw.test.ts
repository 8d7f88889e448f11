import {expect, test} from 'vitest';
import {type Drawing, found, held, sessionOver} from '../gloves/draw.ts';
import {along, pushed, type Stick, stopped, turned} from '../gloves/thumb-stick.ts';

// Check-values D5.4, stick-short-throw: 60 % of half scale or less on a side, after two turns, after three pushes that end
// alike, or after two pushes to each of four short sides.

const glove = (stick: Stick, more: Partial<Drawing> = {}): Drawing => ({
	channels: {thumb: held(20), ...stick},
	seconds: 16,
	...more,
});
const throws = (drawing: Drawing): string[] => found(sessionOver(drawing)).filter(code => code.startsWith('stick'));
/** Two pushes to each side at these ends. */
const four = (end: number, times: number): Stick =>
	pushed([
		...along(
			'x',
			new Array<number>(2 * times).fill(end).map((x, i) => (i % 2 === 0 ? x : -x)),
		),
		...along(
			'y',
			new Array<number>(2 * times).fill(end).map((y, i) => (i % 2 === 0 ? y : -y)),
			3 + 2 * times,
		),
	]);
/** So many pushes, slowly one after the other: at one a second what small ones do looks like a pin that wanders. */
const slowly = (times: number, x: number): Stick =>
	pushed(Array.from({length: times}, (_, i) => ({at: 3 + 2.5 * i, x})));
const onX = ['stick-short-throw stick-x'];

const board = {fullScale: 4095, noise: 0.34};

test.each([
	['a side stopped at 60 %, turned around twice', stopped(turned(2.1), 'stick-x', 0, 80), onX],
	[
		'a side that gives nothing at all, turned around four times: half of each turn is seen',
		stopped(turned(4.2), 'stick-x', 50, 100),
		onX,
	],
	['three pushes that end at a stop', pushed(along('x', [60, 59, 58.5])), onX],
	['three pushes to a stop, ends as far apart as a thumb makes them', pushed(along('x', [50, 47.4, 47.4])), onX],
	['four of six pushes end at the stop', pushed(along('x', [50, 30, 50, 40, 50, 50])), onX],
	['seven small pushes that end alike', slowly(7, 30), onX, {seconds: 22}],
	['two pushes to each of four short sides', four(55, 2), [...onX, 'stick-short-throw stick-y']],
	[
		'a gimbal that stops at 45 % all round, turned around twice',
		turned(2.1, 45),
		[...onX, 'stick-short-throw stick-y'],
	],
	['two pushes to each of four sides that stop at 45 %', four(45, 2), [...onX, 'stick-short-throw stick-y']],
	['on a noisy 12-bit board', pushed(along('x', [55, 55, 55])), onX, board],
])('is raised: %s', (_title, stick, codes, more: Partial<Drawing> = {}) => {
	expect(throws(glove(stick, more))).toEqual(codes);
});

test.each([
	['80 % on a side, turned around twice', stopped(turned(2.1), 'stick-x', 0, 90), {}],
	['three pushes to 80 %', pushed(along('x', [80, 80, 80])), {}],
	['one turn and a bit', stopped(turned(1.2), 'stick-x', 0, 75), {}],
	['four small pushes that end within 3 %', pushed(along('x', [30, 29, 27.2, 28])), {}],
	['three small pushes just beyond where a push counts', pushed(along('x', [24, 23.5, 23])), {}],
	['two pushes that end alike', pushed(along('x', [50, 50])), {}],
	['half pushes scatter', pushed(along('x', [55, 30, 45, 38, 60, 26])), {}],
	['three half pushes of which one goes farther than the others by 4 %', pushed(along('x', [50, 46, 46])), {}],
	['half of the pushes end alike', pushed(along('x', [50, 30, 50, 40, 50, 35])), {}],
	[
		'six of ten pushes end alike, less than two thirds',
		pushed(along('x', [30, 40, 60, 35, 60, 45, 60, 60, 60, 60])),
		{},
	],
	[
		'three pushes to 41 %: half pushes end as near to each other once in forty times',
		pushed(along('x', [41, 41, 41])),
		{},
	],
	['small circles about the rest point, within a third of the way', turned(2.1, 30), {}],
	['two nudges to each of four sides, within a third of the way', four(30, 2), {seconds: 22}],
	['pushes aside that end at a round gate', pushed([3, 4, 5, 6, 7].map(at => ({at, x: 66, y: 66}))), {}],
	['one push to each of four sides', four(55, 1), {}],
	['a light thumb that never goes beyond 20 %', pushed(along('x', [20, 20, 20, -20, -20, -20])), {}],
	['a push that reaches its end among half ones', pushed(along('x', [50, 50, 95, 50, 50])), {}],
	['noise of a 12-bit board, nobody touches it', pushed([]), {...board, seconds: 40}],
])('is silent: %s', (_title, stick, more) => {
	expect(throws(glove(stick, more))).toEqual([]);
});

test('lone glitches are no reach', () => {
	const stick = pushed(along('x', [50, 50, 50]));
	const glitches: Stick = {
		...stick,
		'stick-x': t => (Math.round(t * 100) % 130 === 7 ? 100 : stick['stick-x'](t)),
	};
	expect(throws(glove(glitches))).toEqual(onX);
});

test('a stick that rests beside the middle is not short where it reaches its rail', () => {
	expect(throws(glove(pushed(along('x', [46, 46, 46, -150, -150, -150]), 77)))).toEqual(['stick-off-centre stick-x']);
});

test.each([
	['untouched', pushed([]), 'waiting', 0],
	['pushed to one side only', pushed(along('x', [95])), 'waiting', 0],
	['pushed twice, to a stop or half way', pushed(along('x', [50, 50, -95])), 'waiting', 2],
	['pushed to half its way in all kinds of ways', pushed(along('x', [55, 30, 45, -95])), 'waiting', 2],
	['pushed to both ends', pushed(along('x', [95, -95])), 'clear', 3],
	['turned around twice', turned(2.1), 'clear', 3],
])('%s, it waits or is clear', (_title, stick, state, seen) => {
	const {checks} = sessionOver(glove(stick)).snapshot();
	expect(checks.find(({code, channel}) => code === 'stick-short-throw' && channel === 'stick-x')).toMatchObject({
		state,
		seen,
		needed: 3,
	});
});

test.each([
	['high', 60],
	['low', -60],
])('says towards which side it falls short: %s readings', (side, end) => {
	const stick = pushed(along('x', [end, end, end]));
	const finding = sessionOver(glove(stick)).findings.find(({code}) => code === 'stick-short-throw');
	expect(finding?.summary).toMatch(
		new RegExp(`^stick-x reaches only \\d+(\\.\\d+)? % of half scale towards ${side} readings\\.$`),
	);
	expect(finding?.evidence).toMatchObject({side, pushes: 3});
});
