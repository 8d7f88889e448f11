import type {LineTokens} from './line-tokens.ts';

const blank = 0x20;
const tab = 0x09;
const minus = 0x2d;
const plus = 0x2b;
const dot = 0x2e;
const comma = 0x2c;
const zero = 0x30;
const nine = 0x39;

/** Powers of ten up to 10^22 are exact doubles, so a mantissa below 2^53 divided by one is correctly rounded. */
const powers = Array.from({length: 16}, (_, i) => 10 ** i);

/**
 * A settled line layout compiled for speed: the bytes that stand between the numbers. A line that fits is decoded in
 * one pass over its bytes, without a string or an array being made. Blanks beside other punctuation do not matter.
 */
export class Template {
	/** One run of literal bytes before each number, and one behind the last, blanks left out at their ends. */
	readonly literals: readonly Uint8Array[];
	/** True where nothing but blanks separates the number from the one before. */
	readonly spaced: Uint8Array;
	private readonly decimal: number;
	private readonly hex: boolean;

	constructor(literals: readonly Uint8Array[], spaced: Uint8Array, decimalComma: boolean, hex: boolean) {
		this.literals = literals;
		this.spaced = spaced;
		this.decimal = decimalComma ? comma : dot;
		this.hex = hex;
	}

	/**
	 * Decodes the line in `bytes` from `start` to `end` (without its end) into `values`. False where the line does not
	 * fit; `values` then holds nothing of use.
	 */
	decode(bytes: Uint8Array, start: number, end: number, values: Float64Array): boolean {
		const {literals, spaced, decimal} = this;
		const count = literals.length - 1;
		let at = start;
		for (let slot = 0; slot < count; slot++) {
			const literal = literals[slot];
			if (spaced[slot] === 1 && bytes[at] !== blank && bytes[at] !== tab) return false;
			while (at < end && (bytes[at] === blank || bytes[at] === tab)) at++;
			for (let i = 0; i < literal.length; i++) {
				const wanted = literal[i];
				if (wanted === blank) {
					while (at < end && (bytes[at] === blank || bytes[at] === tab)) at++;
					continue;
				}
				// Blanks may stand before any piece of punctuation.
				while (at < end && bytes[at] === blank) at++;
				if (at >= end || bytes[at] !== wanted) return false;
				at++;
			}
			while (at < end && (bytes[at] === blank || bytes[at] === tab)) at++;
			if (this.hex) {
				at = this.readHex(bytes, at, end, values, slot);
				if (at < 0) return false;
				continue;
			}
			let byte = at < end ? bytes[at] : 0;
			if (byte > nine) {
				at = readWord(bytes, at, end, values, slot);
				if (at < 0) return false;
				continue;
			}
			let negative = false;
			if (byte === minus) {
				negative = true;
				byte = bytes[++at];
			} else if (byte === plus) byte = bytes[++at];
			const first = at;
			let value = 0;
			while (at < end && byte >= zero && byte <= nine) {
				value = value * 10 + (byte - zero);
				byte = bytes[++at];
			}
			let digits = at - first;
			if (digits === 1 && value === 0 && (byte | 0x20) === 0x78 && literals[slot + 1][0] !== byte) {
				at = this.readHex(bytes, at + 1, end, values, slot);
				if (at < 0) return false;
				if (negative) values[slot] = -values[slot];
				continue;
			}
			if (at < end && byte === decimal && at + 1 < end && bytes[at + 1] >= zero && bytes[at + 1] <= nine) {
				const point = ++at;
				byte = bytes[at];
				while (at < end && byte >= zero && byte <= nine) {
					value = value * 10 + (byte - zero);
					byte = bytes[++at];
				}
				const places = at - point;
				digits += places;
				if (digits > 15) return false;
				value /= powers[places];
			}
			// More digits than a double holds, exponents, hexadecimal: the slow way decodes those.
			if (
				digits === 0 ||
				digits > 15 ||
				(at < end && isLetter(bytes[at]) && (literals[slot + 1].length === 0 || literals[slot + 1][0] !== bytes[at]))
			) {
				return false;
			}
			values[slot] = negative ? -value : value;
		}
		const tail = literals[count];
		for (let i = 0; i < tail.length; i++) {
			if (tail[i] === blank) continue;
			while (at < end && bytes[at] === blank) at++;
			if (at >= end || bytes[at] !== tail[i]) return false;
			at++;
		}
		while (at < end && (bytes[at] === blank || bytes[at] === tab)) at++;
		return at === end;
	}

