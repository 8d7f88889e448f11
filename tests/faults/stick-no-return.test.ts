import {expect, test} from 'vitest';
import type {Session} from '../../source/session/session.ts';
import {type Drawing, held, sessionOver} from '../gloves/draw.ts';
import {type Push, pushed} from '../gloves/thumb-stick.ts';

// Check-values D5.4, stick-no-return: rest positions after three releases or more scatter by 6 % FS or more.

const glove = (pushes: readonly Push[], more: Partial<Drawing> = {}): Drawing => ({
	channels: {thumb: held(20), ...pushed(pushes)},
	seconds: 4 + 1.2 * pushes.length,
	...more,
});
/** Released once a second, each time at one of these places of x, percent of full scale. */
const releases = (...places: readonly number[]): Push[] =>
	places.map((restX, i) => ({at: 2 + 1.2 * i, x: i % 2 === 0 ? 90 : 0, y: i % 2 === 0 ? 0 : -90, restX}));
const open = (session: Session): (string | null)[] =>
	session.findings.filter(({code, to}) => code === 'stick-no-return' && to === null).map(({channel}) => channel);

test.each([
	['three releases 6 % apart', releases(47, 53, 50), {}],
	['on a noisy 12-bit board', releases(47, 53, 47, 53), {fullScale: 4095, noise: 0.34}],
	['let go for a quarter of a second only', releases(46, 54, 46).map((push, i) => ({...push, at: 2 + 0.72 * i})), {}],
	['at 20 frames a second', releases(46, 54, 46), {rate: 20}],
])('is raised on the axis that scatters: %s', (_title, pushes, more) => {
	expect(open(sessionOver(glove(pushes, more)))).toEqual(['stick-x']);
});

test.each([
	['2 % apart', releases(49, 51, 49, 51), {}],
	['3 % apart, which a usual dead zone holds', releases(48.5, 51.5, 48.5, 51.5), {}],
	['two releases only', releases(46, 54), {}],
	[
		'light pushes that are held on the way back',
		[2, 4, 6, 8].flatMap(at => [
			{at, x: 90, restX: at === 6 ? 50 : 58},
			{at: at + 1, x: at === 6 ? 0 : 16, hold: 0.2},
		]),
		{seconds: 12},
	],
	['light pushes inside the middle quarter', [2, 3, 4, 5].map((at, i) => ({at, x: i % 2 === 0 ? 20 : -20})), {}],
])('is silent: %s', (_title, pushes, more) => {
	expect(open(sessionOver(glove(pushes, more)))).toEqual([]);
});

test('waits for three releases', () => {
	const {checks} = sessionOver(glove(releases(46, 54))).snapshot();
	expect(checks.find(({code, channel}) => code === 'stick-no-return' && channel === 'stick-x')).toMatchObject({
		state: 'waiting',
		seen: 2,
		needed: 3,
		next: 'push the stick to a side and let it go',
	});
});

test('is over once sixteen releases in a row came to one place', () => {
	const mended = (times: number) => releases(46, 54, 46, ...new Array<number>(times).fill(50));
	expect(open(sessionOver(glove(mended(12))))).toEqual(['stick-x']);
	expect(open(sessionOver(glove(mended(17))))).toEqual([]);
});
