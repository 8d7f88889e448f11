/** Encodings of logs that must be turned into UTF-8 before a time can be read in them. */
export type Utf16 = 'utf-16le' | 'utf-16be';

/**
 * UTF-16, told by its byte order mark, or by every second byte being zero, as text in Latin letters has it.
 * `undefined` for UTF-8, other 8-bit text and junk.
 */
export function findUtf16(start: Uint8Array): Utf16 | undefined {
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

/** The same text in UTF-8, without byte order mark. Half a character at the end of a chunk waits for the next. */
export async function* transcodeUtf16(chunks: AsyncIterable<Uint8Array>, encoding: Utf16): AsyncGenerator<Uint8Array> {
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