	private readHex(bytes: Uint8Array, start: number, end: number, values: Float64Array, slot: number): number {
		let at = start;
		let value = 0;
		for (; at < end; at++) {
			const digit = hexDigit(bytes[at]);
			if (digit < 0) break;
			value = value * 16 + digit;
		}
		if (at === start || at - start > 8) return -1;
		values[slot] = value;
		return at;
	}
}

function isLetter(byte: number): boolean {
	const lower = byte | 0x20;
	return lower >= 0x61 && lower <= 0x7a;
}

function hexDigit(byte: number): number {
	if (byte >= zero && byte <= nine) return byte - zero;
	const lower = byte | 0x20;
	return lower >= 0x61 && lower <= 0x66 ? lower - 0x57 : -1;
}

const encoder = new TextEncoder();

/** Words in place of a number that are common enough to be worth it; the slow way knows more. */
const words: readonly (readonly [Uint8Array, number])[] = (
	[
		['true', 1],
		['false', 0],
		['null', Number.NaN],
		['nan', Number.NaN],
		['NaN', Number.NaN],
		['NAN', Number.NaN],
		['on', 1],
		['off', 0],
		['ON', 1],
		['OFF', 0],
	] as const
).map(([word, value]) => [encoder.encode(word), value]);

/** Compiles the template of a line from its tokens; undefined where the line's form can't be compiled (JSON with odd order). */
export function compileTemplate(line: string, tokens: LineTokens, hex: boolean): Template | undefined {
	if (tokens.json) return compileJson(line, tokens);
	const literals: Uint8Array[] = [];
	const spaced = new Uint8Array(tokens.numbers.length);
	let at = 0;
	for (const [slot, number] of tokens.numbers.entries()) {
		const between = line.slice(at, number.start);
		literals.push(encoder.encode(between.trim()));
		spaced[slot] = slot > 0 && between.trim() === '' ? 1 : 0;
		at = number.end;
	}
	literals.push(encoder.encode(line.slice(at).trim()));
	return new Template(literals, spaced, tokens.decimalComma, hex);
}

/**
 * JSON: the values in the order of the text, each behind its own key. Undefined where the text's order may not be the
 * order of the parsed keys (keys that are whole numbers come first), or where escapes make the text hard to compare.
 */
function compileJson(line: string, tokens: LineTokens): Template | undefined {
	if (line.includes('\\') || /"\d+"\s*:/.test(line)) return undefined;
	const found: {start: number; end: number}[] = [];
	// Strings are stepped over whole, so that nothing inside one is taken for a value.
	const pattern = /"[^"]*"|-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/g;
	for (const match of line.matchAll(pattern)) {
		const quoted = match[0].startsWith('"');
		const end = match.index + match[0].length;
		if (quoted && (/^\s*:/.test(line.slice(end)) || !/^"[+-]?\d+(?:\.\d+)?"$/.test(match[0]))) continue;
		found.push(quoted ? {start: match.index + 1, end: end - 1} : {start: match.index, end});
	}
	if (found.length !== tokens.numbers.length) return undefined;
	const literals: Uint8Array[] = [];
	let at = 0;
	for (const [i, {start, end}] of found.entries()) {
		const text = line.slice(start, end);
		const value = text === 'null' ? Number.NaN : text === 'true' ? 1 : text === 'false' ? 0 : Number(text);
		if (!Object.is(value, tokens.numbers[i].value) && value !== tokens.numbers[i].value) return undefined;
		literals.push(encoder.encode(line.slice(at, start).trim()));
		at = end;
	}
	literals.push(encoder.encode(line.slice(at).trim()));
	return new Template(literals, new Uint8Array(found.length), false, false);
}

/** Reads `true`, `false` or `null` at `at`; the place behind it, or -1. */
function readWord(bytes: Uint8Array, at: number, end: number, values: Float64Array, slot: number): number {
	for (const [word, value] of words) {
		if (at + word.length > end || bytes[at] !== word[0]) continue;
		let i = 1;
		while (i < word.length && bytes[at + i] === word[i]) i++;
		if (i < word.length || (at + i < end && isLetter(bytes[at + i]))) continue;
		values[slot] = value;
		return at + i;
	}
	return -1;
}
