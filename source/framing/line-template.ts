import {type LineTokens, normaliseLiteral} from './line-tokens.ts';
import {type Dialect, reading, readValue, scaleDecimal} from './read-value.ts';

const blank = 0x20;
const tab = 0x09;
const lineFeed = 0x0a;
const carriageReturn = 0x0d;
const minus = 0x2d;
const plus = 0x2b;

/** Beyond so many digits a double rounds, and the slow reader is as good. */
const exactDigits = 15;

/**
 * A settled line layout compiled for speed: the literal bytes between the values. A line that fits is decoded in one
 * pass over its bytes; no string or array is made. Blanks beside punctuation do not matter.
 */
export class LineTemplate {
	readonly count: number;
	readonly dialect: Dialect;
	/** All literals in one run; `literalStart[k]` is where the one before value k begins. */
	private readonly literal: Uint8Array;
	private readonly literalStart: Uint16Array;
	/** Columns that need the slow reader: times of day, bare hexadecimal, numbers that end with their point. */
	private readonly slow: Uint8Array;
	private readonly point: number;
	/** Besides the space: a tab, unless tabs separate. */
	private readonly otherBlank: number;
	/** Whether the first or last value may be missing; elsewhere such a line was cut. */
	private readonly openEnds: boolean;

	constructor(literals: readonly string[], slow: readonly boolean[], dialect: Dialect, openEnds: boolean) {
		this.count = literals.length - 1;
		this.dialect = dialect;
		this.openEnds = openEnds;
		const tabIsBlank = dialect.tabIsBlank || !literals.some(literal => literal.includes('\t'));
		const normal = literals.map((literal, i) => normaliseLiteral(literal, i === 0, i === this.count, tabIsBlank));
		this.literal = Uint8Array.from(normal.join(''), character => character.charCodeAt(0));
		this.literalStart = new Uint16Array(literals.length + 1);
		for (const [i, text] of normal.entries()) this.literalStart[i + 1] = this.literalStart[i] + text.length;
		this.slow = Uint8Array.from(slow, isSlow => (isSlow || dialect.hexDigits > 0 ? 1 : 0));
		this.point = dialect.decimalComma ? 0x2c : 0x2e;
		this.otherBlank = tabIsBlank ? tab : blank;
	}

	/** Whether something stands behind the last value, so that a line that fits is whole. */
	get endsWithLiteral(): boolean {
		return this.literalStart[this.count + 1] > this.literalStart[this.count];
	}

	/**
	 * Decodes the line that begins at `start` into `values` (one entry per column, NaN where a field is empty). The
	 * caller vouches that a CR or LF stands somewhere behind `start`. Returns where the line's CR or LF stands, or -1
	 * where the line does not fit; `values` then holds nothing of use.
	 */
	match(bytes: Uint8Array, start: number, values: Float64Array): number {
		const {count, slow, literal, literalStart} = this;
		let at = start;
		let missing = 0;
		for (let column = 0; column < count; column++) {
			const first = literalStart[column];
			// Most often one sign, and a value right behind it.
			const isOneSign = literalStart[column + 1] === first + 1 && bytes[at] === literal[first] && bytes[at + 1] > blank;
			const valueStart = isOneSign ? at + 1 : this.passLiteral(bytes, at, column);
			if (valueStart < 0) return -1;
			at = slow[column] === 0 ? this.readPlain(bytes, valueStart, column, values) : -1;
			if (at >= 0) continue;
			at = this.readSlowly(bytes, valueStart, column);
			if (at < 0) return -1;
			if (at === valueStart) missing++;
			values[column] = reading.value;
		}

		at = this.passLiteral(bytes, at, count);
		if (at < 0) return -1;
		while (bytes[at] === tab || bytes[at] === blank) at++;
		return (bytes[at] === lineFeed || bytes[at] === carriageReturn) && missing < count ? at : -1;
	}

	/** Where the value of a column begins, behind the literal and the blanks before it; −1 where something else stands there. */
	private passLiteral(bytes: Uint8Array, start: number, column: number): number {
		const {literal, literalStart, otherBlank} = this;
		const literalEnd = literalStart[column + 1];
		let at = start;
		let byte = bytes[at];
		for (let i = literalStart[column]; i < literalEnd; i++) {
			const wanted = literal[i];
			if (wanted === blank) {
				if (byte !== blank && byte !== otherBlank) return -1;
			} else {
				while (byte === blank || byte === otherBlank) byte = bytes[++at];
				if (byte !== wanted) return -1;
				byte = bytes[++at];
			}
		}

		while (byte === blank || byte === otherBlank) byte = bytes[++at];
		return at;
	}

	/** Reads a number of digits, perhaps with a sign and a point; −1, and nothing of use in `values`, for all else. */
	private readPlain(bytes: Uint8Array, start: number, column: number, values: Float64Array): number {
		let at = start;
		let byte = bytes[at];
		const negative = byte === minus;
		if (negative || byte === plus) byte = bytes[++at];
		const firstDigit = at;
		let digit = byte - 0x30;
		let value = 0;
		while (digit >= 0 && digit <= 9) {
			value = value * 10 + digit;
			digit = bytes[++at] - 0x30;
		}

		let digits = at - firstDigit;
		byte = bytes[at];
		digit = bytes[at + 1] - 0x30;
		if (byte === this.point && digits > 0 && digit >= 0 && digit <= 9) {
			const firstFraction = ++at;
			while (digit >= 0 && digit <= 9) {
				value = value * 10 + digit;
				digit = bytes[++at] - 0x30;
			}

			digits += at - firstFraction;
			value = scaleDecimal(value, at - firstFraction);
			byte = bytes[at];
		}

		if (digits === 0 || digits > exactDigits) return -1;
		// A letter may go on the number (exponent, 0x), unless the layout has a literal there.
		if (byte >= 0x40 && byte !== this.literal[this.literalStart[column + 1]]) return -1;
		values[column] = negative ? 0 - value : value;
		return at;
	}

	/** Reads what the fast path does not: words, exponents, hexadecimal, times, fields left empty. -1 where nothing fits. */
	private readSlowly(bytes: Uint8Array, start: number, column: number): number {
		let end = start;
		while (bytes[end] !== lineFeed && bytes[end] !== carriageReturn) end++;
		const after = readValue(bytes, start, end, this.dialect);
		if (after >= 0) return after;
		reading.value = Number.NaN;
		// A dash or two in the place of a value.
		let at = start;
		while (at < end && bytes[at] === minus && at - start < 3) at++;
		if (at > start) return at;
		const atEdge = column === 0 || column === this.count - 1;
		if (atEdge && !this.openEnds) return -1;
		const next = this.literalStart[column + 1];
		const ends = next === this.literalStart[column + 2] ? start === end : bytes[start] === this.literal[next];
		return ends ? start : -1;
	}
}

/** The template of a line, from its tokens. */
export function compileTemplate(tokens: LineTokens, dialect: Dialect, openEnds = false): LineTemplate {
	const {literals, times, points = []} = tokens;
	const slow = times.map((isTime, column) => isTime || points[column] === true);
	return new LineTemplate(literals, slow, dialect, openEnds);
}
