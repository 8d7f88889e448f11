import {expect, test} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {type Course, type Drawing, held, sessionOver} from '../gloves/draw.ts';
import {digital, presses} from '../gloves/presses.ts';

// Check-values D5.4, button-floating: 40 edges in 5 s, half of the dwells two frames or fewer.

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

/** Changes after so many frames each, over and over. */
const pattern = (rate: number, ...dwells: readonly number[]): Course => {
	const round = dwells.flatMap((frames, i) => new Array<number>(frames).fill(100 * (i % 2)));
	const whole = dwells.length % 2 === 0 ? round : [...round, ...round.map(reading => 100 - reading)];
	return t => whole[Math.round(t * rate) % whole.length];
};
/** Short and long ones in turn, the other state being the short one after every sixth. */
const uneven = (frames: number, long: number): number[] => [
	...Array.from({length: 12}, (_, i) => (i % 2 === 0 ? frames : long)),
	long,
];
/** Presses of which each and each release bounces, five milliseconds a state. */
const bouncing = (period: number, hold: number, bounces: number, releaseBounces: number): Course =>
	presses(
		Array.from({length: Math.floor(9 / period)}, (_, i) => ({
			at: 0.5 + period * i,
			hold,
			bounces,
			releaseBounces,
			gap: 0.005,
		})),
	);

test.each([
	['changing in every frame', (t: number) => 100 * (Math.round(t * 100) % 2), 100],
	['changing by chance at 100 frames a second', random(100, 0.5), 100],
	['changing by chance at 30 frames a second', random(30, 0.5), 30],
	['forty edges in five seconds, each other dwell one frame', flickers(100, 40), 100],
	['dwells of 40 and 100 ms: no tap is so short', pattern(50, 2, 5), 50],
	['twenty changes a second: nobody taps so fast', pattern(40, 2, 2), 40],
	['dwells of 25 and 125 ms: no hand is so uneven', pattern(40, ...uneven(1, 5)), 40],
	['ten edges at a touch: no contact bounces so', bouncing(0.3, 0.15, 5, 4), 300],
])('is raised: %s', (_title, button, rate) => {
	expect(open(button, rate)).toEqual(['button-1']);
});

test.each([
	['seven taps a second', taps(7, 0.07), 100],
	['seven taps a second at 30 frames a second', taps(7, 0.07), 30],
	['five short taps a second at 30 frames a second', taps(5, 0.06), 30],
	['twenty edges in five seconds', flickers(100, 20), 100],
	['each third dwell one frame', pattern(100, 1, 5, 5), 100],
	['each other dwell three frames', pattern(100, 3, 5), 100],
	['taps of two frames, five a second, at 30 frames a second', pattern(30, 2, 4), 30],
	['dwells of 50 and 100 ms, as even as a hand makes them', pattern(40, ...uneven(2, 4)), 40],
	['a contact that bounces at quick presses', bouncing(0.2, 0.1, 2, 1), 300],
	['one that makes six edges at a touch', bouncing(0.3, 0.15, 3, 2), 300],
	['one that makes seven edges at each of five or six touches', bouncing(1.65, 0.6, 3, 3), 300],
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
