import {describe, expect, test} from 'vitest';
import {readJsonLine} from '../../source/framing/json-line.ts';
import {hexWidth, readLine} from '../../source/framing/line-tokens.ts';
import {plainDialect} from '../../source/framing/read-value.ts';
import {toBytes} from './record-framer.ts';

function read(text: string, change: Partial<typeof plainDialect> = {}) {
	const bytes = toBytes(text);
	const {values, literals} = readLine(bytes, 0, bytes.length, {...plainDialect, ...change})!;
	return {values, literals};
}

describe('bare hexadecimal', () => {
	test.each([
		['fields alone', '01ff,00a0', [511, 160], ['', ',', '']],
		[
			'labels, though all of their letters are hexadecimal digits',
			'bed0:01ff face=00a0',
			[511, 160],
			['bed0:', ' face=', ''],
		],
		['a label in quotes, behind blanks', '"cafe" : 01ff', [511], ['"cafe" : ', '']],
		['a word that is no number of four digits', 'tail 01ff 1ff', [511], ['tail ', ' 1ff']],
	])('is read beside %s', (_title, text, values, literals) => {
		expect(read(text, {hexDigits: 4})).toEqual({values, literals});
	});

	test.each([
		['four digits', '01ff,00a0', 4],
		['two', 'ff 0a', 2],
		['eight', '0000ffff;00000001', 8],
		['nine: no converter gives so much', '00000ffff;000000001', 0],
		['one: a digit may be anything', 'f a 1', 0],
		['fields of different lengths', '01ff,0a0', 0],
		['a letter that is no digit', '01ff,00g0', 0],
		['a sign', '01ff,-0a0', 0],
		['a point', '01ff,0.a0', 0],
		['labels do not count', 'thumb:01ff index:00a0', 4],
		['no field', ';,', 0],
	])('a line of %s', (_title, text, width) => {
		const bytes = toBytes(text);
		expect(hexWidth(bytes, 0, bytes.length)).toBe(width);
	});
});

test('what stands before the line, such as a byte-order mark, takes no exponent from its first value', () => {
	const bytes = toBytes('\ufeff1e3,2');
	expect(readLine(bytes, 3, bytes.length, plainDialect)?.values).toEqual([1000, 2]);
});

test('a line of 256 values may be a frame, of 257 it is none, in JSON too', () => {
	const values = (count: number): number[] => Array.from({length: count}, (_, i) => i);
	const plain = (count: number) => toBytes(values(count).join());
	const json = (count: number) => toBytes(JSON.stringify({fingers: values(count)}));
	for (const [count, read] of [
		[256, values(256)],
		[257, undefined],
	] as const) {
		expect(readLine(plain(count), 0, plain(count).length, plainDialect)?.values).toEqual(read);
		expect(readJsonLine(json(count), 0, json(count).length)?.values).toEqual(read);
	}
});
