import fc from 'fast-check';
import {expect, test} from 'vitest';
import {plainDialect, reading, readValue} from '../../source/framing/read-value.ts';
import {record, toBytes} from './record-framer.ts';

function read(text: string, change: Partial<typeof plainDialect> = {}): [number, number] {
	const bytes = toBytes(text);
	const end = readValue(bytes, 0, bytes.length, {...plainDialect, ...change});
	return [end, reading.value];
}

test.each([
	['512', 3, 512],
	['-12.50', 6, -12.5],
	['+7', 2, 7],
	['.5', 2, 0.5],
	['5.', 2, 5],
	['1e3', 3, 1000],
	['1.5E-3,', 6, 0.0015],
	['12em', 2, 12],
	['0x1FF', 5, 511],
	['-0x10', 5, -16],
	['0xg', 1, 0],
	['true', 4, 1],
	['Released', 8, 0],
	['09:14:07.112', 12, 33_247.112],
	['9:14:07', 7, 33_247],
	['12:30', 2, 12],
	// RFC 3339 section 5.8 (check-values F18), and the time field of the example in RFC 9562 (check-values F20).
	['1985-04-12T23:20:50.52Z', 23, 482_196_050.52],
	['2022-02-22 19:22:22', 19, 1_645_557_742],
	// One digit for the hour, as of a time alone: ten hours before the last one.
	['2022-02-22 9:22:22', 18, 1_645_521_742],
	['2022-02-22 9:22:22.5', 20, 1_645_521_742.5],
	['9:14:07. ', 7, 33_247],
])('%s', (text, end, value) => {
	expect(read(text)).toEqual([end, value]);
	// Wherever in a line it stands.
	const bytes = toBytes(`512,498,600,712,433,${text}`);
	expect([readValue(bytes, 20, bytes.length, plainDialect) - 20, reading.value]).toEqual([end, value]);
	// What stands behind the end is not looked at.
	expect([readValue(toBytes(`${text}7e7`), 0, text.length, plainDialect), reading.value]).toEqual([end, value]);
});

test.each(['nan', '-inf', 'null', 'ovf'])('%s is a value that is none', text => {
	expect(read(text)).toEqual([text.length, Number.NaN]);
});

test.each(['', '-', '+', '.', 'thumb', 'e5', '-.', 'truer', 'nan5', '--5'])('nothing is read from "%s"', text => {
	expect(read(text)[0]).toBe(-1);
	const bytes = toBytes(`512,${text}`);
	expect(readValue(bytes, 4, bytes.length, plainDialect)).toBe(-1);
});

test('a decimal comma needs a digit behind it', () => {
	expect(read('12,5', {decimalComma: true})).toEqual([4, 12.5]);
	expect(read('12,', {decimalComma: true})).toEqual([2, 12]);
});

test('bare hexadecimal has its number of digits, no more and no less', () => {
	expect(read('01FF', {hexDigits: 4})).toEqual([4, 511]);
	expect(read('01F', {hexDigits: 4})[0]).toBe(-1);
	expect(read('01FF0', {hexDigits: 4})[0]).toBe(-1);
	expect(readValue(toBytes('01FF0'), 0, 4, {...plainDialect, hexDigits: 4})).toBe(4);
});

test('every finite number comes back as JavaScript writes it, on the fast path too', () => {
	fc.assert(
		fc.property(fc.double({noNaN: true, noDefaultInfinity: true}), value => {
			const text = String(value);
			expect(read(text)).toEqual([text.length, value === 0 ? 0 : value]);
		}),
	);
	fc.assert(
		fc.property(
			fc.array(fc.tuple(fc.integer({min: -99_999_999, max: 99_999_999}), fc.nat(8)), {minLength: 5, maxLength: 5}),
			parts => {
				const texts = parts.map(([whole, places]) => (whole / 10 ** places).toFixed(places));
				const frames = [...new Array(8).fill('1.5,2.5,3.5,4.5,5.5'), texts.join()];
				const {recorder} = record(`${frames.join('\n')}\n`);
				expect(recorder.values[8]).toEqual(texts.map(text => Number(text) + 0));
			},
		),
		{numRuns: 200},
	);
});
