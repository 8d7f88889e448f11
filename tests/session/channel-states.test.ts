import {expect, test} from 'vitest';
import {type Course, type Drawing, fists, sessionOver} from '../gloves/draw.ts';

// Check-values D2: wired means proven. What an open pin does before its wire comes is no travel, however far it goes.

/** Noise of 3.5 % FS rms, another number every hundredth of a second. */
const noise: Course = t => {
	const number = Math.sin(12.9898 * Math.round(100 * t)) * 43_758.5453;
	return 12 * (number - Math.floor(number) - 0.5);
};
const swings: Course = t => 50 - 30 * Math.cos(1.1 * t);
/** A hand that works until 14 s, and a ring finger. */
const ringOf = (course: Course, seconds: number) => {
	const others = ['thumb', 'index', 'middle', 'little'].map((name, i) => [
		name,
		fists({open: 20, closed: 66 + 3 * i, from: 1 + 0.03 * i, times: 6}),
	]);
	const [thumb, index, middle, little] = others;
	const channels: Drawing['channels'] = Object.fromEntries([thumb, index, middle, ['ring', course], little]);
	return sessionOver({channels, seconds}).snapshot().channels[3];
};

test('a pin that swings and is noisy is open, and what it did counts for nothing once its wire has come', () => {
	// The wire comes at 14 s; at 16 s the finger goes there and back for the first time.
	const moved = fists({open: 40, closed: 80, from: 16, times: 1});
	const course: Course = t => (t < 14 ? swings(t) + noise(t) : moved(t));
	expect(ringOf(course, 13.5)).toMatchObject({state: 'open', pulls: {seen: 0}});
	expect(ringOf(course, 19)).toMatchObject({state: 'waiting', pulls: {seen: 1, needed: 2}});
});

test('a finger that swings as far without noise is proven', () => {
	expect(ringOf(swings, 13.5).state).toBe('proven');
});
