import {expect, test} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import {type Course, type Drawing, fists, held, sessionOver, sum, through} from '../gloves/draw.ts';

// Check-values D5.4: a still channel of another group is pushed by ≥ 3 % FS (found) or ≤ 1 % (silent); among fingers ≥ 3 pairs of
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

/**
 * Each finger moved alone, `times` times; the next one follows in the same frame by a share that changes from one fist to the
 * next, later by `late` where the finger opens.
 */
const followed = (shares: readonly number[], {times = shares.length, late = 0} = {}): Record<string, Course> => {
	const from = (i: number): number => 2 + (2 * times + 1) * i;
	const own = names.map((_, i) => fists({open: 20, closed: 70 + 2 * i, from: from(i), times}));
	return Object.fromEntries(
		names.map((name, i) => [
			name,
			t => {
				if (i === 0) return own[0](t);
				const since = t - from(i - 1);
				const share = shares[Math.max(0, Math.floor(since / 2)) % shares.length];
				return own[i](t) + share * (own[i - 1](t - (since % 2 > 0.9 ? late : 0)) - 20);
			},
		]),
	);
};
/** Each finger in its turn goes one single way, every other one down, and takes the next one along by a quarter. */
const oneWay: Record<string, Course> = Object.fromEntries(
	names.map((name, i) => {
		const goes = (k: number): Course => through([2 + 3 * k, 0], [2.4 + 3 * k, k % 2 === 0 ? 50 : -50]);
		const own = sum(held(i % 2 === 0 ? 20 : 70), goes(i));
		return [name, i === 0 ? own : sum(own, t => 0.24 * goes(i - 1)(t))];
	}),
);
/** Thumb and index three times there and back, then the middle finger one single way; each takes the next one along by a fifth. */
const twoPairsAndOneWay: Record<string, Course> = (() => {
	const [thumb, index] = [2, 9].map(from => fists({open: 20, closed: 75, from, times: 3}));
	const middle = through([17, 20], [17.4, 75]);
	const taken = (by: Course) => (t: number) => 0.2 * (by(t) - 20);
	return {
		thumb,
		index: sum(index, taken(thumb)),
		middle: sum(middle, taken(index)),
		ring: sum(held(20), taken(middle)),
		little: held(20),
	};
})();
/** The little finger moves alone, and pushes the stick by 4 % FS. */
const littleAlone = (course: Course): Record<string, Course> => ({
	...glove({}),
	...Object.fromEntries(names.map(name => [name, held(20)])),
	little: course,
	'stick-x': t => 50 + (4 / 55) * (course(t) - 20),
});

const talks = (drawing: Drawing): (string | null)[] =>
	sessionOver(drawing)
		.findings.filter(({code}) => code === 'crosstalk')
		.map(({channel}) => channel);

const fires: readonly [title: string, drawing: Drawing, told: readonly string[]][] = [
	['a stick axis pushed by 3 % FS', {channels: glove({'stick-x': sum(held(50), pushed(3))}), seconds: 12}, ['stick-x']],
	['the same the other way', {channels: glove({'stick-x': sum(held(50), pushed(-3))}), seconds: 12}, ['stick-x']],
	[
		'three ways of the little finger alone',
		{channels: littleAlone(through([2, 20], [2.4, 75], [3, 75], [3.4, 20], [4, 20], [4.4, 75])), seconds: 6.5},
		['stick-x'],
	],
	[
		'a stick pushed by a fifth of the finger',
		{channels: glove({'stick-x': t => 50 + 0.2 * (little(t) - 20)}), seconds: 12},
		['stick-x'],
	],
	['each finger there and back once', {channels: followed([0.2]), seconds: 18}, ['index', 'middle', 'ring', 'little']],
	[
		'by 20 to 26 % from time to time',
		{channels: followed([0.26, 0.2, 0.2]), seconds: 38},
		['index', 'middle', 'ring', 'little'],
	],
	[
		'at 45 frames a second',
		{channels: followed([0.2, 0.2]), seconds: 28, rate: 45},
		['index', 'middle', 'ring', 'little'],
	],
	[
		'by a sixth, a little over the definition, in a quiet glove',
		{channels: followed([0.16, 0.16, 0.16]), seconds: 38, noise: 0.05},
		['index', 'middle', 'ring', 'little'],
	],
	[
		'by a quarter at 330 frames a second, where noise of 0.4 % FS shifts the middle of a way by two frames',
		{channels: followed([0.25, 0.25, 0.25]), seconds: 38, rate: 330, noise: 0.4},
		['index', 'middle', 'ring', 'little'],
	],
	[
		'three pairs',
		{
			channels: {...followed([0.2, 0.2, 0.2]), little: fists({open: 20, closed: 75, from: 30, times: 3})},
			seconds: 38,
		},
		['index', 'middle', 'ring'],
	],
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
	[
		'fingers that take the next one along 30 ms later, at 330 frames a second in the same noise',
		{channels: alone(0.25, 0, 0.03), seconds: 38, rate: 330, noise: 0.4},
	],
	['a stick that sways slowly', {channels: glove({'stick-x': t => 50 + 3 * Math.sin(0.8 * t)}), seconds: 12}],
	[
		'a stick pin that may be open and copies the finger before it',
		{channels: glove({'stick-x': t => 30 + 0.5 * little(t)}), seconds: 7.5},
	],
	[
		'a stick that is pushed along its other axis as often as the little finger bends, and 4 % FS along this one',
		{channels: glove({'stick-x': sum(held(50), pushed(4)), 'stick-y': sum(held(50), pushed(27))}), seconds: 12},
	],
	['a stick axis pushed by 2 % FS', {channels: glove({'stick-x': sum(held(50), pushed(2))}), seconds: 12}],
	[
		'one there and back of the little finger alone',
		{channels: littleAlone(fists({open: 20, closed: 75, from: 2, times: 1})), seconds: 6},
	],
	[
		'a stick that is shaken while it is pushed by 3.5 % FS',
		{channels: glove({'stick-x': t => 50 + (3.5 / 55) * (little(t) - 20) + 2.5 * Math.sin(40 * t)}), seconds: 12},
	],
	[
		'a stick pin that may be open and copies four tenths of the finger',
		{channels: glove({'stick-x': t => 30 + 0.4 * little(t)}), seconds: 7.5},
	],
	['each finger goes one way alone', {channels: oneWay, seconds: 20}],
	['fingers that take the one before along by six tenths as much', {channels: alone(0.2, 0.12), seconds: 38}],
	[
		'fingers that come in the same frame only when they close',
		{channels: followed([0.2, 0.2, 0.2], {late: 0.05}), seconds: 38},
	],
	['fingers that are taken along by 20 to 36 % from time to time', {channels: followed([0.36, 0.2, 0.2]), seconds: 38}],
	['fingers at 25 frames a second', {channels: followed([0.2, 0.2, 0.2]), seconds: 38, rate: 25}],
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
	[
		'two pairs, and a third seen one way only: what pushes pushes on both ways',
		{channels: twoPairsAndOneWay, seconds: 20},
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
