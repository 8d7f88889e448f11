import {type Dialect, isDigit, isHexDigit, isLetter, reading, readValue, skipDigits} from './read-value.ts';

/** A line taken apart: values, and the literal text around them (`literals` has one entry more than `values`). */
export type LineTokens = {
	readonly values: readonly number[];
	/** Where each value stands in the bytes read. */
	readonly starts: readonly number[];
	readonly ends: readonly number[];
	/** True for a time of day or a date. */
	readonly times: readonly boolean[];
	/** True for a number that ends with its point (`5.`); undefined where none can. */
	readonly points?: readonly boolean[];
	/** Text before, between and behind the values, one character per byte. */
	readonly literals: readonly string[];
	/** JSON only: the path of each value (`stick.x`, `fingers.0`). */
	readonly paths?: readonly string[];
};

/** More values than any glove sends: a line with more is no frame. */
export const maxValues = 256;

const equals = 0x3d;
const colon = 0x3a;
const point = 0x2e;
const minus = 0x2d;

function isBlank(byte: number): boolean {
	return byte === 0x20 || byte === 0x09;
}

/** Text of bytes, one character per byte: nothing is lost, and offsets stay. */
export function bytesToText(bytes: Uint8Array, start: number, end: number): string {
	let text = '';
	for (let i = start; i < end; i++) text += String.fromCharCode(bytes[i]);
	return text;
}

/**
 * Takes a line of text apart. Digits inside a label (`f0:512`, `button 2 = 1`) are no values. Undefined where the line
 * has more than `maxValues` values.
 */
export function readLine(bytes: Uint8Array, start: number, end: number, dialect: Dialect): LineTokens | undefined {
	const values: number[] = [];
	const starts: number[] = [];
	const ends: number[] = [];
	const times: boolean[] = [];
	const points: boolean[] = [];
	const literals: string[] = [];
	let literalStart = start;
	let at = start;
	while (at < end) {
		const after = valueAt(bytes, at, start, literalStart, end, dialect);
		if (after < 0) {
			at = -after;
			continue;
		}

		if (values.length === maxValues) return undefined;
		literals.push(bytesToText(bytes, literalStart, at));
		values.push(reading.value);
		times.push(reading.isTime);
		points.push(bytes[after - 1] === point);
		starts.push(at);
		ends.push(after);
		at = after;
		literalStart = after;
	}

	literals.push(bytesToText(bytes, literalStart, end));
	return {values, starts, ends, times, points, literals};
}

/**
 * Reads the value that begins at `at`, in a line from `start` to before `end` whose text before the next value begins at
 * `literalStart`: gives where it ends. Where none begins, what stands there is passed over: gives the negative of where
 * to look next.
 */
function valueAt(
	bytes: Uint8Array,
	at: number,
	start: number,
	literalStart: number,
	end: number,
	dialect: Dialect,
): number {
	const isWord = isLetter(bytes[at]);
	if (dialect.hexDigits > 0 && (isWord || isDigit(bytes[at]))) {
		const wordEnd = skipAlphanumeric(bytes, at, end);
		const after = isLabelSign(bytes, wordEnd, end) ? -1 : readValue(bytes, at, wordEnd, dialect);
		return after < 0 ? -wordEnd : after;
	}

	if (isWord) {
		const after = standsForValue(bytes, literalStart, at) ? readWordValue(bytes, at, end, dialect) : -1;
		return after < 0 ? -skipLabel(bytes, at, end, dialect) : after;
	}

	const isNumber = startsNumber(bytes, at, start, end);
	const after = isNumber ? readValue(bytes, at, numberEnd(bytes, at, start, end), dialect) : -1;
	return after < 0 ? -(at + 1) : after;
}

function skipAlphanumeric(bytes: Uint8Array, start: number, end: number): number {
	let at = start;
	while (at < end && (isDigit(bytes[at]) || isLetter(bytes[at]))) at++;
	return at;
}

