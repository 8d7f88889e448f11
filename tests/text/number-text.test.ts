import {describe, expect, it} from 'vitest';
import {
	bytesText,
	countText,
	figureText,
	fixedText,
	measureText,
	secondsText,
	signedText,
	significantText,
	trimmedText,
} from '../../source/text/number-text.ts';

describe('figures for a reader', () => {
	it.each([
		[0.46512, '0.465'],
		[12.345, '12.3'],
		[511.5, '512'],
		[12_345.6, '12,346'],
		[4095, '4095'],
		[-22.04, '-22'],
		[0, '0'],
		[-0, '0'],
		[2.22e-13, '0'],
		[-3e-9, '0'],
		[0.000123, '0.000123'],
		[1e21, '1e+21'],
		[null, 'n/a'],
		[Number.NaN, 'n/a'],
		[Number.POSITIVE_INFINITY, 'n/a'],
	])('%d is written %s: three figures, thousands grouped, an exponent only beyond all reason', (value, text) => {
		expect(figureText(value)).toBe(text);
	});

	it.each([
		[0.3456, '0.35 s'],
		[12.44, '12.4 s'],
		[200, '3 min 20 s'],
		[3720, '1 h 2 min'],
	])('%d seconds are %s', (seconds, text) => {
		expect(secondsText(seconds)).toBe(text);
	});

	it('names a count by its number', () => {
		expect(countText(1, 'press', 'presses')).toBe('1 press');
		expect(countText(0, 'frame')).toBe('0 frames');
	});

	it('names a size to the byte', () => {
		expect([bytesText(1), bytesText(1234)]).toEqual(['1 byte', '1,234 bytes']);
	});

	it('says what the caller wants where nothing is known', () => {
		expect([figureText(null, 3, '-'), figureText(undefined, 3, '-')]).toEqual(['-', '-']);
	});
});

describe('decimals', () => {
	it('keep their zeros where figures stand below each other', () => {
		expect([fixedText(2, 1), fixedText(-0.5, 2), measureText(8.2, 2, 'ms'), significantText(0.5, 2)]).toEqual([
			'2.0',
			'-0.50',
			'8.20 ms',
			'0.50',
		]);
	});

	it('lose their zeros in a sentence', () => {
		expect([trimmedText(2, 1), trimmedText(2.54, 1), trimmedText(2.04, 1)]).toEqual(['2', '2.5', '2']);
	});

	it('show a plus above zero where they tell a deviation', () => {
		expect([signedText(0.16, 1), signedText(-3.5, 1), signedText(0, 1)]).toEqual(['+0.2', '-3.5', '0.0']);
	});

	it('are a dash where nothing is known', () => {
		expect([fixedText(null, 1), fixedText(undefined, 1), measureText(null, 1, 'mm'), significantText(null, 2)]).toEqual(
			Array(4).fill('-'),
		);
		expect(fixedText(null, 1, '–')).toBe('–');
	});
});
