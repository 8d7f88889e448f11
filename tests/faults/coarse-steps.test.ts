import {expect, test} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import {type Course, type Drawing, fists, held, sessionOver} from '../gloves/draw.ts';

// Check-values D5.4: every value a multiple of 8 counts or more above some offset (found), a step of 1 (silent).

const names = ['thumb', 'index', 'middle', 'ring', 'little'] as const;
const worked = (place: number, times = 3): Course => fists({open: 20, closed: 75, from: 1 + 0.04 * place, times});
const ring = worked(3);
/** Only every so many counts of 1023, above an offset. */
const stepped =
	(course: Course, step: number, offset = 0, fullScale = 1023): Course =>
	t => {
		const counts = (course(t) * fullScale) / 100 - offset;
		return ((Math.floor(counts / step) * step + offset) * 100) / fullScale;
	};
const hand = (change: Record<string, Course> = {}): Record<string, Course> => ({
	...Object.fromEntries(names.map((name, i) => [name, worked(i)])),
	...change,
});
const noise = {ring: 0, little: 0};
/** A finger that goes only so far, % FS, on a board of 12 bit. */
const small = (way: number): Drawing => ({
	channels: hand({ring: stepped(fists({open: 20, closed: 20 + way, from: 1, times: 3}), 8, 0, 4095)}),
	fullScale: 4095,
	seconds: 7,
});
const ofScale = (fullScale: number): Drawing => ({
	channels: hand({ring: stepped(ring, 8, 0, fullScale)}),
	fullScale,
	noise: 0,
	seconds: 7,
});

const coarse = (drawing: Drawing): string[] =>
	sessionOver({noise, ...drawing})
		.findings.filter(({code}) => code === 'coarse-steps')
		.map(({channel, evidence}) => `${channel} ${evidence.stepCounts}`);

const fires: readonly [title: string, drawing: Drawing, told: readonly string[]][] = [
	['steps of 8 counts', {channels: hand({ring: stepped(ring, 8)}), seconds: 6}, ['ring 8']],
	['steps of 10 counts above 3', {channels: hand({ring: stepped(ring, 10, 3)}), seconds: 6}, ['ring 10']],
	[
		'ten changes over four steps',
		{channels: hand({ring: stepped(fists({open: 20, closed: 23.2, from: 1, times: 3}), 8)}), seconds: 7},
		['ring 8'],
	],
	['three levels', {channels: hand({ring: stepped(ring, 200)}), seconds: 7}, ['ring 200']],
	['2.6 % FS travelled', small(2.6), ['ring 8']],
	['8 bit', ofScale(255), ['ring 8']],
	[
		'two channels that hardly reach their second level',
		{channels: hand({ring: stepped(worked(3, 6), 256), little: stepped(worked(4, 6), 256)}), seconds: 14},
		['little 256', 'ring 256'],
	],
];

test.each(fires)('is raised: %s', (_title, drawing, expected) => {
	expect(coarse(drawing).sort()).toEqual(expected);
});

const quiet: readonly [title: string, drawing: Drawing][] = [
	[
		'eight changes over four steps',
		{channels: hand({ring: stepped(fists({open: 20, closed: 23.2, from: 1, times: 1}), 8)}), seconds: 7},
	],
	['1.6 % FS travelled', small(1.6)],
	['a scale of 200', ofScale(200)],
	['steps of 1', {channels: hand(), noise: 0.1, seconds: 6}],
	['steps of half of what has to be found', {channels: hand({ring: stepped(ring, 4)}), seconds: 6}],
	[
		'a reading that flickers between two levels at rest',
		{channels: hand({ring: t => (Math.round(t * 100) % 7 < 3 ? 20.333 : 21.114)}), seconds: 6},
	],
	['a switch in a finger: two levels', {channels: hand({ring: t => (Math.round(t) % 2 === 0 ? 20 : 60)}), seconds: 14}],
	[
		'a scale of 100',
		{
			channels: Object.fromEntries(names.map((name, i) => [name, stepped(worked(i), 92)])),
			fullScale: 100,
			noise: 0,
			seconds: 6,
		},
	],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(coarse(drawing)).toEqual([]);
});

test('waits for movement', () => {
	const rows = (drawing: Drawing) =>
		checkRows(sessionOver({noise, ...drawing})).filter(
			({code, channel}) => code === 'coarse-steps' && channel === 'ring',
		);
	expect(rows({channels: hand({ring: held(30)}), seconds: 6})).toMatchObject([
		{state: 'waiting', next: 'move ring there and back'},
	]);
	expect(rows({channels: hand(), seconds: 6, noise: 0.1})).toMatchObject([{state: 'clear'}]);
});

test('stands while the hand rests', () => {
	const [finding] = sessionOver({noise, channels: hand({ring: stepped(ring, 16)}), seconds: 40}).findings.filter(
		({code}) => code === 'coarse-steps',
	);
	expect(finding.to).toBe(null);
});
