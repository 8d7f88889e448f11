import {expect, test} from 'vitest';
import {type Course, type Drawing, found, sessionOver, through} from '../gloves/draw.ts';
import {type FingerName, fingerNames, fistsOf, fiveFingers} from '../gloves/five-fingers.ts';

// Check-values D5.4, shared-ceiling: at least three fingers flat within 1 % FS of each other at 50 to 95 % FS, at the closed end of
// whole-hand movements; silent at tops that differ and at open hands that lie alike.

/** What a pot that is fed from 3.3 V gives a converter that measures against 5 V. */
const cappedAt =
	(course: Course, top = 66): Course =>
	t =>
		Math.min(top, course(t));

const glove = (own: Partial<Record<FingerName, Course>>, times = 4, seconds = 2 * times + 2): Drawing => ({
	channels: fiveFingers(own, {times}),
	seconds,
	fullScale: 4095,
});
const each = (
	names: readonly FingerName[],
	course: (name: FingerName) => Course,
): Partial<Record<FingerName, Course>> => Object.fromEntries(names.map(name => [name, course(name)]));
const fisted = (names: readonly FingerName[], times = 4): Partial<Record<FingerName, Course>> =>
	each(names, name => cappedAt(fistsOf(name, {times, closed: 80})));

const [four, three, two]: FingerName[][] = [
	['thumb', 'index', 'middle', 'ring'],
	['index', 'middle', 'ring'],
	['index', 'middle'],
];

/** Three fingers that only just reach the ceiling and leave it at once, a grasp every `period` seconds after a rest. */
function grasps(from: number, period: number): Drawing {
	const ways = {index: 0.4, middle: 0.46, ring: 0.38};
	const points = (way: number): [number, number][] =>
		[from, from + period, from + 2 * period, from + 3 * period].flatMap((at): [number, number][] => [
			[at, 20],
			[at + way, 70],
			[at + 2 * way, 20],
		]);
	const capped = Object.fromEntries(
		Object.entries(ways).map(([name, way]) => [name, cappedAt(through(...points(way)))]),
	);
	return {channels: fiveFingers(capped, {from, period}), seconds: from + 4 * period, fullScale: 4095};
}

/** One finger after the other to the ceiling, `times` there and back; the others end at 55 % FS. */
function oneByOne(capped: readonly FingerName[], times: number): Drawing {
	const alone = (name: FingerName): Course =>
		fistsOf(name, {times, from: 1 + 2 * times * fingerNames.indexOf(name), closed: capped.includes(name) ? 80 : 55});
	return {
		channels: each(fingerNames, name => cappedAt(alone(name))) as Record<string, Course>,
		seconds: 10 * times + 2,
		fullScale: 4095,
	};
}

test.each<[string, Drawing]>([
	['three of five fingers end at 66 % FS', glove(fisted(three))],
	['all five', glove(fisted(fingerNames))],
	// A stop and a hand that brakes are told apart by times that lie between two frames.
	['at 60 frames a second', {...glove(fisted(three)), rate: 60}],
	['after three closings and three openings', glove(fisted(three, 3), 3)],
	['three fingers that are there for 2.5 % of the time', grasps(6, 7)],
	['four fingers moved one by one, four times each', oneByOne(four, 4)],
])('is raised: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing))).toEqual(['shared-ceiling']);
});

test.each<[string, Drawing]>([
	['two fingers with tops alike', glove(fisted(two))],
	['tops that differ, the must not', glove({})],
	[
		'open hands that lie alike at 66 % FS',
		glove(each(fingerNames, name => cappedAt(fistsOf(name, {open: 80, closed: 20})))),
	],
	['three tops at 45 % FS', glove(each(three, name => cappedAt(fistsOf(name), 45)))],
	['five movements', glove(fisted(three, 3), 3, 6.1)],
	['three fingers that are there for 1.4 % of the time', grasps(11, 14)],
	['three fingers moved one by one', oneByOne(three, 4)],
	['four fingers moved one by one, three times each', oneByOne(four, 3)],
])('is silent: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(name => name === 'shared-ceiling')).toEqual([]);
});

test('waits for whole-hand movements', () => {
	const {checks} = sessionOver(glove(fisted(three, 2), 2)).snapshot();
	expect(checks.find(({code}) => code === 'shared-ceiling')).toMatchObject({state: 'waiting', seen: 4});
});

test('tells the level and the fingers', () => {
	const [finding] = sessionOver(glove(fisted(three))).findings;
	expect(finding.status).toBe('out-of-spec');
	expect(finding.evidence).toMatchObject({
		levelPercentFs: expect.closeTo(66, 0),
		fingers: 'index, middle, ring',
		impliedSupplyOfReference: expect.closeTo(0.66, 2),
	});
});
