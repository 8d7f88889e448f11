import {latestSeconds, linkEvents} from '../stream/source-item.ts';

const quote = 0x22;
const backslash = 0x5c;
const zero = 0x30;
const dot = 0x2e;

/** `{"t":` */
const opening = Uint8Array.from([0x7b, 0x22, 0x74, 0x22, 0x3a]);
/** `,"rx":"` */
const received = Uint8Array.from([0x2c, 0x22, 0x72, 0x78, 0x22, 0x3a, 0x22]);

/** What a one-letter JSON escape stands for; 0 for none and for `\u`, which takes the longer way. */
const escaped = new Uint8Array(128);
for (const [letter, byte] of Object.entries({
	n: 10,
	r: 13,
	t: 9,
	b: 8,
	f: 12,
	'"': quote,
	'\\': backslash,
	'/': 0x2f,
})) {
	escaped[letter.charCodeAt(0)] = byte;
}

/** 10^0 … 10^22 are exact doubles. */
const powersOfTen = Float64Array.from({length: 23}, (_, exponent) => 10 ** exponent);

export type ItemLineKind = 'bytes' | 'mark' | 'event' | 'end' | 'other' | 'header' | 'blank' | 'bad';

const knownEvents: ReadonlySet<string> = new Set(linkEvents);

/**
 * One line of a recording after the header. `read` tells what it is and fills in the fields; the object is reused from
 * line to line. The common line, received text, is read byte by byte without making a string of it, in place: the bytes
 * handed out lie in the buffer given, which is changed. Everything else goes through `JSON.parse`.
 */
export class ItemLine {
	/** Seconds. */
	t = 0;
	bytes: Uint8Array = new Uint8Array();
	/** Of a mark, or the name of an event. */
	text = '';
	detail: string | undefined;
	/** Received bytes according to an end line. */
	endBytes: number | undefined;

	read(line: Buffer, start: number, end: number): ItemLineKind {
		if (end > start && line[end - 1] === 0x0d) end--;
		return this.#readText(line, start, end) ? 'bytes' : this.#readJson(line.toString('utf8', start, end));
	}

	/** `{"t":1.234,"rx":"…"}` exactly as the writer puts it; false, and nothing changed, for everything else. */
	#readText(line: Buffer, start: number, end: number): boolean {
		// The shortest such line is `{"t":0,"rx":""}`.
		if (end - start < 15 || line[end - 1] !== 0x7d || line[end - 2] !== quote) return false;
		if (!standsAt(line, start, opening)) return false;
		const timeAt = start + opening.length;
		const timeEnd = numberEnd(line, timeAt);
		if (!standsAt(line, timeEnd, received)) return false;
		const t = shortNumber(line, timeAt, timeEnd);
		// NaN where it is no number of ours.
		if (!(t <= latestSeconds)) return false;
		const textAt = timeEnd + received.length;
		const textEnd = end - 2;
		const firstEscape = textAt > textEnd ? -1 : escapeIn(line, textAt, textEnd);
		if (firstEscape < 0) return false;
		const to = unescapeFrom(line, firstEscape, textEnd);
		this.t = t;
		this.bytes = new Uint8Array(line.buffer, line.byteOffset + textAt, to - textAt);
		return true;
	}

	#readJson(text: string): ItemLineKind {
		if (text.trim() === '') return 'blank';
		let parsed: Record<string, unknown>;
		try {
			parsed = JSON.parse(text);
		} catch {
			return 'bad';
		}

		if (typeof parsed !== 'object' || parsed === null) return 'bad';
		if ('glovebench' in parsed) return 'header';
		const {t} = parsed;
		if (typeof t !== 'number' || !(t >= 0 && t <= latestSeconds)) return 'bad';
		this.t = t;
		if (typeof parsed.rx === 'string') {
			this.bytes = Buffer.from(parsed.rx, 'utf8');
			return 'bytes';
		}

		if (typeof parsed.rx64 === 'string') {
			this.bytes = Buffer.from(parsed.rx64, 'base64');
			return 'bytes';
		}

		if (typeof parsed.mark === 'string') {
			this.text = parsed.mark;
			return 'mark';
		}

		if (typeof parsed.event === 'string') {
			this.text = parsed.event;
			this.detail = typeof parsed.detail === 'string' ? parsed.detail : undefined;
			// Events of later versions mean nothing to the readers of these items.
			return knownEvents.has(parsed.event) ? 'event' : 'other';
		}

		if (parsed.end === true) {
			this.endBytes = typeof parsed.bytes === 'number' ? parsed.bytes : undefined;
			return 'end';
		}

		return 'other';
	}
}

function standsAt(line: Buffer, at: number, bytes: Uint8Array): boolean {
	for (let i = 0; i < bytes.length; i++) if (line[at + i] !== bytes[i]) return false;
	return true;
}

/** Where digits with at most one point among them end. */
function numberEnd(line: Buffer, start: number): number {
	let hasPoint = false;
	for (let at = start; ; at++) {
		const byte = line[at]!;
		if (byte === dot && !hasPoint) hasPoint = true;
		else if (!(byte >= zero && byte <= zero + 9)) return at;
	}
}

/** Digits with at most one point, of at most 16 characters; NaN for more, or for none. */
function shortNumber(line: Buffer, start: number, end: number): number {
	if (end === start || end - start > 16) return Number.NaN;
	let digits = 0;
	let decimals = 0;
	for (let at = start; at < end; at++) {
		if (line[at] === dot) decimals = end - at - 1;
		else digits = digits * 10 + line[at]! - zero;
	}

	// Up to 15 digits and a power of ten are both exact, so their quotient is what Number() would give.
	return decimals > 0 ? digits / powersOfTen[decimals]! : digits;
}

/** Where the first escape of a text begins, its end where there is none; −1 where it is no text that can be read in place. */
function escapeIn(line: Buffer, from: number, end: number): number {
	let first = end;
	for (let i = from; i < end; i++) {
		const byte = line[i]!;
		if (byte === backslash) {
			if (first === end) first = i;
			i++;
			if (i >= end || !escaped[line[i]! & 0x7f] || line[i]! > 0x7f) return -1;
		} else if (byte === quote || byte < 0x20) return -1;
	}

	return first;
}

/** Puts what the escapes of a text stand for in their place, from the first one on. Gives the new end. */
function unescapeFrom(line: Buffer, firstEscape: number, end: number): number {
	let to = firstEscape;
	for (let i = firstEscape; i < end; i++) {
		const byte = line[i]!;
		line[to++] = byte === backslash ? escaped[line[++i]!]! : byte;
	}

	return to;
}
