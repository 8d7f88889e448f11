import {expect, test} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {type Course, type Drawing, held, sessionOver} from '../gloves/draw.ts';
import {digital, presses} from '../gloves/presses.ts';

// Design §5.4, button-floating: 40 edges in 5 s, half of the dwells two frames or fewer.

const glove = (button: Course, rate: number, seconds = 10): Drawing => ({
	channels: {thumb: held(20), 'button-1': button, 'button-2': presses([{at: 3}])},
	seconds,
	rate,
	noise: digital,
});
const open = (button: Course, rate: number, seconds?: number) =>
	sessionOver(glove(button, rate, seconds))
		.findings.filter(({code, to}) => code === 'button-floating' && to === null)
		.map(({channel}) => channel);
/** Changes in a frame with this chance. */
const random = (rate: number, chance: number): Course => {
	const draws = new Random(5);
	let state = 0;
	const states = Array.from({length: 20 * rate}, () => (state = draws.chance(chance) ? 1 - state : state));
	return t => 100 * states[Math.round(t * rate)];
};
/** Taps so many times a second, `hold` seconds each. */
const taps = (hertz: number, hold: number): Course =>
	presses(
		Array.from({length: Math.floor(9 * hertz)}, (_, i) => ({at: 0.5 + (i + 0.1 * Math.sin(5 * i)) / hertz, hold})),
	);
/** Changes four times a second for a frame, and back: 40 edges in 5 s. */
const flickers =
	(rate: number, edges: number): Course =>
	t =>
		(Math.round(t * rate) / rate) % (10 / edges) < 1.5 / rate ? 100 : 0;

test.each([
	['changing in every frame', (t: number) => 100 * (Math.round(t * 100) % 2), 100],
	['changing by chance at 100 frames a second', random(100, 0.5), 100],
	['changing by chance at 30 frames a second', random(30, 0.5), 30],
	['forty edges in five seconds, each other dwell one frame', flickers(100, 40), 100],
])('is raised: %s', (_title, button, rate) => {
	expect(open(button, rate)).toEqual(['button-1']);
});

test.each([
	['seven taps a second', taps(7, 0.07), 100],
	['seven taps a second at 30 frames a second', taps(7, 0.07), 30],
	['five short taps a second at 30 frames a second', taps(5, 0.06), 30],
	['twenty edges in five seconds', flickers(100, 20), 100],
	[
		'a contact that bounces at quick presses',
		presses(
			Array.from({length: 40}, (_, i) => ({at: 0.5 + 0.2 * i, hold: 0.1, bounces: 2, releaseBounces: 1, gap: 0.005})),
		),
		300,
	],
])('is silent: %s', (_title, button, rate) => {
	expect(open(button, rate)).toEqual([]);
});

test('speaks once five seconds have been watched, and waits until then', () => {
	const {checks} = sessionOver(glove(random(100, 0.5), 100, 4)).snapshot();
	expect(checks.find(({code, channel}) => code === 'button-floating' && channel === 'button-1')).toMatchObject({
		state: 'waiting',
		needed: 5,
		next: 'leave the buttons alone for five seconds',
	});
	expect(open(random(100, 0.5), 100, 6)).toEqual(['button-1']);
});

test('is never proven, and closes where the pin holds still', () => {
	const session = sessionOver(glove(random(30, 0.5), 30));
	expect(session.snapshot().channels[1].state).toBe('faulty');
	const chance = random(100, 0.5);
	expect(open(t => (t < 7 ? chance(t) : 0), 100, 14)).toEqual([]);
});
