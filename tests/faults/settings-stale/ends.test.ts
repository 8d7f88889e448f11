import {expect, test} from 'vitest';
import {firstClosed} from '../../../source/faults/ask.ts';
import {insideWay, outsideWay} from '../../../source/faults/settings-stale/ends.ts';
import {farthestEnd, mostInside, mostOutside, newEnds, newLines} from '../../../source/faults/settings-stale/sheet.ts';
import type {Features} from '../../../source/features/features.ts';
import {high, low} from '../../../source/features/travel-ends.ts';

// Check-values D5.4, settings-stale, of what is measured of a finger beside what its sheet says, in rows; the gloves that show it are in
// settings-stale.test.ts.

/** Counts. The sheet says that the finger goes from 1000 to 3000; `ever`: the extreme readings of the epoch. */
type Seen = {
	readonly ends?: readonly [low: number, high: number];
	readonly ever?: readonly [low: number, high: number];
	/** Other fingers that the sheet tells of: whether their ends are known, and trips of each. */
	readonly others?: readonly {readonly known: boolean; readonly trips: number}[];
	readonly areKnown?: boolean;
};

function featuresOf({ends = [1000, 3000], ever = ends, others = [], areKnown = true}: Seen): Features {
	const fingers = [0, ...others.map((_, i) => i + 1)];
	return {
		travelEnds: {
			of: (_a: number, side: number) => ends[side === low ? 0 : 1],
			areKnown: (f: number) => (f === 0 ? areKnown : others[f - 1].known),
			visits: () => 3,
		},
		declared: {has: () => true, min: [1000], max: [3000], spanOf: () => 2000},
		analog: {spans: {low: [ever[0]], high: [ever[1]]}, trips: {count: [6, ...others.map(({trips}) => trips)]}},
		handAt: () => ({others: (a: number) => fingers.filter(f => f !== a)}),
		analogName: () => 'ring',
	} as unknown as Features;
}

test.each<[string, Seen, {inside: number; outside: number; end: number}]>([
	['as the sheet says', {}, {inside: 0, outside: 0, end: low}],
	['200 counts inside below: 10 % of the sheet’s span', {ends: [1200, 3000]}, {inside: 10, outside: 0, end: low}],
	['300 inside above', {ends: [1000, 2700]}, {inside: 15, outside: 0, end: high}],
	['200 inside below, 300 above', {ends: [1200, 2700]}, {inside: 15, outside: -10, end: high}],
	['120 outside above', {ends: [1000, 3120]}, {inside: 0, outside: 6, end: low}],
	[
		'inside by its visits, but it has been as far as the sheet says',
		{ends: [1200, 2900], ever: [1000, 2950]},
		{inside: 2.5, outside: -5, end: high},
	],
])('how far the ends lie off: %s', (_title, seen, {inside, outside, end}) => {
	const features = featuresOf(seen);
	expect(mostInside(features, 0)).toBeCloseTo(inside, 9);
	expect(mostOutside(features, 0)).toBeCloseTo(outside, 9);
	expect(farthestEnd(features, 0, 1)).toBe(end);
});

test('nothing is said of ends that are not known', () => {
	const features = featuresOf({areKnown: false});
	expect([mostInside(features, 0), mostOutside(features, 0)]).toEqual([undefined, undefined]);
});

test('the new line gives both ends as whole counts', () => {
	const features = featuresOf({ends: [1203.6, 2899.4]});
	expect(newEnds(features, 0)).toBe('min = 1204, max = 2899');
	expect(newLines(features, 0, newEnds(features, 0))[1]).toBe(
		'Then write into the sheet, under ring, and into the firmware: min = 1204, max = 2899',
	);
});

const known = {known: true, trips: 6};
const moves = {known: false, trips: 2};
const still = {known: false, trips: 0};
test.each<[string, NonNullable<Seen['others']>, string | undefined]>([
	['two other fingers are known, a third moves: one factor shows on three', [known, known, moves], undefined],
	['one is known, and no other moves', [known, still], undefined],
	['one is known, and one moves whose ends are not', [known, moves], 'the ends of 1 other fingers are known'],
	['none is known, one moves', [moves, still], 'the ends of 0 other fingers are known'],
	['nothing else moves', [still, still], undefined],
])('whether it is one factor for all shows once the others are known: %s', (_title, others, says) => {
	const gate = outsideWay.gates.find(({name}) => name === 'others');
	if (gate?.kind !== 'unless') throw new Error('no such gate');
	expect(insideWay.gates).toContain(gate);
	expect(gate.says(featuresOf({others}), 0)).toBe(says);
	expect(firstClosed({...outsideWay, gates: [gate]}, featuresOf({others}), 0) === undefined).toBe(says === undefined);
});
