import {expect, test} from 'vitest';
import type {Finding} from '../../source/session/snapshot.ts';
import {Random} from '../../source/simulator/random.ts';
import {type Course, type Drawing, fists, held, sessionOver, sum} from '../gloves/draw.ts';

// Check-values D5.2: signs of an open pin, when they are a finding, and how grave it is.

const names = ['thumb', 'index', 'middle', 'ring', 'little'] as const;
const worked = (from = 2, times = 6): Course => fists({open: 20, closed: 75, from, times});
const hand = (change: Record<string, Course> = {}, times = 6): Record<string, Course> => ({
	...Object.fromEntries(names.map((name, i) => [name, worked(2 + 0.03 * i, times)])),
	...change,
});
/** Fingers pulled one after the other, three times each. */
const pulled = (place: number): Course => fists({open: 20, closed: 75, from: 2 + place * 6, times: 3});
/** A random walk that is drawn back to the middle: what an open pin's level does. Steps of `step` % FS a frame of 10 ms. */
const walk = (seed: number, step: number, middle = 45): Course => {
	const random = new Random(seed);
	const levels = [middle];
	return t => {
		const n = Math.round(t * 100);
		while (levels.length <= n) {
			const last = levels[levels.length - 1];
			levels.push(last + step * random.normal() - 0.004 * (last - middle));
		}
		return levels[n];
	};
};
/** Mains picked up by an open wire: 9 % FS peak at 50.03 Hz. */
const hum: Course = t => 9 * Math.sin(2 * Math.PI * 50.03 * t);

const floating = (drawing: Drawing): Finding[] =>
	sessionOver(drawing).findings.filter(({code}) => code === 'floating-input');
const told = (drawing: Drawing): string[] =>
	floating(drawing)
		.map(({channel, status}) => `${channel} ${status}`)
		.sort();

const fires: readonly [title: string, drawing: Drawing, told: readonly string[]][] = [
	[
		'noise of 2.5 % FS on a level that wanders, beside four fingers that work',
		{channels: hand({ring: walk(3, 0.4)}), noise: {ring: 2.5}, seconds: 16},
		['ring failure'],
	],
	[
		'a scaled copy of the finger read just before it',
		{channels: hand({ring: t => 0.6 * worked(2.06)(t) + 9}), seconds: 16},
		['ring failure'],
	],
	[
		'a stick axis that copies the finger read just before it, beside five that work',
		{
			channels: {...hand(), 'stick-x': t => 0.6 * worked(2.12)(t) + 9, 'stick-y': held(50)},
			seconds: 16,
		},
		['stick-x failure'],
	],
	[
		'pickup of mains with no travel of its own',
		{channels: hand({ring: sum(held(45), hum)}), rate: 125, seconds: 16},
		['ring failure'],
	],
	[
		'one wired finger and its ghosts down the row: it may not be wired yet',
		{
			channels: {
				thumb: worked(),
				index: t => 0.85 * worked()(t) + 5,
				middle: t => 0.7 * worked()(t) + 9,
				ring: t => 0.55 * worked()(t) + 14,
				little: t => 0.45 * worked()(t) + 18,
			},
			seconds: 16,
		},
		['index function-check', 'little function-check', 'middle function-check', 'ring function-check'],
	],
	[
		'one of two fingers and its ghost: half of them are proven, yet none has moved without the other',
		{channels: {thumb: worked(), index: t => 0.7 * worked()(t) + 9}, seconds: 16},
		['index function-check'],
	],
	[
		'fewer than half of the fingers proven: not wired yet',
		{
			channels: {thumb: worked(), index: walk(4, 0.4), middle: walk(5, 0.4), ring: walk(6, 0.4), little: walk(7, 0.4)},
			noise: {index: 3, middle: 3, ring: 3, little: 3},
			seconds: 16,
		},
		['index function-check', 'little function-check', 'middle function-check', 'ring function-check'],
	],
	[
		'a noisy pin beside four fingers that have been quiet for ten seconds, before any has moved',
		{
			channels: {...Object.fromEntries(names.map(name => [name, held(30)])), middle: walk(8, 0.3)},
			noise: {middle: 3},
			seconds: 15,
		},
		['middle function-check'],
	],
	[
		'a level that leaps up and leaks away three times',
		{
			channels: hand({middle: t => 30 + (t > 4 && t < 13 ? 25 * Math.exp(-((t - 4) % 3) / 0.8) : 0)}),
			seconds: 16,
		},
		['middle failure'],
	],
	[
		'a wander that never rests while the fingers do',
		{channels: hand({ring: t => 45 + (t > 9 ? 6 : 1) * Math.sin(2 * Math.PI * 0.7 * t)}, 4), seconds: 32},
		['ring failure'],
	],
];

