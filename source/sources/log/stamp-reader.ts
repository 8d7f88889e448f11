import {endOfField} from './log-lines.ts';

/**
 * Reads the time stamp of one line, byte by byte. One kind of stamp per reader, settled once per file.
 *
 * `read` looks at `bytes[start…end)`, a line without its end, and returns the stamp in the reader's unit, or NaN where
 * there is none. After a stamp, `from` and `after` are where it lies: `after` is behind its zone, unit and closing
 * bracket, before whatever separates it from the frame.
 */
export type StampReader = {
	read(bytes: Uint8Array, start: number, end: number): number;
	from: number;
	after: number;
	/** Digits after the decimal sign of the last stamp: how finely it was printed. */
	decimals: number;
};

const colon = 0x3a;
const space = 0x20;

export function isDigit(byte: number | undefined): boolean {
	return byte !== undefined && byte >= 0x30 && byte <= 0x39;
}

function isLetter(byte: number | undefined): boolean {
	return byte !== undefined && ((byte >= 0x41 && byte <= 0x5a) || (byte >= 0x61 && byte <= 0x7a));
}

/** What may open a stamp: space, tab, `[ ( { < " ' #`. `{` is not among them: a JSON object begins with it. */
const opening = new Uint8Array(256);
for (const byte of Buffer.from(' \t[(<"\'#', 'latin1')) opening[byte] = 1;

/** What may close it. */
const closing = new Uint8Array(256);
for (const byte of Buffer.from('])>"\'', 'latin1')) closing[byte] = 1;

/** What a date before the clock is written with, besides the names of days and months and the T of ISO 8601. */
const dateLike = new Uint8Array(256);
for (const byte of Buffer.from(' \t[(<"\'#0123456789-/._,', 'latin1')) dateLike[byte] = 1;

const dateNames = /^(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|mon|tue|wed|thu|fri|sat|sun)[a-z]*$/i;

/** True where what stands before a clock time can be a date: boot text often has a time too, that of its making. */
function isDateLike(bytes: Uint8Array, from: number, to: number): boolean {
	for (let at = from; at < to; ) {
		const byte = bytes[at]!;
		if (dateLike[byte]) {
			at++;
			continue;
		}

		const wordAt = at;
		while (at < to && isLetter(bytes[at])) at++;
		if (at === wordAt) return false;
		const iso = at === to && at - wordAt === 1 && (byte | 0x20) === 0x74;
		if (!iso && !dateNames.test(String.fromCharCode(...bytes.subarray(wordAt, at)))) return false;
	}

	return true;
}

const powersOfTen = Float64Array.from({length: 10}, (_, exponent) => 10 ** exponent);

/** Decimals beyond these are left out: no log has times finer than nanoseconds. */
const mostDecimals = 9;

function digitsEnd(bytes: Uint8Array, from: number, end: number): number {
	let at = from;
	while (at < end && isDigit(bytes[at])) at++;
	return at;
}

/** The digits from `from` to before `to`, put behind those of `before`. */
function digitsFrom(bytes: Uint8Array, from: number, to: number, before: number): number {
	let value = before;
	for (let at = from; at < to; at++) value = value * 10 + bytes[at]! - 0x30;
	return value;
}

/** The first colon between digits; −1 without one. */
function firstColon(bytes: Uint8Array, start: number, limit: number): number {
	for (let at = start + 1; at < limit; at++) {
		if (bytes[at] === colon && isDigit(bytes[at - 1]) && isDigit(bytes[at + 1])) return at;
	}

	return -1;
}

/** How far into a line a stamp may reach: a long date with the names of day and month fits. */
const reach = 40;

/** Length of the time units a stamp may carry, in letters, as its divisor to seconds. */
const unitNames: Readonly<Record<string, number>> = {
	ms: 1e3,
	msec: 1e3,
	millis: 1e3,
	s: 1,
	sec: 1,
	secs: 1,
	us: 1e6,
	usec: 1e6,
	micros: 1e6,
	µs: 1e6,
	μs: 1e6,
	ns: 1e9,
};

/**
 * A number at the start of the line, perhaps behind an opening bracket, perhaps with a unit and a closing bracket.
 * Its unit is the number's own.
 */
export class NumberStamp implements StampReader {
	from = 0;
	after = 0;
	decimals = 0;
	/** True where the last stamp stood in brackets or quotes. */
	bracketed = false;
	/** Divisor to seconds of the unit written behind the last stamp; 0 for none. */
	unitDivisor = 0;
	readonly #decimalSign: number;