function skipBlanks(bytes: Uint8Array, start: number, end: number): number {
	let at = start;
	while (at < end && isBlank(bytes[at])) at++;
	return at;
}

/** Whether `:` or `=` stands here, behind blanks, a closing quote or bracket. */
function isLabelSign(bytes: Uint8Array, start: number, end: number): boolean {
	let at = start;
	if (at < end && (bytes[at] === 0x22 || bytes[at] === 0x27)) at++;
	at = skipBlanks(bytes, at, end);
	return at < end && (bytes[at] === colon || bytes[at] === equals);
}

/** A sign or point begins a number only where no number or word has just ended: `5-3` is 5 and -3, `stick-3` is not. */
function startsNumber(bytes: Uint8Array, at: number, start: number, end: number): boolean {
	const byte = bytes[at];
	if (isDigit(byte)) return true;
	const next = at + 1 < end ? bytes[at + 1] : 0;
	if (byte === point) return isDigit(next) && (at === start || !isDigit(bytes[at - 1]));
	if (byte !== minus && byte !== 0x2b) return false;
	if (at > start && bytes[at - 1] === byte) return false;
	return isDigit(next) || (next === point && at + 2 < end && isDigit(bytes[at + 2]));
}

/** Behind a letter that is its label (`D512E40`) a number has no exponent: what follows is the next label. */
function numberEnd(bytes: Uint8Array, at: number, start: number, end: number): number {
	if (at === start || !isLetter(bytes[at - 1])) return end;
	for (let i = at; i < end; i++) {
		if ((bytes[i] | 0x20) === 0x65) return i;
		if (!isDigit(bytes[i]) && bytes[i] !== point && bytes[i] !== minus && bytes[i] !== 0x2b) return end;
	}

	return end;
}

/** Words are values only in the place of one: first in the line, or behind a separator, `:`, `=` or a bracket. */
function standsForValue(bytes: Uint8Array, literalStart: number, at: number): boolean {
	let before = at - 1;
	if (before >= literalStart && (bytes[before] === minus || bytes[before] === 0x2b)) before--;
	while (before >= literalStart && isBlank(bytes[before])) before--;
	return before < literalStart || ',;|:=[({<\t'.includes(String.fromCharCode(bytes[before]));
}

function readWordValue(bytes: Uint8Array, start: number, end: number, dialect: Dialect): number {
	const after = readValue(bytes, start, end, dialect);
	if (after < 0 || isLabelSign(bytes, after, end)) return -1;
	// Behind its label's sign it is one, whatever follows; `low battery`: elsewhere it is followed by a separator or nothing.
	if (start > 0 && (bytes[start - 1] === colon || bytes[start - 1] === equals)) return after;
	const next = skipBlanks(bytes, after, end);
	return next < end && isLetter(bytes[next]) && next > after ? -1 : after;
}

/** Where the word or label that begins here ends; digits that belong to its name are skipped with it. */
function skipLabel(bytes: Uint8Array, start: number, end: number, dialect: Dialect): number {
	let letters = start;
	while (letters < end && isLetter(bytes[letters])) letters++;
	let whole = letters;
	while (whole < end && isNameByte(bytes, whole, end)) whole++;
	// `fingers[0]=512`
	if (whole < end && bytes[whole] === 0x5b) {
		const digits = skipDigits(bytes, whole + 1, end);
		if (digits > whole + 1 && digits < end && bytes[digits] === 0x5d && isLabelSign(bytes, digits + 1, end))
			return digits + 1;
	}

	if (isLabelSign(bytes, whole, end)) return whole;
	// `button 2 = 1`, `axis #0: 512`
	let number = skipBlanks(bytes, letters, end);
	if (number < end && bytes[number] === 0x23) number++;
	const afterNumber = skipDigits(bytes, number, end);
	if (afterNumber > number && number - letters <= 2 && isLabelSign(bytes, afterNumber, end)) return afterNumber;
	if (whole > letters && !dialect.glued && whole < end && isBlank(bytes[whole]) && isDigit(bytes[whole - 1])) {
		// `f0 512 f1 498`: a name with a number, then its value.
		const next = skipBlanks(bytes, whole, end);
		if (next < end && startsNumber(bytes, next, start, end) && bytes[whole - 1] !== 0x23) return whole;
	}

	return skipJoinedName(bytes, letters, end);
}

