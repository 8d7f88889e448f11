/** How numbers and blanks are written in a stream; found out once, then fixed with the layout. */
export type Dialect = {
	/** `12,5;13,1`: the comma is the decimal sign. */
	readonly decimalComma: boolean;
	/** Columns lined up by any number of tabs, instead of one tab per separator. */
	readonly tabIsBlank: boolean;
	/** Digits of bare hexadecimal values (`01FF`), or 0 for decimal ones. */
	readonly hexDigits: number;
	/** `D512 498`: letters stuck to a number are no label with a number in its name. */
	readonly glued: boolean;
};

export const plainDialect: Dialect = {decimalComma: false, tabIsBlank: false, hexDigits: 0, glued: false};

/** What `readValue` read last: its second result, kept here so that reading allocates nothing. */
export const reading = {
	value: Number.NaN,
	/** It was a time of day or a date, in seconds. */
	isTime: false,
};

/** Words that stand for a value, in lower case. */
const valueWords: Readonly<Record<string, number>> = {
	true: 1,
	false: 0,
	on: 1,
	off: 0,
	high: 1,
	low: 0,
	yes: 1,
	no: 0,
	pressed: 1,
	released: 0,
	null: Number.NaN,
	none: Number.NaN,
	nan: Number.NaN,
	inf: Number.NaN,
	infinity: Number.NaN,
	ovf: Number.NaN,
};
const longestValueWord = 8;

const powersOfTen = Float64Array.from({length: 23}, (_, power) => 10 ** power);

export function isDigit(byte: number): boolean {
	return byte >= 0x30 && byte <= 0x39;
}

/** Letters of labels and units; every byte of a multi-byte character counts. */
export function isLetter(byte: number): boolean {
	return (byte >= 0x41 && byte <= 0x5a) || (byte >= 0x61 && byte <= 0x7a) || byte === 0x5f || byte >= 0x80;
}

export function isHexDigit(byte: number): boolean {
	return isDigit(byte) || (byte >= 0x41 && byte <= 0x46) || (byte >= 0x61 && byte <= 0x66);
}

/** The value of a mantissa with so many fraction digits; exact to the last bit up to 2^53 and 22 digits. */
export function scaleDecimal(mantissa: number, fractionDigits: number): number {
	return fractionDigits <= 22 ? mantissa / powersOfTen[fractionDigits] : mantissa / 10 ** fractionDigits;
}

/**
 * Reads one value at `start`: decimal, with an exponent, hexadecimal with `0x`, bare hexadecimal where the dialect has
 * it, a time of day or date (in seconds), or a word such as `true` or `nan`. Puts it into `reading` and returns where
 * it ends, or -1 where no value stands.
 */
export function readValue(bytes: Uint8Array, start: number, end: number, dialect: Dialect): number {
	reading.isTime = false;
	if (start >= end) return -1;
	if (dialect.hexDigits > 0) return readBareHex(bytes, start, end, dialect.hexDigits);
	let at = start;
	let negative = false;
	if (bytes[at] === 0x2d || bytes[at] === 0x2b) {
		negative = bytes[at] === 0x2d;
		at++;
	}

	if (at < end && isLetter(bytes[at])) return readWord(bytes, at, end);
	if (at === start) {
		const afterTime = readTime(bytes, start, end);
		if (afterTime >= 0) return afterTime;
	}

	if (at + 2 < end && bytes[at] === 0x30 && (bytes[at + 1] | 0x20) === 0x78 && isHexDigit(bytes[at + 2])) {
		return readHex(bytes, at + 2, end, negative);
	}

	return readDecimal(bytes, at, end, dialect, negative);
}

/** The digits behind `0x`. */
function readHex(bytes: Uint8Array, start: number, end: number, negative: boolean): number {
	let at = start;
	let value = 0;
	for (; at < end && isHexDigit(bytes[at]); at++) value = value * 16 + hexValue(bytes[at]);
	reading.value = negative ? 0 - value : value;
	return at;
}

function readDecimal(bytes: Uint8Array, at: number, end: number, dialect: Dialect, negative: boolean): number {
	const afterNumber = skipDecimal(bytes, at, end, dialect.decimalComma ? 0x2c : 0x2e);
	if (afterNumber < 0) return -1;
	let text = '';
	for (let i = at; i < afterNumber; i++) text += String.fromCharCode(bytes[i] === 0x2c ? 0x2e : bytes[i]);
	const value = Number(text);
	reading.value = Number.isFinite(value) ? (negative ? 0 - value : value) : Number.NaN;
	return afterNumber;
}

function skipDecimal(bytes: Uint8Array, start: number, end: number, point: number): number {
	let at = skipDigits(bytes, start, end);
	const wholeDigits = at - start;
	const digitFollows = at + 1 < end && isDigit(bytes[at + 1]);
	// A point may end a number (`5.`), a decimal comma may not: `512,` ends a field.
	if (at < end && bytes[at] === point && (digitFollows || (point === 0x2e && wholeDigits > 0))) {
		at = skipDigits(bytes, at + 1, end);
	} else if (wholeDigits === 0) return -1;

	return skipExponent(bytes, at, end);
}

