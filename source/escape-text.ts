import stringWidth from 'string-width';

/** Invisible or reordering characters (Unicode TR 36): zero-width, marks of direction, separators, byte-order mark. */
const hidden = /[\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]/u;

const decoder = new TextDecoder('utf-8', {fatal: true, ignoreBOM: true});

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
	else {
		try {
			escapeInto(pieces, decoder.decode(input));
		} catch {
			// Byte by byte: whatever is no plain ASCII is shown as the byte that came.
			for (const byte of input) {
				if (byte >= 0x20 && byte < 0x7f) pieces.push(String.fromCharCode(byte));
				else pieces.push(hexByte(byte));
			}
		}
	}
	return cut(pieces, maxColumns);
}

function escapeInto(pieces: string[], text: string): void {
	for (const character of text) {
		const code = character.codePointAt(0) ?? 0;
		if (code < 0x20 || (code >= 0x7f && code <= 0x9f)) pieces.push(hexByte(code));
		else if (hidden.test(character) || (code >= 0xd800 && code <= 0xdfff)) pieces.push(`\\u{${code.toString(16)}}`);
		else pieces.push(character);
	}
}

function hexByte(code: number): string {
	return `\\x${code.toString(16).padStart(2, '0')}`;
}

function cut(pieces: readonly string[], maxColumns: number): string {
	const whole = pieces.join('');
	if (whole.length <= maxColumns && stringWidth(whole) <= maxColumns) return whole;
	if (stringWidth(whole) <= maxColumns) return whole;
	let text = '';
	let width = 0;
	for (const piece of pieces) {
		const wide = stringWidth(piece);
		if (width + wide > maxColumns - 1) break;
		text += piece;
		width += wide;
	}
	return maxColumns >= 1 ? `${text}…` : '';
}