/** `stick-x 512`: dashes and points hold a name together where letters follow. */
function skipJoinedName(bytes: Uint8Array, letters: number, end: number): number {
	let at = letters;
	while (at + 1 < end && (bytes[at] === minus || bytes[at] === point) && isLetter(bytes[at + 1])) {
		at++;
		while (at < end && isLetter(bytes[at])) at++;
	}

	return at;
}

function isNameByte(bytes: Uint8Array, at: number, end: number): boolean {
	const byte = bytes[at];
	if (isDigit(byte) || isLetter(byte) || byte === 0x23) return true;
	return (byte === minus || byte === point) && at + 1 < end && (isLetter(bytes[at + 1]) || isDigit(bytes[at + 1]));
}

/**
 * A literal with its blanks brought into one form, so that padding does not matter: blanks beside punctuation vanish,
 * a blank between two values or two words is one blank. A tab is a separator of its own unless `tabIsBlank`.
 */
export function normaliseLiteral(literal: string, isFirst: boolean, isLast: boolean, tabIsBlank: boolean): string {
	let text = tabIsBlank ? literal.replace(/[ \t]+/g, ' ') : literal.replace(/ *\t */g, '\t').replace(/ +/g, ' ');
	if (text === ' ') return isFirst || isLast ? '' : ' ';
	text = text.replace(/(?<![A-Za-z0-9_\x80-\xff]) | (?![A-Za-z0-9_\x80-\xff])/g, '');
	return text;
}

/** The literals of a line as one string: equal for lines of one layout. */
export function shapeKey(tokens: LineTokens, dialect: Dialect): string {
	const last = tokens.literals.length - 1;
	return tokens.literals
		.map((literal, i) => normaliseLiteral(literal, i === 0, i === last, dialect.tabIsBlank))
		.join('\u0000');
}

function isHexadecimal(bytes: Uint8Array, start: number, end: number): boolean {
	for (let i = start; i < end; i++) if (!isHexDigit(bytes[i])) return false;
	return true;
}

/** Digits of the bare hexadecimal values that a line might consist of: the width of its first field; 0 where none can be. */
export function hexWidth(bytes: Uint8Array, start: number, end: number): number {
	let width = 0;
	let at = start;
	while (at < end) {
		if (!isDigit(bytes[at]) && !isLetter(bytes[at])) {
			if (bytes[at] === point || bytes[at] === minus) return 0;
			at++;
			continue;
		}

		const fieldEnd = skipAlphanumeric(bytes, at, end);
		if (!isLabelSign(bytes, fieldEnd, end)) {
			if (width === 0) width = fieldEnd - at;
			if (fieldEnd - at !== width || !isHexadecimal(bytes, at, fieldEnd)) return 0;
		}

		at = fieldEnd;
	}

	return width >= 2 && width <= 8 ? width : 0;
}

/**
 * Whether commas in a line are decimal commas: another separator stands between the values, every comma stands between
 * two digits, no value has two. Where only blanks or labels separate, every value must have one.
 */
export function usesDecimalComma(text: string): boolean {
	if (!/\d,\d/.test(text) || /(?<!\d),|,(?!\d)/.test(text) || /\d,\d+,\d/.test(text)) return false;
	const hard = /[;\t|]/.test(text);
	const fields = text.split(hard ? /[;\t|]/ : /[^\d.,+-]+/).filter(field => /\d/.test(field));
	if (fields.length < 2) return false;
	const withComma = fields.filter(field => field.includes(',')).length;
	return hard ? withComma > 0 : withComma === fields.length;
}
