import {expect, test} from 'vitest';
import type {Fault, Way} from '../../source/faults/fault.ts';
import {atLeast, chances, type Gate, ground, type Limit, unless, waitsFor} from '../../source/faults/gates/gate.ts';
import {progressOf} from '../../source/faults/progress.ts';
import {findFault} from '../../source/faults/registry.ts';
import type {Features} from '../../source/features/features.ts';

// Check-values D4, `checks`: chances seen, chances needed and the movement that gives the next; of a refusal the gate, what it saw and what
// it asks. What each gate sees stands in a row.

type Seen = {
	readonly applies?: boolean;
	readonly times?: number;
	readonly turns?: number;
	readonly rest?: string;
	readonly high?: number;
	readonly against?: string;
};
const seenBy = (features: Features): Seen => features as unknown as Seen;
const limit = (raise: number, unit: string): Limit => ({
	raise,
	must: null,
	mustNot: null,
	unit,
	because: 'drawn for this test',
});
const gates: readonly Gate[] = [
	ground('applies', 'a place that it is about', features => seenBy(features).applies !== false),
	chances('times', features => seenBy(features).times, 'do it again'),
	chances(
		'turns',
		features => seenBy(features).turns ?? 2,
		() => 'turn it once more',
	),
	waitsFor('rest', 'a rest', features => seenBy(features).rest, 'rest the hand'),
	atLeast('high', features => seenBy(features).high),
	unless('against', 'nothing against it', features => seenBy(features).against),
];
const way: Way = {
	name: 'only',
	limits: {times: limit(3, 'times'), turns: limit(2, 'turns'), high: limit(10, '% FS')},
	gates,
	sign: () => ({from: 0, summary: '', evidence: {}}),
};
const progress = (seen: Seen, ways: readonly Way[] = [way]) => {
	const fault: Fault = {...findFault('narrow-span')!, ways};
	return progressOf(fault, seen as unknown as Features, 0);
};

const waits = {waits: true, next: 'do it again'};
test.each<[string, Seen, Record<string, unknown>, Record<string, unknown> | null]>([
	[
		'no chance yet',
		{},
		{seen: 0, needed: 3, next: 'do it again'},
		{gate: 'times', saw: 0, asks: 'at least 3 times', ...waits},
	],
	['two of three', {times: 2}, {seen: 2, needed: 3, next: 'do it again'}, {gate: 'times', saw: 2, ...waits}],
	[
		'the first that count are full, the others not',
		{times: 3, turns: 1},
		{seen: 1, needed: 2, next: 'turn it once more'},
		{gate: 'turns', saw: 1, asks: 'at least 2 turns', waits: true, next: 'turn it once more'},
	],
	[
		'all are full, and a rest is waited for: one chance more',
		{times: 3, rest: 'it moves'},
		{seen: 1, needed: 2, next: 'rest the hand'},
		{gate: 'rest', saw: 'it moves', asks: 'a rest', waits: true, next: 'rest the hand'},
	],
	[
		'a figure that cannot be measured yet',
		{times: 3},
		{seen: 2, needed: 2, next: null},
		{gate: 'high', saw: null, asks: 'at least 10 % FS', waits: true, next: null},
	],
	[
		'a figure below its limit',
		{times: 3, high: 9},
		{seen: 2, needed: 2},
		{gate: 'high', saw: 9, waits: false, next: null},
	],
	[
		'something that speaks against it',
		{times: 7, high: 11, against: 'it follows the hand'},
		{seen: 2, needed: 2, next: null},
		{gate: 'against', saw: 'it follows the hand', asks: 'nothing against it', waits: false, next: null},
	],
	['nothing left: it is raised', {times: 3, high: 10}, {seen: 2, needed: 2, next: null}, null],
])('how far a check has come: %s', (_title, seen, counted, refusal) => {
	const told = progress(seen)!;
	expect(told.chances).toMatchObject(counted);
	if (refusal === null) expect(told.refusal).toBeNull();
	else expect(told.refusal).toMatchObject(refusal);
});

test('tells nothing of a place that it is not about', () => {
	expect(progress({applies: false})).toBeUndefined();
});

test('of two ways tells the gate of the one that came farther, and the chances of the one that lacks most', () => {
	const slow: Way = {...way, name: 'slow', limits: {...way.limits, times: limit(12, 'times')}};
	const told = progress({times: 3, high: 9}, [slow, way])!;
	expect([told.way.name, told.refusal?.gate]).toEqual(['only', 'high']);
	expect(told.chances).toEqual({seen: 3, needed: 12, next: 'do it again'});
});
