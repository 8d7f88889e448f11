/** How many zero bytes a run of text excuses: UTF-16 has one per character, zero-padded messages have more. */
const creditCap = 64;

const plain = 0;
const zero = 1;
const control = 2;
const high = 3;

const byteClass = new Uint8Array(256);
for (let byte = 0; byte < 256; byte++) {
	if (byte === 0) byteClass[byte] = zero;
	else if (byte >= 0x80) byteClass[byte] = high;
	else if (byte === 0x7f) byteClass[byte] = control;
	// TAB, LF and CR belong to text; ESC begins the colour codes of boot text (check-values E8).
	else if (byte < 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d && byte !== 0x1b) byteClass[byte] = control;
}

/**
 * Counts the bytes that cannot be text, one after the other, whatever the chunks.
 *
 * Text is ASCII, TAB, CR, LF, ESC and valid UTF-8, so `µ`, `°` and `Ω` are text. Zero bytes are text while no more
 * of them come than text bytes before them (UTF-16, padded messages); zeros after junk are junk.
 *
 * Source: RFC 3629 section 4 for what valid UTF-8 is.
 */
export class ByteQuality {
	/** Bytes so far that are no text. A sequence still open at the end of a chunk is not counted yet. */
	nonText = 0;

	private credit = 0;
	/** Continuation bytes that a UTF-8 lead byte still promises. */
	private missing = 0;
	private sequenceLength = 0;
	/** Range the next continuation byte must lie in: rules out overlong forms and surrogates. */
	private lowest = 0x80;
	private highest = 0xbf;
	private previous = 0;

	/** Takes bytes that a template has matched: all of them are text, the last one a line end. */
	takeText(count: number): void {
		this.credit = Math.min(creditCap, this.credit + count);
		this.previous = 0x0a;
	}

	take(bytes: Uint8Array, start: number, end: number): void {
		for (let i = start; i < end; i++) {
			const byte = bytes[i];
			if (this.missing > 0 && this.continues(byte)) continue;
			const kind = byteClass[byte];
			if (kind === plain) this.grant(1);
			else if (kind === zero) {
				if (this.credit > 0) this.credit--;
				else this.nonText++;
			} else if (kind === control) this.reject(1);
			else this.takeHigh(byte);
			this.previous = byte;
		}
	}

	private continues(byte: number): boolean {
		if (byte >= this.lowest && byte <= this.highest) {
			this.lowest = 0x80;
			this.highest = 0xbf;
			if (--this.missing === 0) this.grant(this.sequenceLength);
			this.previous = byte;
			return true;
		}

		// The sequence broke off: its bytes were junk, this one stands for itself.
		this.reject(this.sequenceLength - this.missing);
		this.missing = 0;
		return false;
	}

	private takeHigh(byte: number): void {
		this.lowest = 0x80;
		this.highest = 0xbf;
		if (byte >= 0xc2 && byte <= 0xdf) this.missing = 1;
		else if (byte >= 0xe0 && byte <= 0xef) {
			this.missing = 2;
			if (byte === 0xe0) this.lowest = 0xa0;
			if (byte === 0xed) this.highest = 0x9f;
		} else if (byte >= 0xf0 && byte <= 0xf4) {
			this.missing = 3;
			if (byte === 0xf0) this.lowest = 0x90;
			if (byte === 0xf4) this.highest = 0x8f;
		} else if ((byte === 0xb0 || byte === 0xb5) && this.followsNumber()) this.grant(1);
		else this.reject(1);
		this.sequenceLength = this.missing + 1;
	}

	/** A degree or micro sign in Latin-1 is one byte after each number, which alone can be a fifth of a line. */
	private followsNumber(): boolean {
		return (this.previous >= 0x30 && this.previous <= 0x39) || this.previous === 0x20;
	}

	private grant(count: number): void {
		this.credit = Math.min(creditCap, this.credit + count);
	}

	private reject(count: number): void {
		this.nonText += count;
		this.credit = 0;
	}
}

/** Bytes of a piece that are no text, the piece taken by itself. */
export function countNonText(bytes: Uint8Array, start = 0, end = bytes.length): number {
	const quality = new ByteQuality();
	quality.take(bytes, start, end);
	return quality.nonText;
}
