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
	/** Columns that need the slow reader: times of day, bare hexadecimal. */
	private readonly slow: Uint8Array;
	private readonly point: number;
	/** Besides the space: a tab, unless tabs separate. */
	private readonly otherBlank: number;
	/** Whether the first or last value may be missing; elsewhere such a line was cut. */
	private readonly openEnds: boolean;

	constructor(literals: readonly string[], times: readonly boolean[], dialect: Dialect, openEnds: boolean) {
		this.count = literals.length - 1;
		this.dialect = dialect;
		this.openEnds = openEnds;
		const tabIsBlank = dialect.tabIsBlank || !literals.some(literal => literal.includes('\t'));
		const normal = literals.map((literal, i) => normaliseLiteral(literal, i === 0, i === this.count, tabIsBlank));
		this.literal = Uint8Array.from(normal.join(''), character => character.charCodeAt(0));
		this.literalStart = new Uint16Array(literals.length + 1);
		for (const [i, text] of normal.entries()) this.literalStart[i + 1] = this.literalStart[i] + text.length;
		this.slow = Uint8Array.from(times, time => (time || dialect.hexDigits > 0 ? 1 : 0));
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
		const {count, literal, literalStart, slow, point, otherBlank} = this;
		let at = start;
		let missing = 0;
		let byte = bytes[at];
		for (let column = 0; column <= count; column++) {
			const literalEnd = literalStart[column + 1];
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
			if (column === count) break;

			const valueStart = at;
			if (slow[column] === 0) {
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
				if (byte === point && digits > 0) {
					const next = bytes[at + 1] - 0x30;
					if (next >= 0 && next <= 9) {
						const firstFraction = at + 1;
						digit = next;
						at = firstFraction;
						while (digit >= 0 && digit <= 9) {
							value = value * 10 + digit;
							digit = bytes[++at] - 0x30;
						}

						digits += at - firstFraction;
						value = scaleDecimal(value, at - firstFraction);
						byte = bytes[at];
					}
				}

				// A letter may go on the number (exponent, 0x), unless the layout has a literal there.
				if (digits > 0 && digits <= exactDigits && (byte < 0x40 || byte === literal[literalEnd])) {
					values[column] = negative ? 0 - value : value;
					continue;
				}
			}

			const after = this.readSlowly(bytes, valueStart, column);
			if (after < 0) return -1;
			if (after === valueStart) missing++;
			values[column] = reading.value;
			at = after;
			byte = bytes[at];
		}

		if (byte === tab || byte === blank) {
			while (byte === tab || byte === blank) byte = bytes[++at];
		}

		return (byte === lineFeed || byte === carriageReturn) && missing < count ? at : -1;
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
	return new LineTemplate(tokens.literals, tokens.times, dialect, openEnds);
}
