import {expect, test} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import {type Course, type Drawing, fists, held, sessionOver, sum} from '../gloves/draw.ts';

// Check-values D5.4: equal within the larger of 2 counts of 10 bit and 3 × rest noise in ≥ 99.5 % of frames, each with ≥ 4 trips.

const names = ['thumb', 'index', 'middle', 'ring', 'little'] as const;
const worked = (place: number, times = 3): Course =>
	fists({open: 20, closed: 60 + 4 * place, from: 2 + 0.04 * place, times});
const hand = (change: Record<string, Course> = {}): Record<string, Course> => ({
	...Object.fromEntries(names.map((name, i) => [name, worked(i)])),
	...change,
});
const middle = worked(2);
const noise = 0.03;

const doubles = (drawing: Drawing): string[] =>
	sessionOver({noise, ...drawing})
		.findings.filter(({code}) => code === 'duplicate-channel')
		.map(({channel, evidence}) => `${channel} = ${evidence.sameAs}`);

const fires: readonly [title: string, drawing: Drawing, told: readonly string[]][] = [
	[
		'two channels with two trips there and back each',
		{channels: hand({ring: middle}), seconds: 7.5},
		['ring = middle'],
	],
	[
		'two readings of one voltage, each with its noise',
		{channels: hand({ring: middle}), noise: 0.05, seconds: 9},
		['ring = middle'],
	],
	[
		'a frame in 250 that is cut',
		{channels: hand({ring: t => (Math.round(t * 100) % 250 === 3 ? 90 : middle(t))}), seconds: 9},
		['ring = middle'],
	],
	['fingers far apart in the scan', {channels: hand({little: worked(0)}), seconds: 9}, ['little = thumb']],
	[
		'an axis that reads a finger’s pin',
		{channels: {...hand(), 'stick-x': worked(4), 'stick-y': held(50)}, seconds: 9},
		['stick-x = little'],
	],
	[
		'a bridge that closes while the session runs',
		{channels: hand({middle: worked(2, 12), ring: t => (t < 6 ? worked(3, 12)(t) : worked(2, 12)(t))}), seconds: 27},
		['ring = middle'],
	],
];

test.each(fires)('is raised: %s', (_title, drawing, expected) => {
	expect(doubles(drawing)).toEqual(expected);
});

const quiet: readonly [title: string, drawing: Drawing][] = [
	[
		'fingers that a bar moves as one, a hundredth of their way apart',
		{channels: hand({ring: t => 20 + 1.012 * (middle(t) - 20)}), noise: 0.03, seconds: 9},
	],
	[
		'a frame in fifty that differs',
		{channels: hand({ring: t => middle(t) + (Math.round(t * 100) % 50 === 3 ? 1.2 : 0)}), seconds: 9},
	],
	[
		'a frame in 25 that differs',
		{channels: hand({ring: t => middle(t) + (Math.round(t * 100) % 25 === 3 ? 1.2 : 0)}), seconds: 9},
	],
	['two fingers that rest at one level', {channels: hand({ring: held(20), little: held(20)}), seconds: 9}],
	['two axes that rest', {channels: {...hand(), 'stick-x': held(50), 'stick-y': held(50)}, seconds: 9}],
	['one movement there and back', {channels: hand({middle: worked(2, 1), ring: worked(2, 1)}), seconds: 9}],
	[
		'trips of a tenth of what the others go',
		{channels: hand({middle: t => 20 + 0.1 * (middle(t) - 20), ring: t => 20 + 0.1 * (middle(t) - 20)}), seconds: 9},
	],
	[
		'two fingers that go the same way for two movements of many',
		{
			channels: hand({middle: worked(2, 12), ring: t => (t > 5.8 && t < 10 ? worked(2, 12)(t) : worked(3, 12)(t))}),
			seconds: 27,
		},
	],
	['a hand that works', {channels: hand(), seconds: 9}],
	[
		'two fingers 3 % FS apart, one of which hums by 5 % FS',
		{
			channels: hand({middle: t => worked(2)(t) + 5 * Math.sin(2 * Math.PI * 50 * t), ring: t => worked(2)(t) + 3}),
			rate: 125,
			seconds: 9,
		},
	],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(doubles(drawing)).toEqual([]);
});

test('waits for movement, and is over where the two part', () => {
	const rows = (drawing: Drawing) =>
		checkRows(sessionOver({noise, ...drawing})).filter(
			({code, channel}) => code === 'duplicate-channel' && channel === 'ring',
		);
	expect(rows({channels: hand({ring: middle}), seconds: 3})).toMatchObject([
		{state: 'waiting', needed: 4, next: 'move ring there and back twice'},
	]);
	expect(rows({channels: hand(), seconds: 9})).toMatchObject([{state: 'clear'}]);
	const parted = sum(worked(2, 8), t => (t > 10 ? 8 : 0));
	const [finding] = sessionOver({
		noise,
		channels: hand({middle: worked(2, 8), ring: parted}),
		seconds: 18,
	}).findings.filter(({code}) => code === 'duplicate-channel');
	expect(finding.to).toBeGreaterThanOrEqual(9.5);
	expect(finding.to).toBeLessThanOrEqual(10.5);
});