/** Where the exponent that begins here ends; `start` where none does. */
function skipExponent(bytes: Uint8Array, start: number, end: number): number {
	if (start >= end || (bytes[start] | 0x20) !== 0x65) return start;
	let at = start + 1;
	if (at < end && (bytes[at] === 0x2b || bytes[at] === 0x2d)) at++;
	return at < end && isDigit(bytes[at]) ? skipDigits(bytes, at, end) : start;
}

/** Where the digits that begin here end. */
export function skipDigits(bytes: Uint8Array, start: number, end: number): number {
	let at = start;
	while (at < end && isDigit(bytes[at])) at++;
	return at;
}

function hexValue(byte: number): number {
	return byte <= 0x39 ? byte - 0x30 : (byte | 0x20) - 0x57;
}

function readBareHex(bytes: Uint8Array, start: number, end: number, digits: number): number {
	let value = 0;
	let at = start;
	for (; at < end && at < start + digits && isHexDigit(bytes[at]); at++) value = value * 16 + hexValue(bytes[at]);
	if (at !== start + digits || (at < end && (isDigit(bytes[at]) || isLetter(bytes[at])))) return -1;
	reading.value = value;
	return at;
}

function readWord(bytes: Uint8Array, start: number, end: number): number {
	let at = start;
	let word = '';
	for (; at < end && isLetter(bytes[at]); at++) {
		if (at - start >= longestValueWord) return -1;
		word += String.fromCharCode(bytes[at]);
	}

	if (at < end && isDigit(bytes[at])) return -1;
	word = word.toLowerCase();
	if (!Object.hasOwn(valueWords, word)) return -1;
	reading.value = valueWords[word];
	return at;
}

function twoDigits(bytes: Uint8Array, at: number, end: number): number {
	if (at + 1 >= end || !isDigit(bytes[at]) || !isDigit(bytes[at + 1])) return -1;
	return (bytes[at] - 0x30) * 10 + bytes[at + 1] - 0x30;
}

/** Days since 1970 of a date with a `T` or a blank behind it; NaN where none stands. */
function readDays(bytes: Uint8Array, at: number, end: number): number {
	const century = twoDigits(bytes, at, end);
	const year = twoDigits(bytes, at + 2, end);
	const month = twoDigits(bytes, at + 5, end);
	const day = twoDigits(bytes, at + 8, end);
	const between = bytes[at + 10];
	if (century < 0 || year < 0 || month < 1 || day < 1 || (between !== 0x54 && between !== 0x20)) return Number.NaN;
	return Date.UTC(century * 100 + year, month - 1, day) / 86_400_000;
}

/** `09:14:07.112`, or the same after `2024-05-01T`: seconds of the day, or since 1970 (check-values F18). */
function readTime(bytes: Uint8Array, start: number, end: number): number {
	let at = start;
	let days = 0;
	const dash = bytes[at + 4];
	const dated = (dash === 0x2d || dash === 0x2f) && bytes[at + 7] === dash;
	if (dated) {
		days = readDays(bytes, at, end);
		if (Number.isNaN(days)) return -1;
		at += 11;
	}

	let hours = twoDigits(bytes, at, end);
	let afterHours = at + 2;
	if (hours < 0 && isDigit(bytes[at]) && at + 1 < end && bytes[at + 1] === 0x3a) {
		hours = bytes[at] - 0x30;
		afterHours = at + 1;
	}

	if (hours < 0 || afterHours + 5 >= end || bytes[afterHours] !== 0x3a || bytes[afterHours + 3] !== 0x3a) return -1;
	const minutes = twoDigits(bytes, afterHours + 1, end);
	const seconds = twoDigits(bytes, afterHours + 4, end);
	if (minutes < 0 || minutes > 59 || seconds < 0 || seconds > 60) return -1;
	at = afterHours + 6;
	if (at < end && (isDigit(bytes[at]) || bytes[at] === 0x3a)) return -1;
	const hasFraction = at + 1 < end && bytes[at] === 0x2e && isDigit(bytes[at + 1]);
	const after = hasFraction ? skipDigits(bytes, at + 1, end) : at;
	const fraction = hasFraction ? fractionOf(bytes, at + 1, after) : 0;
	reading.value = days * 86_400 + hours * 3600 + minutes * 60 + seconds + fraction;
	reading.isTime = true;
	return dated && after < end && bytes[after] === 0x5a ? after + 1 : after;
}

/** Digits behind a point, as what they are worth. */
function fractionOf(bytes: Uint8Array, start: number, end: number): number {
	let mantissa = 0;
	for (let at = start; at < end; at++) mantissa = mantissa * 10 + bytes[at] - 0x30;
	return scaleDecimal(mantissa, end - start);
}
