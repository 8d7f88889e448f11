const excerptBytes = 120;
const lineFeed = 0x0a;
const carriageReturn = 0x0d;

/** The beginning of a line or packet that is told as it came. */
export function excerptOf(bytes: Uint8Array): Uint8Array {
	return bytes.slice(0, excerptBytes);
}

/** Nothing but spaces and tabs. */
export function isBlank(bytes: Uint8Array, start: number, end: number): boolean {
	for (let i = start; i < end; i++) if (bytes[i] !== 0x20 && bytes[i] !== 0x09) return false;
	return true;
}

/** Where a line begins behind a byte-order mark, of UTF-8 or of UTF-16 (whose zero bytes are gone already). */
export function afterMark(bytes: Uint8Array, length: number): number {
	if (length >= 3 && bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return 3;
	if (length >= 2 && ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff))) return 2;
	return 0;
}

/** Digits in front of the decimal point; 0 of no number. */
export function wholeDigits(value: number): number {
	return Number.isNaN(value) ? 0 : String(Math.trunc(Math.abs(value))).length;
}

/** Little-endian 16-bit values. */
export function readPacket(bytes: Uint8Array, values: Float64Array): void {
	for (let i = 0; i < values.length; i++) values[i] = bytes[2 * i] | (bytes[2 * i + 1] << 8);
}

/** Plain text with a word in it: start-up text between packets. */
export function isWords(bytes: Uint8Array): boolean {
	let letters = 0;
	let longest = 0;
	for (const byte of bytes) {
		if (byte >= 0x80 || (byte < 0x20 && byte !== 0x09 && byte !== lineFeed && byte !== carriageReturn)) return false;
		letters = (byte | 0x20) >= 0x61 && (byte | 0x20) <= 0x7a ? letters + 1 : 0;
		longest = Math.max(longest, letters);
	}

	return longest >= 3;
}
