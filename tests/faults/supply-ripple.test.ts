import {expect, test} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import {Random} from '../../source/simulator/random.ts';
import {type Course, type Drawing, fists, held, sessionOver, sum} from '../gloves/draw.ts';

// Check-values D5.4, of e = x[n] − (x[n−1] + x[n+1])/2: found from rms 0.5 % FS in each channel on, silent up to 0.3 %. For white
// shaking rms(e) is √1.5 of its rms.

const names = ['thumb', 'index', 'middle', 'ring', 'little'] as const;
const closed = [65, 80, 72, 85, 70];
const worked = (place: number): Course =>
	fists({open: 20 + 5 * place, closed: closed[place], from: 2 + 0.08 * place, times: 5});
const hand = (change: Record<string, Course> = {}): Record<string, Course> => ({
	...Object.fromEntries(names.map((name, i) => [name, worked(i)])),
	...change,
});
/** White noise of rms 1, one value a frame: the same to all who ask at one time. */
const white = (seed: number, rate = 100): Course => {
	const random = new Random(seed);
	const values: number[] = [];
	return t => {
		const n = Math.round(t * rate);
		while (values.length <= n) values.push(random.normal());
		return values[n];
	};
};
/** All channels times (1 + depth × noise); `when` says at which times. */
const shaken = (
	channels: Record<string, Course>,
	depth: number,
	when: (t: number) => boolean = () => true,
): Record<string, Course> => {
	const noise = white(7);
	return Object.fromEntries(
		Object.entries(channels).map(([name, course]) => [name, t => course(t) * (when(t) ? 1 + depth * noise(t) : 1)]),
	);
};
const common = white(7);
const own = white(9);
/** A depth that gives rms(e) of so much % FS at a level: 20 % FS, where the lowest of the open hand lies. */
const depthOf = (percent: number, level = 20): number => percent / level / Math.sqrt(1.5);
const atMoves = (t: number): boolean => t > 2 && t < 12 && (t - 2) % 1 < 0.6;

const ripples = (drawing: Drawing) => sessionOver(drawing).findings.filter(({code}) => code === 'supply-ripple');

const fires: readonly [title: string, drawing: Drawing][] = [
	['0.6 % FS on the lowest channel, at rest and in motion', {channels: shaken(hand(), depthOf(0.6)), seconds: 16}],
	['0.6 % FS at rest only', {channels: shaken(hand(), depthOf(0.6), t => t > 13), seconds: 18}],
	['1.5 % FS in motion only', {channels: shaken(hand(), depthOf(1.5), atMoves), seconds: 16}],
	[
		'three fingers',
		{channels: shaken({thumb: worked(0), index: worked(1), middle: worked(2)}, depthOf(0.6)), seconds: 16},
	],
	[
		'three half seconds, each after one that was calm',
		{channels: shaken(hand(), depthOf(0.62), t => t >= 13 && t < 16 && t % 1 < 0.499), seconds: 18},
	],
	['three half seconds', {channels: shaken(hand(), depthOf(0.8), t => t >= 13 && t < 14.5), seconds: 18}],
	['40 frames/s', {channels: shaken(hand(), depthOf(0.7)), rate: 40, seconds: 16}],
	[
		'beside an open pin that leaps by itself',
		{channels: {...shaken(hand(), depthOf(0.6)), ring: sum(held(45), t => 6 * own(t))}, seconds: 16},
	],
];

test.each(fires)('is raised: %s', (_title, drawing) => {
	expect(ripples(drawing)).toMatchObject([{channel: null, to: null}]);
});