test.each(fires)('is raised: %s', (_title, drawing, expected) => {
	expect(told(drawing)).toEqual(expected);
});

const quiet: readonly [title: string, drawing: Drawing][] = [
	['a hand that works', {channels: hand(), seconds: 16}],
	[
		'reels pulled one after the other',
		{channels: Object.fromEntries(names.map((name, i) => [name, pulled(i)])), seconds: 34},
	],
	[
		'a posture step in a finger of ordinary noise',
		{channels: hand({ring: sum(worked(2.09), t => (t > 14 ? 5 : 0))}), noise: 0.4, seconds: 24},
	],
	['a finger that follows, as noisy as it may be', {channels: hand(), noise: {ring: 2.6}, seconds: 16}],
	[
		'a neighbour that is taken along by a third of the way, a little later',
		{
			channels: {
				...Object.fromEntries(names.map((name, i) => [name, pulled(i)])),
				middle: sum(pulled(2), t => 0.3 * (pulled(1)(t - 0.05) - 20)),
			},
			seconds: 34,
		},
	],
	[
		'a glove whose fingers use 4 % of the scale',
		{
			channels: Object.fromEntries(
				names.map((name, i) => [name, fists({open: 30, closed: 34, from: 2 + 0.03 * i, times: 6})]),
			),
			seconds: 16,
		},
	],
	[
		'fingers that a bar moves as one',
		{
			channels: Object.fromEntries(names.map((name, i) => [name, fists({open: 20, closed: 70 + 2 * i, times: 6})])),
			seconds: 16,
		},
	],
	[
		'noise of 1.9 % FS, which by chance shows 2 % in two half seconds running',
		{channels: hand({ring: held(45)}), noise: {ring: 1.9}, seconds: 16},
	],
	['noise just below the limit', {channels: hand({ring: held(45)}), noise: {ring: 1.4}, seconds: 16}],
	[
		'twenty frames a second, where a tap leaps as noise does',
		{channels: hand({ring: walk(3, 1)}), noise: {ring: 2.5}, rate: 20, seconds: 16},
	],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(told(drawing)).toEqual([]);
});

test('is one calm line as long as nothing is wired', () => {
	const channels = Object.fromEntries(
		[...names, 'stick-x', 'stick-y'].map((name, i) => [name, sum(walk(i + 1, 0.3), hum)]),
	);
	const {
		findings,
		notes,
		verdict,
		channels: views,
	} = sessionOver({channels, noise: 0.6, rate: 125, seconds: 15}).snapshot();
	expect(findings).toEqual([]);
	expect(notes).toEqual(['7 inputs open: nothing wired yet (thumb, index, middle, ring, little, stick-x and stick-y)']);
	expect(verdict).toBe('unproven');
	expect(views.map(({state}) => state)).toEqual(Array(7).fill('open'));
});

test('a finger that was proven and comes loose is lost, at failure, and says since when', () => {
	const ring = sum(
		t => (t < 18 ? worked(2.09, 8)(t) : 0),
		t => (t < 18 ? 0 : walk(9, 0.3)(t)),
	);
	const session = sessionOver({
		channels: hand({ring: t => (t < 18 ? ring(t) : ring(t) + 12 * new Random(Math.round(t * 100)).normal())}, 14),
		seconds: 30,
	});
	const snapshot = session.snapshot();
	expect(snapshot.channels[3].state).toBe('lost');
	const [finding] = snapshot.findings.filter(({code}) => code === 'floating-input');
	expect(finding).toMatchObject({channel: 'ring', status: 'failure', to: null});
	expect(finding.from).toBeGreaterThan(17.5);
	expect(finding.from).toBeLessThan(20);
});

test('a pin that is wired while the session runs is told as mended', () => {
	const open = walk(3, 0.4);
	const random = new Random(5);
	const ring: Course = t => (t < 12 ? open(t) + 3 * random.normal() : worked(2.09, 14)(t));
	const [finding] = sessionOver({channels: hand({ring}, 14), seconds: 32})
		.snapshot()
		.findings.filter(({code}) => code === 'floating-input');
	expect(finding).toMatchObject({channel: 'ring', mended: true});
	expect(finding.to).toBeGreaterThan(11);
	expect(finding.to).toBeLessThan(14);
});