	constructor(decimalSign: '.' | ',' = '.') {
		this.#decimalSign = decimalSign.charCodeAt(0);
	}

	read(bytes: Uint8Array, start: number, end: number): number {
		let at = start;
		while (at < end && opening[bytes[at]!]) at++;
		const numberAt = at;
		at = digitsEnd(bytes, at, end);
		if (at === numberAt || at - numberAt > 19) return Number.NaN;
		let value = digitsFrom(bytes, numberAt, at, 0);
		let decimals = 0;
		if (bytes[at] === this.#decimalSign && at + 1 < end && isDigit(bytes[at + 1])) {
			const fractionEnd = digitsEnd(bytes, at + 1, end);
			decimals = Math.min(mostDecimals, fractionEnd - at - 1);
			value = digitsFrom(bytes, at + 1, at + 1 + decimals, value);
			at = fractionEnd;
		}

		if (at < end && bytes[at] === 0x2e) return Number.NaN;
		this.from = numberAt;
		this.decimals = decimals;
		this.unitDivisor = 0;
		const unitEnd = this.#skipUnit(bytes, at, end);
		if (unitEnd < 0) return Number.NaN;
		this.after = this.#skipBracket(bytes, unitEnd, end, numberAt > start ? bytes[numberAt - 1]! : 0);
		return decimals > 0 ? value / powersOfTen[decimals]! : value;
	}

	/** Behind what closes the stamp, where something opened it. */
	#skipBracket(bytes: Uint8Array, at: number, end: number, before: number): number {
		this.bracketed = false;
		if (at >= end || !closing[bytes[at]!] || !opening[before]) return at;
		this.bracketed = before !== space || bytes[at] !== 0x3e;
		return at + 1;
	}

	/** The end of a unit at `at`, `at` itself where none is written, −1 where other letters follow. */
	#skipUnit(bytes: Uint8Array, at: number, end: number): number {
		let unitAt = at;
		if (unitAt < end && bytes[unitAt] === space) unitAt++;
		let unitEnd = unitAt;
		while (unitEnd < end && unitEnd - unitAt < 8 && (isLetter(bytes[unitEnd]) || bytes[unitEnd]! >= 0x80)) unitEnd++;
		if (unitEnd === unitAt) return at;
		const next = bytes[unitEnd];
		// `12 s=5` and `12 s:5` are labels.
		const label = unitEnd < end && (isDigit(next) || next === 0x3d || next === 0x5f);
		const name = Buffer.from(bytes.buffer, bytes.byteOffset + unitAt, unitEnd - unitAt)
			.toString('utf8')
			.toLowerCase();
		const divisor = label ? undefined : unitNames[name];
		if (divisor === undefined) return unitAt === at ? -1 : at;
		this.unitDivisor = divisor;
		return unitEnd;
	}
}

/**
 * A clock time, `9:14:07`, `09:14:07.112`, `09:14:07,112`, `09:14:07:112`, `14:07.112`, `09:14:07 PM`, with or without
 * a date before it. Its unit is the second, counted from midnight, or where the date is ISO 8601 from 1970 in UTC
 * (local time where no zone is written).
 */
export class ClockStamp implements StampReader {
	from = 0;
	after = 0;
	decimals = 0;
	/** True where the last stamp had a date in the order of ISO 8601. */
	dated = false;
	readonly #useDate: boolean;
	#dateKey = -1;
	#dateSeconds = 0;

	/** @param useDate False to count from midnight whatever date is there. */
	constructor(useDate: boolean) {
		this.#useDate = useDate;
	}