const quiet: readonly [title: string, drawing: Drawing][] = [
	['0.3 % FS on the lowest channel of the closed hand', {channels: shaken(hand(), depthOf(0.3, 65)), seconds: 16}],
	['two half seconds', {channels: shaken(hand(), depthOf(0.8), t => t >= 13 && t < 14), seconds: 18}],
	['noise of 1 % FS rms that the channels do not share', {channels: hand(), noise: 1, seconds: 16}],
	[
		'channels that share as much, whatever their level',
		{
			channels: Object.fromEntries(
				[15, 25, 35, 45, 55].map((open, i) => [
					names[i],
					sum(fists({open, closed: open + 30 + 2 * (i % 2), from: 2 + 0.08 * i, times: 5}), t => 0.8 * common(t)),
				]),
			),
			seconds: 16,
		},
	],
	[
		'quick strokes of the whole hand',
		{
			channels: Object.fromEntries(
				names.map(name => [name, fists({open: 10, closed: 90, from: 2, times: 20, period: 0.3, way: 0.12})]),
			),
			seconds: 12,
		},
	],
	[
		'a whole hand that sways together',
		{
			channels: Object.fromEntries(
				names.map((name, i) => [name, sum(worked(i), t => 2 * Math.sin(2 * Math.PI * 2.5 * t))]),
			),
			seconds: 16,
		},
	],
	['30 frames/s', {channels: shaken(hand(), depthOf(0.8)), rate: 30, seconds: 16}],
	[
		'two wired channels and the ghosts of the second',
		{
			channels: shaken(
				{
					thumb: worked(0),
					index: worked(1),
					middle: t => 0.8 * worked(1)(t),
					ring: t => 0.6 * worked(1)(t),
					little: t => 0.4 * worked(1)(t),
				},
				depthOf(0.9),
			),
			seconds: 16,
		},
	],
	[
		'seven open pins that hum in phase',
		{
			channels: Object.fromEntries(
				[...names, 'stick-x', 'stick-y'].map((name, i) => [
					name,
					sum(held(40 - i), t => 1.5 * Math.sin(2 * Math.PI * 47 * t)),
				]),
			),
			seconds: 16,
		},
	],
	[
		'fingers at a rail',
		{
			channels: shaken(hand({index: t => Math.max(0, worked(1)(t) - 40)}), depthOf(0.8), t => t > 12.5),
			seconds: 20,
		},
	],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(ripples(drawing)).toEqual([]);
});

test('names a poor joint in the common lead first where it comes with movement', () => {
	const [moving] = ripples({channels: shaken(hand(), depthOf(1.5), atMoves), seconds: 16});
	expect(moving.advice[0]).toContain('a poor joint in the common lead');
	expect(moving.summary).toContain('mostly while the hand moves');
	const [always] = ripples({channels: shaken(hand(), depthOf(0.6)), seconds: 16});
	expect(always.advice[0]).toContain('servos');
});

test('is over twenty seconds after the last leap, and dated to it', () => {
	const [finding] = ripples({channels: shaken(hand(), depthOf(0.8), t => t < 14), seconds: 40});
	expect(finding.to).toBeGreaterThanOrEqual(13.5);
	expect(finding.to).toBeLessThanOrEqual(14.5);
});

test('is not over yet eighteen seconds after it', () => {
	const [finding] = ripples({channels: shaken(hand(), depthOf(0.8), t => t < 14), seconds: 32});
	expect(finding.to).toBeNull();
});

const rows = (drawing: Drawing) => checkRows(sessionOver(drawing)).filter(({code}) => code === 'supply-ripple');

test('waits until three channels have moved by themselves', () => {
	expect(rows({channels: shaken(hand(), depthOf(0.8)), seconds: 2})).toMatchObject([
		{state: 'waiting', next: 'bend each finger, there and back'},
	]);
	const two = {thumb: worked(0), index: worked(1), middle: held(40), ring: held(50), little: held(35)};
	expect(rows({channels: two, seconds: 16})).toMatchObject([
		{state: 'waiting', seen: 2, needed: 3, next: 'bend each finger, there and back'},
	]);
	expect(rows({channels: hand(), seconds: 16})).toMatchObject([{state: 'clear'}]);
});

/** One fist from 6.7 s on that has `opened` by then; the index, which rests at a rail, is off it meanwhile. */
const oneFist = (opened: number): Drawing => ({
	channels: Object.fromEntries(
		names.map((name, i) => [
			name,
			fists({
				open: name === 'index' ? 0 : 20 + 5 * i,
				closed: closed[i],
				from: 6.7 + 0.02 * i,
				times: 1,
				period: 2 * (opened - 0.4 - 6.7),
			}),
		]),
	),
	seconds: 16,
});

test('waits until all have been off the rails for three half seconds', () => {
	expect(rows(oneFist(8))).toMatchObject([
		{state: 'waiting', seen: 2, needed: 3, next: 'leave the glove on for two seconds'},
	]);
	expect(rows(oneFist(8.5))).toMatchObject([{state: 'clear', seen: 3}]);
});
