import {expect, test} from 'vitest';
import type {Fault, Way} from '../../source/faults/fault.ts';
import {atLeast, atMost, chances, type Limit, unless} from '../../source/faults/gates/gate.ts';
import {gateWords, rangeText, sentence, waysInWords} from '../../source/faults/limit-text.ts';
import {findFault} from '../../source/faults/registry.ts';

// `explain` and docs/faults.md tell every condition of a check once, with its number and unit (check-values D5.1).

const limit = (raise: number, unit: string, more: Partial<Limit> = {}): Limit => ({
	raise,
	must: null,
	mustNot: null,
	unit,
	because: 'drawn for this test',
	...more,
});
const way = (name: string): Way => ({
	name,
	limits: {window: limit(60, 's'), times: limit(3, 'jumps'), height: limit(20, '% FS'), length: limit(0.06, 's')},
	gates: [
		unless('wired', 'a pin that is wired', () => undefined),
		chances('times', () => 0, 'do it again'),
		atLeast('height', () => 0),
		atMost('length', () => 0),
	],
	sign: () => ({from: 0, summary: '', evidence: {}}),
});
const fault = (...ways: readonly Way[]): Fault => ({...findFault('dropout')!, ways});

test('a way in words is what its gates ask, in their order, and then the limits that go into what a gate measures', () => {
	const [only] = waysInWords(fault(way('only')));
	expect(only.name).toBeNull();
	expect(only.conditions.map(({name, asks, limit: own}) => [name, asks, own?.raise ?? null])).toEqual([
		['wired', 'a pin that is wired', null],
		['times', 'at least 3 jumps', 3],
		['height', 'at least 20 % FS', 20],
		['length', 'at most 0.06 s', 0.06],
		['window', '60 s', 60],
	]);
});

test('ways are named only where there are two', () => {
	expect(waysInWords(fault(way('slow'), way('quick'))).map(({name}) => name)).toEqual(['slow', 'quick']);
	expect(waysInWords(fault())).toEqual([]);
});

test.each([
	['nothing where all of it is the limit itself', limit(3, 's', {must: 3}), ''],
	['nothing where there is no definition', limit(3, 's'), ''],
	['the definition', limit(0.35, '', {must: 0.25, mustNot: 0.5}), 'Found at 0.25, silent at 0.5 by definition.'],
	[
		'a must that is the limit, beside a must not',
		limit(3, '', {must: 3, mustNot: 1}),
		'Found at 3, silent at 1 by definition.',
	],
	['where an open finding closes', limit(3, '', {must: 3, clear: 2}), 'An open finding closes at 2.'],
	['nothing of closing at the limit itself', limit(3, '', {must: 4, clear: 3}), 'Found at 4 by definition.'],
	[
		'both',
		limit(0.35, '', {must: 0.25, mustNot: 0.5, clear: 0.4}),
		'Found at 0.25, silent at 0.5 by definition; an open finding closes at 0.4.',
	],
])('of the range of a limit is told: %s', (_title, of, text) => {
	expect(rangeText(of)).toBe(text);
});

test('a name becomes words, and a text a sentence', () => {
	expect(gateWords('lastsAfterMoving')).toBe('lasts after moving');
	expect([sentence('it is so'), sentence('It is so. '), sentence('')]).toEqual(['It is so.', 'It is so.', '']);
});
