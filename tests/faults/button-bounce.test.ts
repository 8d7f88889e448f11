import {expect, test} from 'vitest';
import {type Course, type Drawing, held, sessionOver} from '../gloves/draw.ts';
import {digital, presses} from '../gloves/presses.ts';

// Check-values D5.4, button-bounce: 20 % of presses or more show an extra edge within 25 ms, at 150 frames/s or more.

const glove = (button: Course, more: Partial<Drawing> = {}): Drawing => ({
	channels: {thumb: held(20), 'button-1': button},
	seconds: 16,
	rate: 200,
	noise: digital,
	...more,
});
const session = (button: Course, more: Partial<Drawing> = {}) => sessionOver(glove(button, more));
const open = (button: Course, more: Partial<Drawing> = {}) =>
	session(button, more).findings.filter(({code, to}) => code === 'button-bounce' && to === null).length === 1;
const each = (count: number, bounces: (i: number) => number, gap = 0.01) =>
	presses(Array.from({length: count}, (_, i) => ({at: 1 + 0.7 * i, bounces: bounces(i), gap})));

test.each([
	['one press in five', each(10, i => (i % 5 === 4 ? 1 : 0))],
	['every press, after two of them', each(2, () => 1)],
	['extra edges 20 ms apart', each(4, () => 1, 0.02)],
	['letting go bounces, not pressing', presses([1, 2, 3, 4].map(at => ({at, releaseBounces: 1})))],
])('is raised: %s', (_title, button) => {
	expect(open(button)).toBe(true);
});

test.each([
	['no extra edges', each(10, () => 0), {}],
	['one press in ten', each(20, i => (i % 10 === 4 ? 1 : 0)), {}],
	['one press of two', each(2, i => i), {}],
	['edges 40 ms apart', each(4, () => 1, 0.04), {}],
	['too few frames a second to show it', each(10, () => 1), {rate: 100}],
	['seven taps a second', presses(Array.from({length: 60}, (_, i) => ({at: 1 + i / 7, hold: 0.07}))), {}],
])('is silent: %s', (_title, button, more) => {
	expect(open(button, more)).toBe(false);
});

test('is over once sixteen presses in a row were clean', () => {
	const mended = (clean: number) => each(4 + clean, i => (i < 4 ? 1 : 0));
	expect(open(mended(8), {seconds: 12})).toBe(true);
	expect(open(mended(17), {seconds: 18})).toBe(false);
});

test('waits for presses; its button is proven by two clean ones', () => {
	const seen = (count: number) => {
		const {checks, channels} = session(each(count, () => 0)).snapshot();
		return [checks.find(({code}) => code === 'button-bounce')?.state, channels[1].state];
	};
	expect([0, 1, 2].map(seen)).toEqual([
		['waiting', 'waiting'],
		['waiting', 'waiting'],
		['clear', 'proven'],
	]);
});
