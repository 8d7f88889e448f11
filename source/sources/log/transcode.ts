import {isUtf8} from 'node:buffer';

/** Encodings of logs that must be turned into UTF-8 before a time can be read in them. */
type Encoding = 'utf-16le' | 'utf-16be' | 'windows-1252';

/** What each is called in a report. */
export const encodingNames: Readonly<Record<Encoding, string>> = {
	'utf-16le': 'UTF-16',
	'utf-16be': 'UTF-16',
	'windows-1252': 'Windows-1252',
};

/**
 * UTF-16, told by its byte order mark, or by every second byte being zero, as text in Latin letters has it; Windows-1252,
 * where text that is no UTF-8 has letters beyond ASCII only inside of words and behind numbers. `undefined` for UTF-8,
 * other 8-bit text and junk: bytes of a wrong baud rate must stay what they are.
 */
export function findEncoding(start: Uint8Array): Encoding | undefined {
	return findUtf16(start) ?? (isWindows1252(start) ? 'windows-1252' : undefined);
}

function findUtf16(start: Uint8Array): Encoding | undefined {
	if (start[0] === 0xff && start[1] === 0xfe) return 'utf-16le';
	if (start[0] === 0xfe && start[1] === 0xff) return 'utf-16be';
	const pairs = Math.min(start.byteLength, 4096) >> 1;
	if (pairs < 8) return undefined;
	let evenZeros = 0;
	let oddZeros = 0;
	for (let i = 0; i < 2 * pairs; i += 2) {
		if (start[i] === 0) evenZeros++;
		if (start[i + 1] === 0) oddZeros++;
	}

	if (oddZeros > 0.95 * pairs && evenZeros < 0.05 * pairs) return 'utf-16le';
	if (evenZeros > 0.95 * pairs && oddZeros < 0.05 * pairs) return 'utf-16be';
	return undefined;
}

/** Share of the bytes beyond ASCII that must make sense as letters and signs. */
const leastSense = 0.95;

/** No text has these: control characters but those of lines and colours; what Windows-1252 has not assigned (WHATWG Encoding Standard, index windows-1252). */
const never1252 = new Uint8Array(256).fill(1, 0, 0x20);
for (const byte of [0x09, 0x0a, 0x0d, 0x1b]) never1252[byte] = 0;
for (const byte of [0x81, 0x8d, 0x8f, 0x90, 0x9d]) never1252[byte] = 1;

/** Signs that stand beside numbers and words: degree, micro, quotes, dashes, dots, a hard blank. */
const signs1252 = new Uint8Array(256).fill(1, 0x91, 0x98);
for (const byte of [0xb0, 0xb5, 0x85, 0xa0]) signs1252[byte] = 1;

/** A letter of a word, not one that took the place of a digit. */
function isInWord(bytes: Uint8Array, at: number): boolean {
	const byte = bytes[at];
	if (byte < 0xc0 || byte === 0xd7 || byte === 0xf7) return false;
	const before = bytes[at - 1] ?? 0x20;
	const behind = bytes[at + 1] ?? 0x20;
	return (isAsciiLetter(before) || isAsciiLetter(behind)) && !isDigit(before) && !isDigit(behind);
}

function isWindows1252(start: Uint8Array): boolean {
	let high = 0;
	let sensible = 0;
	for (let i = 0; i < start.byteLength; i++) {
		const byte = start[i];
		if (never1252[byte]) return false;
		if (byte < 0x80) continue;
		high++;
		if (signs1252[byte] || isInWord(start, i)) sensible++;
	}

	return high > 0 && sensible >= leastSense * high && high < start.byteLength / 5 && !isUtf8(wholeCharacters(start));
}

/** Without a character that the end of the piece may have cut. */
function wholeCharacters(bytes: Uint8Array): Uint8Array {
	let end = bytes.byteLength;
	for (let back = 1; back <= 3 && back <= end; back++) {
		const byte = bytes[end - back];
		if (byte < 0x80) break;
		if (byte >= 0xc0) {
			end -= back;
			break;
		}
	}

	return bytes.subarray(0, end);
}

function isAsciiLetter(byte: number): boolean {
	return (byte | 0x20) >= 0x61 && (byte | 0x20) <= 0x7a;
}

function isDigit(byte: number): boolean {
	return byte >= 0x30 && byte <= 0x39;
}

/** The same text in UTF-8, without byte order mark. Half a character at the end of a chunk waits for the next. */
export async function* transcode(chunks: AsyncIterable<Uint8Array>, encoding: Encoding): AsyncGenerator<Uint8Array> {
	const decoder = new TextDecoder(encoding);
	for await (const chunk of chunks) yield Buffer.from(decoder.decode(chunk, {stream: true}), 'utf8');
	yield Buffer.from(decoder.decode(), 'utf8');
}

/** Takes the byte order mark off UTF-8 text. */
export async function* withoutByteOrderMark(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
	let first = true;
	for await (const chunk of chunks) {
		const marked = first && chunk[0] === 0xef && chunk[1] === 0xbb && chunk[2] === 0xbf;
		first = false;
		yield marked ? chunk.subarray(3) : chunk;
	}
}
