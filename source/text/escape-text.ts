import {textWidth} from './text-width.ts';

/**
 * Characters that hide, reorder or are nobody's: format characters (zero width, marks of direction, byte-order mark, soft
 * hyphen, tags), fillers and variation selectors, line and paragraph separators, private and unassigned code points.
 */
const hidden = /[\p{Cf}\p{Default_Ignorable_Code_Point}\p{Zl}\p{Zp}\p{Co}\p{Cn}]/u;

/** Marks that are drawn over the character before them: over the screen's own text, if they come first. */
const mark = /\p{M}/u;
const marksAllowed = 2;

const spelled = /[\u007f-\u009f\p{Cf}\p{Default_Ignorable_Code_Point}\p{Zl}\p{Zp}\p{Co}\p{Cn}\p{Surrogate}\p{M}]/gu;

const decoder = new TextDecoder('utf-8', {ignoreBOM: true});

/**
 * Device text made safe for a terminal: C0 and C1 controls, DEL, invisible and reordering characters and bytes that are
 * no UTF-8 are shown as `\x1b`, `\u{202e}` and the like; a backslash of the text stays as it is. `maxColumns` cuts the
 * result to that many terminal columns, with `…` at the end.
 *
 * Source: ECMA-48 (control sets and sequences), Unicode TR 36.
 *
 * @example
 * escapeText('\u001b[2J512'); // => '\\x1b[2J512'
 */
export function escapeText(input: Uint8Array | string, maxColumns = Number.POSITIVE_INFINITY): string {
	const pieces: string[] = [];
	if (typeof input === 'string') escapeInto(pieces, input);
	else escapeBytes(pieces, input);
	return cut(pieces, maxColumns);
}

/**
 * The same text with every character that `escapeText` would show in another form spelled by `spell`, for languages with
 * escapes of their own; marks that stand over others too. Line feeds and other C0 controls are the caller's.
 */
export function spellHidden(text: string, spell: (codePoint: number) => string): string {
	return text.replace(spelled, character => spell(character.codePointAt(0) ?? 0));
}

/** Valid stretches of UTF-8 as text, every other byte as what it is. */
function escapeBytes(pieces: string[], bytes: Uint8Array): void {
	let text = '';
	for (let at = 0; at < bytes.length; ) {
		const length = sequenceLength(bytes, at);
		if (length > 0) {
			text += length === 1 ? String.fromCharCode(bytes[at]) : decoder.decode(bytes.subarray(at, at + length));
			at += length;
			continue;
		}

		escapeInto(pieces, text);
		text = '';
		pieces.push(hexByte(bytes[at]));
		at++;
	}

	escapeInto(pieces, text);
}

/** Length of the UTF-8 sequence that begins here, or 0 where none does (RFC 3629 section 4). */
function sequenceLength(bytes: Uint8Array, at: number): number {
	const lead = bytes[at];
	if (lead < 0x80) return 1;
	const length = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
	if (lead < 0xc2 || lead > 0xf4 || at + length > bytes.length) return 0;
	for (let i = 1; i < length; i++) if ((bytes[at + i] & 0xc0) !== 0x80) return 0;
	// Overlong forms, surrogates and code points beyond the last.
	const second = bytes[at + 1];
	if (lead === 0xe0 && second < 0xa0) return 0;
	if (lead === 0xed && second > 0x9f) return 0;
	if (lead === 0xf0 && second < 0x90) return 0;
	return lead === 0xf4 && second > 0x8f ? 0 : length;
}

function escapeInto(pieces: string[], text: string): void {
	// A mark needs a character of the same text under it.
	let marks = marksAllowed;
	for (const character of text) {
		const code = character.codePointAt(0) ?? 0;
		if (code >= 0x20 && code < 0x7f) {
			marks = 0;
			pieces.push(character);
			continue;
		}

		if (mark.test(character) && !hidden.test(character) && marks < marksAllowed) {
			marks++;
			pieces[pieces.length - 1] += character;
			continue;
		}

		const isPlain = isVisible(character, code);
		marks = isPlain ? 0 : marksAllowed;
		if (isPlain) pieces.push(character);
		else pieces.push(code <= 0x9f ? hexByte(code) : `\\u{${code.toString(16)}}`);
	}
}

function isVisible(character: string, code: number): boolean {
	if (code <= 0x9f || (code >= 0xd800 && code <= 0xdfff)) return false;
	return !hidden.test(character) && !mark.test(character);
}

function hexByte(code: number): string {
	return `\\x${code.toString(16).padStart(2, '0')}`;
}

function cut(pieces: readonly string[], maxColumns: number): string {
	const whole = pieces.join('');
	// No character takes more than two columns.
	if (2 * whole.length <= maxColumns) return whole;
	let width = 0;
	let fits = '';
	for (const piece of pieces) {
		width += textWidth(piece);
		if (width > maxColumns) return maxColumns >= 1 ? `${fits}…` : '';
		if (width <= maxColumns - 1) fits += piece;
	}
	return whole;
}
