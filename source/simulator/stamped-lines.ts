const lineFeed = 0x0a;
const carriageReturn = 0x0d;

/**
 * Puts `seconds` and a space before every line, as a terminal program that logs with times does: the time is that of
 * the chunk in which the line began. A carriage return ends a line only where no line feed follows it.
 */
export class StampedLines {
	#atStart = true;
	#afterReturn = false;

	/** Bytes that came at `t` seconds, with the stamps put in. */
	push(t: number, bytes: Uint8Array): Uint8Array {
		const parts: Uint8Array[] = [];
		const stamp = Buffer.from(`${t.toFixed(3)} `);
		let from = 0;
		for (let i = 0; i < bytes.length; i++) {
			const byte = bytes[i];
			if (this.#afterReturn && byte !== lineFeed) this.#atStart = true;
			this.#afterReturn = false;
			if (this.#atStart && byte !== lineFeed) {
				parts.push(bytes.subarray(from, i), stamp);
				from = i;
				this.#atStart = false;
			}
			if (byte === lineFeed) this.#atStart = true;
			else if (byte === carriageReturn) this.#afterReturn = true;
		}
		parts.push(bytes.subarray(from));
		return Buffer.concat(parts);
	}
}
