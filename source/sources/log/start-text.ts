/** Lines in front of the first readings that are remembered, and how much of each. */
const mostLines = 40;
const longestLine = 200;

/** Lines of readings that must have come before the text can come again. */
const leastReadings = 20;

/** So many numbers on a line, and no words but labels: readings. */
const leastNumbers = 2;

/**
 * Notices start-up text: words that came before the first readings and come again after many of them. In a log without
 * times it is where another session begins. What comes again and again at even distances is a header or a board's own
 * message: the second time tells nothing of that, but a header has the form of a row and is not remembered.
 */
export class StartText {
	readonly #lines = new Set<string>();
	#readings = 0;
	#isOver = false;

	/** Takes a line; true where it is the first of the start-up text that comes again. */
	comesAgain(bytes: Buffer, from: number, to: number): boolean {
		// A digit first is a reading, by far most often: nothing is made of it.
		const first = bytes[from];
		if ((first >= 0x30 && first <= 0x39) || first === 0x2d) {
			this.#readings++;
			this.#isOver = true;
			return false;
		}

		if (this.#isOver && this.#lines.size === 0) return false;
		const text = bytes.toString('latin1', from, Math.min(to, from + longestLine)).trim();
		if (isReadings(text)) {
			this.#readings++;
			this.#isOver = true;
			return false;
		}

		if (/^[A-Za-z_"][\w .()"-]*(?:[,;\t|][\w .()"-]*)+$/.test(text)) return false;
		const key = text.replaceAll(/\d+/g, '0');
		if (!this.#isOver) {
			if (this.#lines.size < mostLines && /[A-Za-z]{3}/.test(key)) this.#lines.add(key);
			return false;
		}

		if (this.#readings < leastReadings || !this.#lines.has(key)) return false;
		this.#readings = 0;
		return true;
	}
}

/** Numbers, with labels and units at most. */
function isReadings(text: string): boolean {
	const numbers = text.match(/\d+(?:\.\d+)?/g)?.length ?? 0;
	return numbers >= leastNumbers && !/[A-Za-z]{3}/.test(text.replaceAll(/[A-Za-z_][\w.-]*["']?\s*[:=]/g, ''));
}
