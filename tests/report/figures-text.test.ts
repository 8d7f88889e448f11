import {describe, expect, it} from 'vitest';
import {countText, evidenceText, figureText, secondsText} from '../../source/report/figures-text.ts';

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

	it('reads the unit of evidence off its name', () => {
		expect(evidenceText('restNoisePercentFs', 4.13)).toBe('rest noise 4.13 % FS');
		expect(evidenceText('mainsHertz', 50)).toBe('mains 50 Hz');
		expect(evidenceText('jumps', 21)).toBe('jumps 21');
		expect(evidenceText('changePercentOfSpan', 12)).toBe('change 12 % of span');
		expect(evidenceText('copyOf', 'index')).toBe('copy of index');
		expect(evidenceText('constructor', 'of a later version')).toBe('constructor of a later version');
	});
});
