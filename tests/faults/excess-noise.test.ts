import {expect, test} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {type Drawing, found, sessionOver} from '../gloves/draw.ts';
import {fiveFingers} from '../gloves/five-fingers.ts';
import {along, pushed} from '../gloves/thumb-stick.ts';

// Check-values D5.4, excess-noise: at rest at least 1.5 % FS rms, silent at 0.6 %, on a channel that follows its finger, and on a
// stick axis while the stick rests.

/** Four fists, which are over at 9 s, then rest; noise of the ring finger in % FS rms. */
const glove = (ring: number, more: Partial<Drawing> = {}): Drawing => ({
	channels: fiveFingers(),
	seconds: 16,
	noise: {ring},
	...more,
});
const stick = pushed([...along('x', [95, -95, 95, -95], 9), ...along('y', [95, -95, 95, -95], 13)]);
const withStick = (x: number): Drawing => ({
	channels: {...fiveFingers(), ...stick},
	seconds: 22,
	noise: {'stick-x': x},
});

/** The ring's joint is at 1.7 % FS rms for twelve seconds; it is mended when the hand first moves, so well that this is left. */
const mended = (left: number): Drawing => {
	const random = new Random(3);
	const {ring, ...others} = fiveFingers({}, {from: 13});
	return {
		channels: {...others, ring: t => ring(t) + (t < 12.5 ? 1.7 : left) * random.normal()},
		seconds: 33,
	};
};

test.each<[string, Drawing, string]>([
	['a finger with 1.7 % FS rms', glove(1.7), 'ring'],
	['three seconds of rest after the last movement is known to be over', glove(1.8, {seconds: 12.5}), 'ring'],
	['a twelve-bit board', glove(1.7, {fullScale: 4095}), 'ring'],
	['a finger with 1.7 % FS rms, of which 1.25 is left when it first moves', mended(1.25), 'ring'],
	['a stick axis with 1.6 % FS rms', withStick(1.6), 'stick-x'],
	['a stick axis with 1.8 % FS rms, which shows 2 % in some second', withStick(1.8), 'stick-x'],
])('is raised: %s', (_title, drawing, channel) => {
	expect(found(sessionOver(drawing))).toEqual([`excess-noise ${channel}`]);
});

test.each<[string, Drawing]>([
	['0.6 % FS rms, the must not', glove(0.6)],
	['1.2 % FS rms: real hands and radio boards reach that now and then', glove(1.2)],
	['a stick axis with 1.2 % FS rms', withStick(1.2)],
	['a pin with 1.7 % FS rms, of which 0.75 is left when its finger first moves', mended(0.75)],
	['noise in less than three seconds of rest', glove(1.8, {seconds: 11.5})],
])('is silent: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing))).toEqual([]);
});

test('is raised on a wiper that goes bad after it was quiet: what it shakes is no trip by the noise there is', () => {
	const random = new Random(4);
	const {ring, ...others} = fiveFingers();
	// Of unit variance after Laplace, as poor contacts crackle: now and then five times as far as a Gaussian would go.
	const crackle = (): number => (random.chance(0.5) ? 1 : -1) * random.exponential(Math.SQRT1_2);
	const session = sessionOver({
		channels: {...others, ring: t => 30 + ring(t) / 3 + (t >= 9.5 ? 1.9 * crackle() : 0)},
		seconds: 18,
	});
	expect(found(session)).toEqual(['excess-noise ring']);
	// Four fists are eight trips; until the noise is known, in the first second, tips of it are some more. By the quiet of before
	// there would be twenty in each second.
	expect(session.features.analog.trips.count[4]).toBeLessThanOrEqual(30);
});

test('waits for three seconds of rest', () => {
	const {checks} = sessionOver(glove(1.8, {seconds: 11.5})).snapshot();
	expect(checks.find(({code, channel}) => code === 'excess-noise' && channel === 'ring')).toMatchObject({
		state: 'waiting',
		seen: 2,
		needed: 3,
		next: 'rest the hand for a few seconds',
	});
});
