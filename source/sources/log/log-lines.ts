const lineFeed = 0x0a;
const carriageReturn = 0x0d;

/** How a log's lines end. `cr`: with CR alone, or now and then with CRLF or LF. `lf`: with LF or CRLF. */
export type LineEnd = 'lf' | 'cr';

/** The line end that most lines of a text have. */
export function findLineEnd(bytes: Uint8Array): LineEnd {
	let feeds = 0;
	let loneReturns = 0;
	for (let i = 0; i < bytes.byteLength; i++) {
		if (bytes[i] === lineFeed) feeds++;
		else if (bytes[i] === carriageReturn && bytes[i + 1] !== lineFeed && i + 1 < bytes.byteLength) loneReturns++;
	}

	// CR CR LF, as some programs write, is one end.
	return loneReturns > 2 * feeds ? 'cr' : 'lf';
}

/**
 * Where the line that begins at `from` ends: behind its line end. −1 where the end is not in the bytes. With `cr`, a CR
 * that is the last byte is no end yet, because its LF may follow.
 */
export function lineEndAfter(bytes: Buffer, from: number, lineEnd: LineEnd): number {
	if (lineEnd === 'lf') return bytes.indexOf(lineFeed, from) + 1 || -1;
	for (let i = from; i < bytes.byteLength; i++) {
		if (bytes[i] === lineFeed) return i + 1;
		if (bytes[i] === carriageReturn) {
			if (i + 1 === bytes.byteLength) return -1;
			return bytes[i + 1] === lineFeed ? i + 2 : i + 1;
		}
	}

	return -1;
}

/** The end of a line's text: before its line end and the blanks before that. */
export function textEnd(bytes: Uint8Array, from: number, to: number): number {
	while (to > from && bytes[to - 1]! <= 0x20) to--;
	return to;
}

/** Where a field ends: at the separator, or at the end of the line. In quotes a separator is a character like others. */
export function endOfField(bytes: Uint8Array, from: number, end: number, separator: number): number {
	let at = from;
	if (bytes[at] === 0x22) {
		// A doubled quote closes and opens again.
		for (at++; at < end; at++) {
			if (bytes[at] === 0x22 && bytes[at + 1] === 0x22) at++;
			else if (bytes[at] === 0x22) break;
		}
	}

	while (at < end && bytes[at] !== separator) at++;
	return at;
}

/** The lines that are looked at, each without its end. */
export type SampleLines = {
	readonly bytes: Buffer;
	readonly starts: readonly number[];
	readonly ends: readonly number[];
};
