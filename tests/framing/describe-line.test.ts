import {expect, test} from 'vitest';
import {describeLine} from '../../source/framing/describe-line.ts';
import {readLine} from '../../source/framing/line-tokens.ts';
import {plainDialect} from '../../source/framing/read-value.ts';
import {toBytes} from './record-framer.ts';

function describeText(text: string) {
	const bytes = toBytes(text);
	return describeLine(readLine(bytes, 0, bytes.length, plainDialect)!);
}

test.each([
	['one value with its label', 'bend:512', ['bend']],
	['a label before each value', 'thumb:512 index:498', ['thumb', 'index']],
	['no label at all', '512,498', [null, null]],
	['one word before all values: a prefix', 'DATA: 512,498,600', [null, null, null]],
	['a frame number before all values, which is its own', 'n: 7,498,600', ['n', null, null]],
	['a label before each group', 'F:512,498 S:510,512', ['F.0', 'F.1', 'S.0', 'S.1']],
	['a group, and a label with one value of its own', 'F:512,498 B:1', ['F.0', 'F.1', 'B']],
	['values before the first group', '7 F:512,498 S:510', [null, 'F.0', 'F.1', 'S']],
])('labels of %s', (_title, text, labels) => {
	expect(describeText(text).labels).toEqual(labels);
});

test.each([
	['bare numbers', '512,498,600', true],
	['a label and its sign before each', 'thumb:512 index=498', true],
	['one word in front of three values', 'DATA 512 498 600', true],
	['a word before each of three values', 'T 512 I 498 M 600', true],
	['units', '512 mV 498 mV', true],
	['words before two values, without a sign', 'retry 3 within 5', false],
	['a sentence that holds numbers', 'Waiting 3 s for the last 5 of them: 7', false],
	['a sign for one of two words', 'got 3, wants: 5', false],
	['no number', 'ready', false],
])('a line can be a frame, or cannot: %s', (_title, text, isOne) => {
	expect(describeText(text).frameLike).toBe(isOne);
});

test.each([
	['behind each value, labels before them', 'thumb:512 mV index:498 mV', ['mV', 'mV']],
	['behind the last value alone', 'thumb:512 index:498 mV', [null, 'mV']],
	['counts say nothing', '512 counts, 498 counts', [null, null]],
	['none', '512,498', [null, null]],
])('units of a line: %s', (_title, text, units) => {
	expect(describeText(text).units).toEqual(units);
});
