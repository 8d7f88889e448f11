/** What may stand between two values of a frame. */
const separating = new Uint8Array(256);
for (const byte of Buffer.from(' \t,;|', 'latin1')) separating[byte] = 1;

/**
 * What stands between two values, as one character: the punctuation if there is some, else a tab, else a space. Blanks
 * around punctuation don't count: `1, 2` and `1,2` are both separated by commas.
 */
export function separatorOf(gap: string): string {
	const mark = gap.replaceAll(/[ \t]/g, '');
	return mark[0] ?? (gap.includes('\t') ? '\t' : gap === '' ? '' : ' ');
}

/** Every separator of a line's text, in order. */
export function separatorsIn(bytes: Uint8Array, from: number, to: number): string[] {
	const found: string[] = [];
	for (let at = from; at < to; ) {
		if (!separating[bytes[at]!]) {
			at++;
			continue;
		}

		const gapAt = at;
		while (at < to && separating[bytes[at]!]) at++;
		if (at < to)
			found.push(separatorOf(Buffer.from(bytes.buffer, bytes.byteOffset + gapAt, at - gapAt).toString('latin1')));
	}

	return found;
}

/**
 * The end of what separates a stamp from its frame, from `after` on: blanks, one mark or arrow (`->`, `=>`, `:`, `|`,
 * `;`, `,`, `-` or `=` followed by a blank) and blanks again.
 */
export function tailEnd(bytes: Uint8Array, after: number, to: number): number {
	const blanks = (at: number): number => {
		while (at < to && (bytes[at] === 0x20 || bytes[at] === 0x09)) at++;
		return at;
	};

	const isBlank = (byte: number | undefined): boolean => byte === 0x20 || byte === 0x09;
	let at = blanks(after);
	const byte = bytes[at];
	if (byte === 0x2c || byte === 0x3b || byte === 0x7c || byte === 0x3a || byte === 0x3e) return blanks(at + 1);
	if (byte === 0x2d || byte === 0x3d) {
		let arrow = at;
		while (arrow < to && (bytes[arrow] === 0x2d || bytes[arrow] === 0x3d)) arrow++;
		if (bytes[arrow] === 0x3e) at = blanks(arrow + 1);
		else if (isBlank(bytes[arrow])) at = blanks(arrow);
	}

	return at;
}