	read(bytes: Uint8Array, start: number, end: number): number {
		const colonAt = firstColon(bytes, start, Math.min(end, start + reach));
		if (colonAt < 0) return Number.NaN;
		const from = colonAt - (colonAt - 1 > start && isDigit(bytes[colonAt - 2]) ? 2 : 1);
		if (from > start && isDigit(bytes[from - 1])) return Number.NaN;
		const first = digitsFrom(bytes, from, colonAt, 0);
		const clock = this.#readClock(bytes, first, colonAt, end);
		if (Number.isNaN(clock)) return Number.NaN;
		let seconds = clock + this.#readFraction(bytes, this.after, end);
		let at = this.after;
		if (bytes[at] === colon && isDigit(bytes[at + 1])) return Number.NaN;
		if (!isDateLike(bytes, start, from)) return Number.NaN;
		at = this.#readHalfDay(bytes, at, end, first);
		seconds += this.#halfDaySeconds;
		const dateSeconds = this.#readDate(bytes, start, from);
		this.dated = dateSeconds >= 0;
		if (this.dated) {
			at = this.#readZone(bytes, at, end);
			if (this.#useDate) seconds += dateSeconds - this.#zoneSeconds;
		}

		if (at < end && closing[bytes[at]!]) at++;
		this.from = from;
		this.after = at;
		return seconds;
	}

	/** Whole seconds of the clock whose first colon stands at `at`; NaN where it is none. `after` is then behind them. */
	#readClock(bytes: Uint8Array, first: number, at: number, end: number): number {
		if (!isDigit(bytes[at + 2])) return Number.NaN;
		const second = digitsFrom(bytes, at + 1, at + 3, 0);
		const nextAt = at + 3;
		if (bytes[nextAt] === colon && isDigit(bytes[nextAt + 1]) && isDigit(bytes[nextAt + 2]) && nextAt + 2 < end) {
			const third = digitsFrom(bytes, nextAt + 1, nextAt + 3, 0);
			this.after = nextAt + 3;
			// 23:59:60 is a leap second (RFC 3339 §5.7).
			return first > 24 || second > 59 || third > 60 ? Number.NaN : first * 3600 + second * 60 + third;
		}

		this.after = nextAt;
		// Minutes and seconds are only taken for a time with a fraction: 12:30 is too much like a pair of readings.
		const hasFraction = (bytes[nextAt] === 0x2e || bytes[nextAt] === 0x2c) && isDigit(bytes[nextAt + 1]);
		return hasFraction && first <= 59 && second <= 59 ? first * 60 + second : Number.NaN;
	}

	/** What stands behind the seconds as their fraction; 0 where none does. `after` is then behind it. */
	#readFraction(bytes: Uint8Array, at: number, end: number): number {
		this.decimals = 0;
		if (at + 1 >= end || !isDigit(bytes[at + 1]) || !this.#beginsFraction(bytes, at, end)) return 0;
		this.after = digitsEnd(bytes, at + 1, end);
		this.decimals = Math.min(mostDecimals, this.after - at - 1);
		return digitsFrom(bytes, at + 1, at + 1 + this.decimals, 0) / powersOfTen[this.decimals]!;
	}

