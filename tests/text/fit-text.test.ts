import fc from 'fast-check';
import stringWidth from 'string-width';
import {describe, expect, it} from 'vitest';
import {cutText, fitLeft, fitRight, shorten, wrapText} from '../../source/text/fit-text.ts';
import {textWidth} from '../../source/text/text-width.ts';

const text = fc.string({unit: fc.constantFrom('a', ' ', '…', '█', '糸', 'é', 'e\u0301', '👍🏽', 'ﾞ')});

describe('fitting text', () => {
	it('never halves a wide character', () => {
		expect(cutText('操り人形', 3)).toBe('操');
		expect(fitLeft('操り人形', 3)).toBe('操 ');
		expect(fitRight('操り', 5)).toBe(' 操り');
	});

	it('marks what had to go', () => {
		expect(shorten('left hand of the dragon', 9, '…')).toBe('left han…');
		expect(shorten('left hand', 9, '…')).toBe('left hand');
	});

	it('fills exactly the width asked for, whatever the text', () => {
		fc.assert(
			fc.property(text, fc.integer({min: 0, max: 30}), (given, width) => {
				expect(stringWidth(fitLeft(given, width, '…'))).toBe(width);
				expect(stringWidth(fitRight(given, width))).toBe(width);
			}),
		);
	});

	it('wraps at spaces into lines that fit, and loses no word', () => {
		expect(wrapText('Wiggle each wire and connector', 12)).toEqual(['Wiggle each', 'wire and', 'connector']);
		expect(wrapText('abcdefghij k', 4)).toEqual(['abcd', 'efgh', 'ij k']);
		fc.assert(
			fc.property(text, fc.integer({min: 2, max: 30}), (given, width) => {
				const lines = wrapText(given, width);
				for (const line of lines) expect(stringWidth(line)).toBeLessThanOrEqual(width);
				expect(lines.join('').replaceAll(' ', '')).toBe(given.replace(/\s/g, ''));
			}),
		);
	});
});

describe('textWidth', () => {
	it('agrees with string-width', () => {
		fc.assert(
			fc.property(fc.string({unit: 'grapheme'}), given => {
				expect(textWidth(given)).toBe(stringWidth(given));
			}),
		);
		expect(textWidth('▸ ····[█▏░]±–…│╭◆■')).toBe(stringWidth('▸ ····[█▏░]±–…│╭◆■'));
	});
});
