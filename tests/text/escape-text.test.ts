import fc from 'fast-check';
import stringWidth from 'string-width';
import stripAnsi from 'strip-ansi';
import {describe, expect, test} from 'vitest';
import {escapeText, spellHidden} from '../../source/text/escape-text.ts';

/** What no terminal must ever be sent: C0, DEL, C1 (check-values E1, E2), and what hides or reorders text (check-values E6). */
const dangerous =
	/[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u202a-\u202e\u2028\u2029\u2066-\u2069\ufeff\u00ad\u061c\ud800-\udfff]/u;

describe('escaped device text', () => {
	// Check-values E5: attacks by way of a terminal.
	test.each([
		['sets the title', '\u001b]0;x\u0007', '\\x1b]0;x\\x07'],
		['writes the clipboard', '\u001b]52;c;cHVwcGV0\u0007', '\\x1b]52;c;cHVwcGV0\\x07'],
		['makes the terminal type its position', '\u001b[6n', '\\x1b[6n'],
		['makes the terminal type what it is', '\u001b[c', '\\x1b[c'],
		['clears the screen', '\u001b[2J', '\\x1b[2J'],
		['resets the terminal', '\u001bc', '\\x1bc'],
		['prints over the line', 'all is well\rstuck', 'all is well\\x0dstuck'],
		['takes characters back', 'ring\b\b\b\bthumb', 'ring\\x08\\x08\\x08\\x08thumb'],
		['a control sequence in C1', '\u009b31m', '\\x9b31m'],
		['a string that never ends', '\u001bPq', '\\x1bPq'],
		['rings the bell', '\u0007', '\\x07'],
		['moves on by a tab or a line', 'a\tb\nc', 'a\\x09b\\x0ac'],
		['DEL', '\u007f', '\\x7f'],
	])('%s', (_name, attack, shown) => {
		expect(escapeText(attack)).toBe(shown);
		expect(escapeText(Buffer.from(attack))).toBe(shown);
	});

	test('shows what hides or reorders', () => {
		for (const code of [
			0x202a, 0x202e, 0x2066, 0x2069, 0x200e, 0x200f, 0x200b, 0x200d, 0x2028, 0x2029, 0xfeff, 0xad, 0x61c, 0x3164,
			0xfe0f, 0xe0041, 0xe000,
		])
			expect(escapeText(`a${String.fromCodePoint(code)}b`)).toBe(`a\\u{${code.toString(16)}}b`);
	});

	test('does more than taking escape sequences out, which leaves what moves the cursor or hides text', () => {
		// strip-ansi is the registry's usual way to clean terminal text.
		for (const attack of ['all is well\rstuck', 'ring\b\b', 'a\u202e cba', 'a\u200bb', '512\u0007', 'a\u2028b']) {
			expect(stripAnsi(attack)).toMatch(dangerous);
			expect(escapeText(attack)).not.toMatch(dangerous);
			expect(stripAnsi(escapeText(attack))).toBe(escapeText(attack));
		}
	});

	test('shows the colour codes of boot lines', () => {
		// Public ESP32 serial logs.
		expect(escapeText('\u001b[0;32mI (32) boot: x\u001b[0m')).toBe('\\x1b[0;32mI (32) boot: x\\x1b[0m');
	});

	test('shows bytes that are no UTF-8 as themselves, and leaves the text around them readable', () => {
		expect(escapeText(Uint8Array.from([0x80, 0x35, 0xb0, 0xff]))).toBe('\\x805\\xb0\\xff');
		expect(escapeText(Buffer.concat([Buffer.from('5 µ'), Buffer.from([0xc3, 0x28])]))).toBe('5 µ\\xc3(');
		// Overlong slash, surrogate, beyond U+10FFFF, a sequence that breaks off (RFC 3629).
		expect(escapeText(Uint8Array.from([0xc0, 0xaf]))).toBe('\\xc0\\xaf');
		expect(escapeText(Uint8Array.from([0xed, 0xa0, 0x80]))).toBe('\\xed\\xa0\\x80');
		expect(escapeText(Uint8Array.from([0xf4, 0x90, 0x80, 0x80]))).toBe('\\xf4\\x90\\x80\\x80');
		expect(escapeText(Uint8Array.from([0xe2, 0x82]))).toBe('\\xe2\\x82');
		expect(escapeText('\ud800x')).toBe('\\u{d800}x');
	});

	test('leaves ordinary text alone', () => {
		for (const text of ['512,498\\x', 'µ ° Ω é 漢 ﬀ', 'e\u0301', '🧤']) expect(escapeText(text)).toBe(text);
	});

	test("keeps marks from piling up, or from standing on text that is not the device's", () => {
		expect(escapeText('\u0301a')).toBe('\\u{301}a');
		expect(escapeText(`a${'\u0301'.repeat(5)}`)).toBe(`a\u0301\u0301${'\\u{301}'.repeat(3)}`);
	});

	test('is never longer than the columns it is given, and says where it was cut', () => {
		expect(escapeText('0123456789', 10)).toBe('0123456789');
		expect(escapeText('0123456789', 9)).toBe('01234567…');
		expect(escapeText('ab\u001b[2J', 5)).toBe('ab…');
		expect(escapeText('漢漢漢', 4)).toBe('漢…');
		expect(escapeText('abc', 0)).toBe('');
	});

	test('spells for other languages what it would not show itself, and marks too', () => {
		const spell = (codePoint: number) => `<${codePoint.toString(16)}>`;
		expect(spellHidden('a\u009bb\u202ec\u{e0041}d\ud800e\u0301 é漢🧤\n\\', spell)).toBe(
			'a<9b>b<202e>c<e0041>d<d800>e<301> é漢🧤\n\\',
		);
		fc.assert(
			fc.property(fc.string({unit: 'binary'}), text => {
				const plain = spellHidden(text, () => '');
				// Only C0, which is the caller's, is left to be escaped.
				expect(escapeText(plain.replace(/[\u0000-\u001f]/g, ''))).toBe(plain.replace(/[\u0000-\u001f]/g, ''));
			}),
		);
	});

	test('holds nothing dangerous and fits, whatever the bytes', () => {
		const any = fc.oneof(fc.uint8Array({maxLength: 60}), fc.string({unit: 'binary', maxLength: 40}));
		fc.assert(
			fc.property(any, fc.integer({min: 0, max: 40}), (input, columns) => {
				const text = escapeText(input, columns);
				expect(text).not.toMatch(dangerous);
				expect(stringWidth(text)).toBeLessThanOrEqual(columns);
				expect(escapeText(input)).not.toMatch(dangerous);
			}),
			{numRuns: 500},
		);
	});
});