	#beginsFraction(bytes: Uint8Array, at: number, end: number): boolean {
		if (bytes[at] === 0x2e) return true;
		if (bytes[at] === 0x2c) return this.#commaIsFraction(bytes, at, end);
		// A colon, with three digits behind it.
		return bytes[at] === colon && isDigit(bytes[at + 2]) && isDigit(bytes[at + 3]) && !isDigit(bytes[at + 4]);
	}

	/** A comma behind the seconds begins a fraction where 1, 2, 3, 6 or 9 digits and then no further comma follow. */
	#commaIsFraction(bytes: Uint8Array, at: number, end: number): boolean {
		const behind = digitsEnd(bytes, at + 1, end);
		return behind - at - 1 <= mostDecimals && (behind >= end || bytes[behind] !== 0x2c);
	}

	#halfDaySeconds = 0;

	#readHalfDay(bytes: Uint8Array, at: number, end: number, hour: number): number {
		this.#halfDaySeconds = 0;
		const letterAt = bytes[at] === space ? at + 1 : at;
		const half = bytes[letterAt]! | 0x20;
		if (letterAt + 1 >= end || (half !== 0x61 && half !== 0x70) || (bytes[letterAt + 1]! | 0x20) !== 0x6d) return at;
		if (isLetter(bytes[letterAt + 2])) return at;
		if (half === 0x70 && hour < 12) this.#halfDaySeconds = 43_200;
		if (half === 0x61 && hour === 12) this.#halfDaySeconds = -43_200;
		return letterAt + 2;
	}

	/** Seconds from 1970 to the day written `YYYY-MM-DD` (or with `/` or `.`) just before the clock; −1 without one. */
	#readDate(bytes: Uint8Array, start: number, clockAt: number): number {
		const at = clockAt - 11;
		if (at < start) return -1;
		for (let i = 0; i < 10; i++) {
			const byte = bytes[at + i];
			if (i === 4 || i === 7) {
				if (byte !== 0x2d && byte !== 0x2f && byte !== 0x2e) return -1;
			} else if (!isDigit(byte)) {
				return -1;
			}
		}

		const digit = (i: number): number => bytes[at + i]! - 0x30;
		const year = digit(0) * 1000 + digit(1) * 100 + digit(2) * 10 + digit(3);
		const month = digit(5) * 10 + digit(6);
		const day = digit(8) * 10 + digit(9);
		const key = (year * 100 + month) * 100 + day;
		if (key !== this.#dateKey) {
			if (month < 1 || month > 12 || day < 1 || day > 31) return -1;
			this.#dateKey = key;
			this.#dateSeconds = Date.UTC(year, month - 1, day) / 1000;
		}

		return this.#dateSeconds;
	}

	#zoneSeconds = 0;

	/** `Z`, `+02`, `+0200`, `+02:00`, the latter ones perhaps behind a space. */
	#readZone(bytes: Uint8Array, at: number, end: number): number {
		this.#zoneSeconds = 0;
		if (at >= end) return at;
		if ((bytes[at]! | 0x20) === 0x7a && !isLetter(bytes[at + 1])) return at + 1;
		const signAt = bytes[at] === space ? at + 1 : at;
		const sign = bytes[signAt] === 0x2b ? 1 : bytes[signAt] === 0x2d ? -1 : 0;
		if (sign === 0 || !isDigit(bytes[signAt + 1]) || !isDigit(bytes[signAt + 2])) return at;
		const hours = (bytes[signAt + 1]! - 0x30) * 10 + bytes[signAt + 2]! - 0x30;
		const minuteAt = bytes[signAt + 3] === colon ? signAt + 4 : signAt + 3;
		const hasMinutes = minuteAt + 1 < end && isDigit(bytes[minuteAt]) && isDigit(bytes[minuteAt + 1]);
		const zoneEnd = hasMinutes ? minuteAt + 2 : signAt + 3;
		// Behind a space only the full form, since a reading may be negative.
		if (hours > 15 || isDigit(bytes[zoneEnd]) || (signAt > at && !hasMinutes)) return at;
		const minutes = hasMinutes ? (bytes[minuteAt]! - 0x30) * 10 + bytes[minuteAt + 1]! - 0x30 : 0;
		this.#zoneSeconds = sign * (hours * 3600 + minutes * 60);
		return zoneEnd;
	}
}

/** The stamp in field `index` of a line of separated values, quoted or not (RFC 4180). */
export class FieldStamp implements StampReader {
	from = 0;
	after = 0;
	decimals = 0;
	readonly #inner: StampReader;
	readonly #index: number;
	readonly #separator: number;

	constructor(inner: StampReader, index: number, separator: string) {
		this.#inner = inner;
		this.#index = index;
		this.#separator = separator.charCodeAt(0);
	}

	read(bytes: Uint8Array, start: number, end: number): number {
		let at = start;
		for (let field = 0; ; field++) {
			const fieldEnd = endOfField(bytes, at, end, this.#separator);
			if (field === this.#index) {
				const value = this.#inner.read(bytes, at, fieldEnd);
				this.from = this.#inner.from;
				this.decimals = this.#inner.decimals;
				this.after = fieldEnd;
				return value;
			}

			if (fieldEnd >= end) return Number.NaN;
			at = fieldEnd + 1;
		}
	}
}

/** The number behind a label, `"t":12345` or `t=12.3`, wherever it stands in the line. */
export class LabelStamp implements StampReader {
	from = 0;
	after = 0;
	decimals = 0;
	readonly #label: Uint8Array;
	readonly #inner = new NumberStamp();

	constructor(label: string) {
		this.#label = Buffer.from(label, 'utf8');
	}

	read(bytes: Uint8Array, start: number, end: number): number {
		const label = this.#label;
		const first = label[0]!;
		search: for (let at = start; at + label.length < end; at++) {
			if (bytes[at] !== first) continue;
			for (let i = 1; i < label.length; i++) if (bytes[at + i] !== label[i]) continue search;
			// `t=` must not be found at the end of `left=`.
			if (
				at > start &&
				isLetter(first) &&
				(isLetter(bytes[at - 1]) || isDigit(bytes[at - 1]) || bytes[at - 1] === 0x5f)
			)
				continue;
			const value = this.#inner.read(bytes, at + label.length, end);
			this.from = this.#inner.from;
			this.after = this.#inner.after;
			this.decimals = this.#inner.decimals;
			return value;
		}

		return Number.NaN;
	}
}
