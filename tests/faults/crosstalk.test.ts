import {expect, test} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import {type Course, type Drawing, fists, held, sessionOver, sum, through} from '../gloves/draw.ts';

// Design §5.4: a still channel of another group is pushed by ≥ 3 % FS (found) or ≤ 1 % (silent); among fingers ≥ 3 pairs of
// which the next in scan order follows by ≥ 15 % within a frame, and the one before by less than half of that.

const names = ['thumb', 'index', 'middle', 'ring', 'little'] as const;
const worked = (place: number): Course => fists({open: 20, closed: 75, from: 2 + 0.03 * place, times: 4});
const little = worked(4);
const glove = (stick: Partial<Record<string, Course>>): Record<string, Course> => ({
	...Object.fromEntries(names.map((name, i) => [name, worked(i)])),
	'stick-x': held(50),
	'stick-y': held(50),
	...stick,
});
/** What a span of 55 % FS pushes, as % FS. */
const pushed =
	(push: number): Course =>
	t =>
		(push / 55) * (little(t) - 20);
/** Each finger moved alone, three times; the others follow by these shares: the next one, the one before. */
const alone = (next: number, before: number, late = 0): Record<string, Course> => {
	const own = names.map((_, i) => fists({open: 20, closed: 75, from: 2 + 7 * i, times: 3}));
	return Object.fromEntries(
		names.map((name, i) => [
			name,
			t =>
				own[i](t) +
				(i > 0 ? next * (own[i - 1](t - late) - 20) : 0) +
				(i < names.length - 1 ? before * (own[i + 1](t - late) - 20) : 0),
		]),
	);
};

const talks = (drawing: Drawing): (string | null)[] =>
	sessionOver(drawing)
		.findings.filter(({code}) => code === 'crosstalk')
		.map(({channel}) => channel);

const fires: readonly [title: string, drawing: Drawing, told: readonly string[]][] = [
	['a stick axis pushed by 3 % FS', {channels: glove({'stick-x': sum(held(50), pushed(3))}), seconds: 12}, ['stick-x']],
	['the same the other way', {channels: glove({'stick-x': sum(held(50), pushed(-3))}), seconds: 12}, ['stick-x']],
	[
		'each finger takes the next one along by a fifth, in the same frame',
		{channels: alone(0.2, 0), seconds: 38},
		['index', 'middle', 'ring', 'little'],
	],
	[
		'the same where anatomy takes the one before along by a twentieth',
		{channels: alone(0.2, 0.05), seconds: 38},
		['index', 'middle', 'ring', 'little'],
	],
];

test.each(fires)('is raised: %s', (_title, drawing, expected) => {
	expect(talks(drawing).sort()).toEqual([...expected].sort());
});

const quiet: readonly [title: string, drawing: Drawing][] = [
	['a stick axis pushed by 1 % FS', {channels: glove({'stick-x': sum(held(50), pushed(1))}), seconds: 12}],
	[
		'a stick axis that is pushed by a thumb while the hand works',
		{
			channels: glove({
				'stick-x': through([3, 50], [3.2, 90], [3.8, 50], [6, 50], [6.3, 10], [6.8, 50]),
				'stick-y': through([3, 50], [3.3, 80], [3.9, 50]),
			}),
			seconds: 12,
		},
	],
	['a stick that sways slowly', {channels: glove({'stick-x': t => 50 + 3 * Math.sin(0.8 * t)}), seconds: 12}],
	[
		'a stick pin that may be open and copies the finger before it',
		{channels: glove({'stick-x': t => 30 + 0.5 * little(t)}), seconds: 7.5},
	],
	['fingers that take both neighbours along', {channels: alone(0.25, 0.25), seconds: 38}],
	['fingers that take the next one along later', {channels: alone(0.25, 0.05, 0.05), seconds: 38}],
	['fingers that take the next one along by a tenth', {channels: alone(0.1, 0), seconds: 38}],
	[
		'two pairs only',
		{
			channels: {
				...alone(0.2, 0),
				ring: fists({open: 20, closed: 75, from: 23, times: 3}),
				little: fists({open: 20, closed: 75, from: 30, times: 3}),
			},
			seconds: 38,
		},
	],
	['a hand that works', {channels: glove({}), seconds: 12}],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(talks(drawing)).toEqual([]);
});

test('waits for the finger before it to be moved', () => {
	const rows = (drawing: Drawing) => checkRows(sessionOver(drawing)).filter(({code}) => code === 'crosstalk');
	const still = {...glove({}), ...Object.fromEntries(names.map(name => [name, held(20)]))};
	expect(rows({channels: still, seconds: 5}).map(({channel, state, next}) => [channel, state, next])).toEqual([
		['index', 'waiting', 'move thumb alone, there and back twice'],
		['middle', 'waiting', 'move index alone, there and back twice'],
		['ring', 'waiting', 'move middle alone, there and back twice'],
		['little', 'waiting', 'move ring alone, there and back twice'],
		['stick-x', 'waiting', 'move little alone, there and back twice'],
	]);
	expect(rows({channels: glove({}), seconds: 12}).at(-1)).toMatchObject({channel: 'stick-x', state: 'clear'});
});
