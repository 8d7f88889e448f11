import {describe, expect, test} from 'vitest';
import {type Answer, ask, firstClosed, standingSign} from '../../source/faults/ask.ts';
import type {Fault, Sign, Way} from '../../source/faults/fault.ts';
import {atLeast, atMost, chances, type Gate, ground, unless} from '../../source/faults/gates/gate.ts';
import {findFault} from '../../source/faults/registry.ts';
import type {Features} from '../../source/features/features.ts';

// How gates and limits come to an answer, with gates that need no glove: what each sees stands in a row.

/** What the gates see; undefined where it cannot be measured. */
type Seen = {
	readonly applies?: boolean;
	readonly times?: number | undefined;
	readonly high?: number | undefined;
	readonly low?: number | undefined;
	readonly against?: string;
	readonly waiting?: string;
};

const sees = (seen: Seen): Features => seen as unknown as Features;
const seenBy = (features: Features): Seen => features as unknown as Seen;
const limit = (raise: number, clear?: number) =>
	({raise, ...(clear !== undefined && {clear})}) as Way['limits'][string];

const gates: readonly Gate[] = [
	ground('applies', 'a place that it is about', features => seenBy(features).applies !== false),
	chances('times', features => seenBy(features).times, 'do it again'),
	atLeast('high', features => seenBy(features).high),
	atMost('low', features => seenBy(features).low),
	unless('against', 'nothing against it', features => seenBy(features).against),
	{...unless('waiting', 'nothing to wait for', features => seenBy(features).waiting), waits: true} as Gate,
];
const limits = {times: limit(3), high: limit(10, 8), low: limit(4, 5)};
const signed = (summary: string) => (): Sign => ({from: 1, summary, evidence: {}});
const way = (name: string): Way => ({name, limits, gates, sign: signed(name)});
const faultOf = (...ways: readonly Way[]): Fault => ({...findFault('narrow-span')!, ways});

const good: Seen = {times: 3, high: 10, low: 4};

describe('a check with one way', () => {
	const rows: readonly (readonly [title: string, seen: Seen, fresh: Answer['state'], found: Answer['state']])[] = [
		['all open, each at its limit', good, 'raised', 'raised'],
		['a place that it is not about', {...good, applies: false}, 'absent', 'absent'],
		['too few chances keep what was found', {...good, times: 2}, 'refused', 'held'],
		['chances that cannot be counted keep it, too', {...good, times: undefined}, 'refused', 'held'],
		['a figure between both limits', {...good, high: 9}, 'refused', 'held'],
		['a figure at the limit that closes', {...good, high: 8}, 'refused', 'held'],
		['a figure beyond the limit that closes', {...good, high: 7.9}, 'refused', 'refused'],
		['a figure that may not be higher, between both', {...good, low: 4.5}, 'refused', 'held'],
		['at the limit that closes', {...good, low: 5}, 'refused', 'held'],
		['beyond it', {...good, low: 5.1}, 'refused', 'refused'],
		['a figure that cannot be measured closes nothing', {...good, high: undefined}, 'refused', 'held'],
		['what speaks against it closes it', {...good, against: 'it does not'}, 'refused', 'refused'],
		['what is only waited for does not', {...good, waiting: 'a rest'}, 'refused', 'held'],
	];

	test.each(rows)('%s', (_title, seen, fresh, found) => {
		const fault = faultOf(way('only'));
		expect(ask(fault, sees(seen), 0, false).state).toBe(fresh);
		expect(ask(fault, sees(seen), 0, true).state).toBe(found);
		// Asked by the gate that refused before, too; there the place is told from the rest only when all are asked.
		const refusedBy = new Uint8Array(1);
		const first = ask(fault, sees(seen), 0, false, refusedBy);
		const again = ask(fault, sees(seen), 0, false, refusedBy);
		expect(first.sign).toEqual(again.sign);
		expect(again.state === 'raised').toBe(fresh === 'raised');
		expect(ask(fault, sees(good), 0, false, refusedBy)).toMatchObject({state: 'raised', way: 'only'});
	});

	test('tells the first gate that refuses, and by how much the weakest figure is beyond its limit', () => {
		expect(firstClosed(way('only'), sees({...good, times: 2, low: 9}), 0)?.name).toBe('times');
		expect(firstClosed(way('only'), sees({...good, low: 9}), 0)?.name).toBe('low');
		expect(firstClosed(way('only'), sees(good), 0)).toBeUndefined();
		const margin = (seen: Seen) => ask(faultOf(way('only')), sees({...good, ...seen}), 0, false).margin;
		expect(margin({})).toBe(1);
		expect(margin({high: 20})).toBe(1);
		expect(margin({high: 20, low: 1})).toBe(2);
		expect(margin({high: 50, low: 1})).toBe(4);
		// Of a limit that is zero nothing is a ratio.
		const strict = {...way('strict'), limits: {...limits, low: limit(0)}};
		expect(ask(faultOf(strict), sees({...good, high: 20, low: 0}), 0, false).margin).toBe(2);
	});
});

describe('a check with two ways', () => {
	/** The second way asks for ten times as high a figure. */
	const tall: Way = {...way('tall'), limits: {...limits, high: limit(100, 80)}};
	/** A way that is about places where the other is not. */
	const elsewhere: Way = {
		...way('elsewhere'),
		gates: [ground('elsewhere', 'another place', features => seenBy(features).applies === false)],
	};

	test('is raised by the first that is open, and says which', () => {
		expect(ask(faultOf(tall, way('usual')), sees(good), 0, false)).toMatchObject({
			state: 'raised',
			way: 'usual',
			sign: {summary: 'usual'},
		});
		expect(ask(faultOf(tall, way('usual')), sees({...good, high: 100}), 0, false).way).toBe('tall');
	});

	test('is absent only where it is absent in both', () => {
		expect(ask(faultOf(elsewhere, way('usual')), sees({...good, high: 1}), 0, false).state).toBe('refused');
		expect(ask(faultOf(elsewhere, way('usual')), sees({...good, applies: false}), 0, false).way).toBe('elsewhere');
		expect(ask(faultOf(way('usual')), sees({...good, applies: false}), 0, false).state).toBe('absent');
	});

	test('is not kept open by a figure that cannot be measured, as one with one way is', () => {
		expect(ask(faultOf(tall, way('usual')), sees({...good, high: undefined}), 0, true).state).toBe('refused');
		expect(ask(faultOf(tall, way('usual')), sees({...good, high: 9}), 0, true).state).toBe('held');
	});
});

test('the sign of what still stands is that of the first way that does, and none where none does', () => {
	const fault = faultOf(way('usual'));
	expect(standingSign(fault, sees({...good, high: 8}), 0)?.summary).toBe('usual');
	expect(standingSign(fault, sees({...good, high: 7}), 0)).toBeUndefined();
});
