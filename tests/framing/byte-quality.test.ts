import fc from 'fast-check';
import {describe, expect, test} from 'vitest';
import {ByteQuality, countNonText} from '../../source/framing/byte-quality.ts';
import {toBytes} from './record-framer.ts';

describe('bytes that are text', () => {
	test.each(['512,498\r\n', '\tT:5', 'µ ° Ω é 漢 🧤', '\u001b[0;32mI (32) boot\u001b[0m', '', '5°,µ'])(
		'%j counts none',
		text => {
			expect(countNonText(toBytes(text))).toBe(0);
		},
	);

	test('zeros between characters count none, in either byte order', () => {
		const little = Buffer.from('512,498\r\n'.repeat(50), 'utf16le');
		expect(countNonText(little)).toBe(0);
		// The very first zero has no character before it.
		expect(countNonText(Buffer.from(little).swap16())).toBeLessThanOrEqual(1);
	});
});

describe('bytes that are no text', () => {
	test('controls count, but TAB, LF, CR and ESC do not', () => {
		const controls = Uint8Array.from([...Array.from({length: 31}, (_, i) => i + 1), 0x7f]);
		expect(countNonText(controls)).toBe(controls.length - 4);
	});

	// RFC 3629 section 3 and 4: overlong forms, surrogates and code points beyond U+10FFFF are no UTF-8.
	test.each([
		['lone continuation', [0x41, 0x80], 1],
		['overlong slash', [0xc0, 0xaf], 2],
		['overlong in three bytes', [0xe0, 0x80, 0xaf], 3],
		['surrogate', [0xed, 0xa0, 0x80], 3],
		['beyond U+10FFFF', [0xf4, 0x90, 0x80, 0x80], 4],
		['a sequence that breaks off', [0xe2, 0x82, 0x41], 2],
		['a degree sign in Latin-1 behind a letter', [0x41, 0xb0], 1],
		['the same behind a digit or a blank', [0x35, 0xb0, 0x20, 0xb5], 0],
		['bytes that never occur', [0xfe, 0xff, 0xf5], 3],
		['the last code point', [0xf4, 0x8f, 0xbf, 0xbf], 0],
	])('%s', (_name, bytes, count) => {
		expect(countNonText(Uint8Array.from(bytes))).toBe(count);
	});

	test('zeros in junk count, zeros alone count', () => {
		expect(countNonText(new Uint8Array(50))).toBe(50);
		expect(countNonText(Uint8Array.from([0x80, 0, 0xf8, 0, 0]))).toBe(5);
	});

	test('agrees with a strict decoder on what is UTF-8, byte for byte of valid input', () => {
		const strict = new TextDecoder('utf-8', {fatal: true});
		fc.assert(
			fc.property(fc.uint8Array({minLength: 1, maxLength: 12}), raw => {
				// Keep to bytes whose only question is UTF-8; Latin-1 degree and micro signs are let through on purpose.
				const bytes = raw.map(byte => (byte < 0x80 || byte === 0xb0 || byte === 0xb5 ? 0x41 : byte));
				const padded = Uint8Array.from([...bytes, 0x0a]);
				let valid = true;
				try {
					strict.decode(padded);
				} catch {
					valid = false;
				}

				expect(countNonText(padded) === 0).toBe(valid);
			}),
			{numRuns: 2000},
		);
	});

	test('text that a layout has read already excuses as many zeros as text that is looked at', () => {
		const [read, seen] = [new ByteQuality(), new ByteQuality()];
		read.takeText(20);
		seen.take(toBytes('512,498,600,712,433\n'), 0, 20);
		for (const quality of [read, seen]) {
			quality.take(new Uint8Array(23), 0, 23);
			expect(quality.nonText).toBe(3);
		}
	});

	test('counts the same whatever the chunks', () => {
		fc.assert(
			fc.property(fc.uint8Array({maxLength: 80}), fc.nat(80), (bytes, cut) => {
				const quality = new ByteQuality();
				const at = Math.min(cut, bytes.length);
				quality.take(bytes, 0, at);
				quality.take(bytes, at, bytes.length);
				expect(quality.nonText).toBe(countNonText(bytes));
			}),
		);
	});
});
