import stringWidth from 'string-width';
import {describe, expect, it} from 'vitest';
import {makeLook, wantsAscii} from '../../source/screen/look.ts';

/** Every string in a value, however deep. */
function strings(value: unknown): string[] {
	if (typeof value === 'string') return [value];
	return typeof value === 'object' && value !== null ? Object.values(value).flatMap(strings) : [];
}

describe('glyphs', () => {
	it('are one column wide each', () => {
		const {glyphs} = makeLook({ascii: false, colorDepth: 24});
		for (const glyph of strings(glyphs)) expect([glyph, stringWidth(glyph)]).toEqual([glyph, 1]);
	});

	it('are plain ASCII where asked for', () => {
		for (const glyph of strings(makeLook({ascii: true, colorDepth: 1}).glyphs)) expect(glyph).toMatch(/^[ -~]*$/);
	});
});

describe('wantsAscii', () => {
	it('is true when asked for, on terminals with small fonts, and without UTF-8', () => {
		expect(wantsAscii(true, {TERM: 'xterm', LANG: 'en_GB.UTF-8'})).toBe(true);
		expect(wantsAscii(false, {TERM: 'xterm-256color', LANG: 'en_GB.UTF-8'})).toBe(false);
		expect(wantsAscii(false, {TERM: 'linux', LANG: 'en_GB.UTF-8'})).toBe(true);
		expect(wantsAscii(false, {TERM: 'dumb', LANG: 'en_GB.UTF-8'})).toBe(true);
		expect(wantsAscii(false, {TERM: 'xterm', LANG: 'de_DE.ISO-8859-1'})).toBe(true);
		expect(wantsAscii(false, {TERM: 'xterm'}, 'linux')).toBe(true);
		expect(wantsAscii(false, {}, 'win32')).toBe(false);
	});

	// POSIX, "Environment variables": LC_ALL before LC_CTYPE before LANG; an empty one counts as unset.
	it('reads the locale variables in their order', () => {
		expect(wantsAscii(false, {TERM: 'xterm', LC_ALL: 'C', LANG: 'en_GB.UTF-8'})).toBe(true);
		expect(wantsAscii(false, {TERM: 'xterm', LC_ALL: '', LC_CTYPE: 'C.utf8', LANG: 'C'})).toBe(false);
	});
});
