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

type ItemLineKind = 'bytes' | 'mark' | 'event' | 'end' | 'other' | 'header' | 'blank' | 'bad';

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
		for (let i = 0; i < opening.length; i++) if (line[start + i] !== opening[i]) return false;

		let at = start + opening.length;
		let digits = 0;
		let decimals = -1;
		const numberAt = at;
		for (; ; at++) {
			const byte = line[at]!;
			if (byte >= zero && byte <= zero + 9) {
				digits = digits * 10 + byte - zero;
				if (decimals >= 0) decimals++;
			} else if (byte === dot && decimals < 0) {
				decimals = 0;
			} else {
				break;
			}
		}

		// Up to 15 digits and a power of ten are both exact, so their quotient is what Number() would give.
		if (at === numberAt || at - numberAt > 16) return false;
		const t = decimals > 0 ? digits / powersOfTen[decimals]! : digits;
		if (t > latestSeconds) return false;
		for (let i = 0; i < received.length; i++) if (line[at + i] !== received[i]) return false;
		const textAt = at + received.length;
		const textEnd = end - 2;
		if (textAt > textEnd) return false;

		let firstEscape = -1;
		for (let i = textAt; i < textEnd; i++) {
			const byte = line[i]!;
			if (byte === backslash) {
				if (firstEscape < 0) firstEscape = i;
				i++;
				if (i >= textEnd || !escaped[line[i]! & 0x7f] || line[i]! > 0x7f) return false;
			} else if (byte === quote || byte < 0x20) {
				return false;
			}
		}

		let to = textEnd;
		if (firstEscape >= 0) {
			to = firstEscape;
			for (let i = firstEscape; i < textEnd; i++) {
				const byte = line[i]!;
				line[to++] = byte === backslash ? escaped[line[++i]!]! : byte;
			}
		}

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
