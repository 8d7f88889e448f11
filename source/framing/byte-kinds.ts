/** Kinds of bytes for the pass over everything received. */
export const plainText = 0;
export const lineFeed = 1;
export const carriageReturn = 2;
export const nul = 3;
/** A control byte that no text contains. */
export const control = 4;
/** 0x80 and above: text where it is valid UTF-8. */
export const high = 5;

/** Kind of each byte value. TAB and ESC (colour codes of start-up texts) are text. */
export const byteKinds: Uint8Array = (() => {
	const kinds = new Uint8Array(256);
	for (let byte = 0; byte < 256; byte++) {
		if (byte === 0x0a) kinds[byte] = lineFeed;
		else if (byte === 0x0d) kinds[byte] = carriageReturn;
		else if (byte === 0) kinds[byte] = nul;
		else if (byte >= 0x80) kinds[byte] = high;
		else if ((byte < 0x20 && byte !== 0x09 && byte !== 0x1b) || byte === 0x7f) kinds[byte] = control;
	}
	return kinds;
})();

/**
 * Counts bytes that are no text, across chunks: controls, high bytes that are no UTF-8, and zeros that don't stand
 * between characters (UTF-16 text is half zeros and still text).
 */
export class TextMeter {
	nonText = 0;
	/** Continuation bytes still expected of a UTF-8 sequence, and how many bytes of it have passed. */
	private expected = 0;
	private passed = 0;
	private lastKind = plainText;

	/** Takes the next byte that is no plain text, or a plain one after such (`kind` from `byteKinds`). */
	take(byte: number, kind: number): void {
		if (this.expected > 0) {
			if (byte >= 0x80 && byte < 0xc0) {
				this.expected--;
				this.passed++;
				if (this.expected === 0) this.passed = 0;
				this.lastKind = high;
				return;
			}
			this.nonText += this.passed;
			this.expected = 0;
			this.passed = 0;
		}
		if (kind === control) this.nonText++;
		else if (kind === nul) {
			// Two zeros in a row, or one after junk: no UTF-16 of ASCII looks like that.
			if (this.lastKind === nul || this.lastKind === control || this.lastKind === high) this.nonText++;
		} else if (kind === high) {
			if (byte >= 0xc2 && byte <= 0xf4) {
				this.expected = byte < 0xe0 ? 1 : byte < 0xf0 ? 2 : 3;
				this.passed = 1;
			} else this.nonText++;
		}
		this.lastKind = kind;
	}

	/** True while a plain byte would change the count. */
	get open(): boolean {
		return this.expected > 0;
	}

	/** A run of plain text has passed. */
	plain(): void {
		if (this.expected > 0) {
			this.nonText += this.passed;
			this.expected = 0;
			this.passed = 0;
		}
		this.lastKind = plainText;
	}
}
