import {afterLoggerHead} from './logger-head.ts';
import {dropTerminalCodes} from './terminal-codes.ts';

const lineFeed = 0x0a;
const carriageReturn = 0x0d;
const asterisk = 0x2a;
const longestChecksum = 5;
const firstCapacity = 256;

/** What `take` came to. */
const wantsMore = 0;
export const lineDone = 1;
export const lineTooLong = 2;

/** Where in a line the next byte stands: in it, behind a CR that may have its LF yet to come, or behind it. */
const within = 0;
const afterReturn = 1;
const over = 2;
type Phase = typeof within | typeof afterReturn | typeof over;

/**
 * Puts lines together from chunks. Lines end in LF, CR LF or CR alone: a CR is held until the next byte tells which,
 * unless the line before ended in CR alone, so that the answer never depends on where chunks were cut. Zero bytes are
 * dropped. A line beyond the cap is told once, and the rest of it is dropped too.
 */
export class LineAssembler {
	/** The line so far, and after `lineDone` the whole of it, followed by a LF as a stop for readers. */
	bytes: Uint8Array;
	length = 0;
	/** Bytes received for the line, its end and its zero bytes included. */
	received = 0;
	/** Where in the stream the line began. */
	offset = 0;
	/** Where `take` stopped: what it has not consumed begins there. */
	next = 0;
	/** The stream's lines end in CR alone, as far as is known: then a CR need not wait. */
	crAlone = false;
	/** A LF that follows belongs to the CR before it. */
	skipsLineFeed = false;

	private readonly cap: number;
	private phase: Phase = within;
	/** Told to be too long: the rest of the line is dropped. */
	private isTooLong = false;

	constructor(cap: number) {
		this.cap = cap;
		this.bytes = new Uint8Array(Math.min(firstCapacity, cap) + 1);
	}

	/** True where no byte of a line is held: a caller may take whole lines straight from its chunk. */
	get isIdle(): boolean {
		if (this.skipsLineFeed || this.isTooLong) return false;
		return this.phase === over || (this.phase === within && this.received === 0);
	}

	/** Bytes held of a line that is not complete. */
	get pendingBytes(): number {
		return this.phase === over || this.isTooLong ? 0 : this.received;
	}

	/**
	 * Takes a checksum off the end of a whole line: an asterisk and two hex digits, as in NMEA 0183 sentences, or up to
	 * five decimal ones, as sums of readings are written.
	 */
	dropChecksum(): void {
		let star = this.length - 1;
		const least = Math.max(1, this.length - 1 - longestChecksum);
		while (star >= least && this.bytes[star] !== asterisk) star--;
		if (star < least || star === this.length - 1) return;
		const digits = this.length - 1 - star;
		for (let i = star + 1; i < this.length; i++) {
			const isDecimal = this.bytes[i] >= 0x30 && this.bytes[i] <= 0x39;
			if (!isDecimal && (digits !== 2 || !isHexDigit(this.bytes[i]))) return;
		}

		this.cutAt(star);
	}

	/** Takes terminal colours out of a whole line. True where there were some. */
	dropTerminalCodes(): boolean {
		const end = dropTerminalCodes(this.bytes, 0, this.length);
		if (end === this.length) return false;
		this.cutAt(end);
		return true;
	}

	/** Takes what a board's own logging puts before it off a whole line. True where there was something. */
	dropLoggerHead(): boolean {
		const front = afterLoggerHead(this.bytes, 0, this.length);
		if (front === 0) return false;
		this.bytes.copyWithin(0, front, this.length);
		this.cutAt(this.length - front);
		return true;
	}

	private cutAt(length: number): void {
		this.length = length;
		this.bytes[length] = lineFeed;
	}

	/** Begins a new line at this offset, forgetting what was held. */
	begin(offset: number): void {
		this.length = 0;
		this.received = 0;
		this.offset = offset;
		this.phase = within;
		this.isTooLong = false;
	}

	/** Takes bytes up to the end of one line. `offset` is the place of `start` in the stream. */
	take(bytes: Uint8Array, start: number, end: number, offset: number): number {
		let at = start;
		if (this.phase === over) this.begin(offset);
		if (this.phase === afterReturn) return this.takeAfterReturn(bytes, at, end);
		if (this.skipsLineFeed) {
			at = this.skipLineFeed(bytes, at, end, offset);
			if (at < 0) return wantsMore;
		}

		const first = at;
		while (at < end && bytes[at] !== lineFeed && bytes[at] !== carriageReturn) at++;
		const fits = this.append(bytes, first, at);
		this.received += at - first;
		this.next = at;
		if (!fits) return lineTooLong;
		if (at === end) return wantsMore;
		this.received++;
		this.next = at + 1;
		if (bytes[at] === lineFeed) return this.finish();
		if (this.crAlone) {
			this.skipsLineFeed = true;
			return this.finish();
		}

		this.phase = afterReturn;
		return wantsMore;
	}

	/** A CR is held: the byte that follows tells whether it is the end alone or has its LF yet to come. */
	private takeAfterReturn(bytes: Uint8Array, start: number, end: number): number {
		const at = this.takeZeros(bytes, start, end);
		if (at === end) return wantsMore;
		this.crAlone = bytes[at] !== lineFeed;
		if (!this.crAlone) {
			this.received++;
			this.next = at + 1;
		}

		return this.finish();
	}

	/** The line before ended in a CR: leaves out a LF that belongs to it. Where the new line goes on, or -1 where nothing of it is here. */
	private skipLineFeed(bytes: Uint8Array, start: number, end: number, offset: number): number {
		const at = this.takeZeros(bytes, start, end);
		if (at === end) return -1;
		this.skipsLineFeed = false;
		if (bytes[at] !== lineFeed) return at;
		this.crAlone = false;
		this.begin(offset + at + 1 - start);
		this.next = at + 1;
		return -1;
	}

	/** Zero bytes count as received and are dropped. */
	private takeZeros(bytes: Uint8Array, start: number, end: number): number {
		let at = start;
		while (at < end && bytes[at] === 0) at++;
		this.received += at - start;
		this.next = at;
		return at;
	}

	/** The stream is over. True where a line was held, complete (`awaited` its LF) or not. */
	end(): {readonly complete: boolean} | undefined {
		const complete = this.phase === afterReturn;
		if (this.phase === over || this.isTooLong || (this.length === 0 && !complete)) return undefined;
		this.finish();
		return {complete};
	}

	private finish(): number {
		this.phase = over;
		if (this.isTooLong) return wantsMore;
		this.bytes[this.length] = lineFeed;
		return lineDone;
	}

	/** False where the line has just become too long. */
	private append(bytes: Uint8Array, start: number, end: number): boolean {
		if (this.isTooLong || start === end) return true;
		const length = this.length + end - start;
		// Zero bytes count towards the cap until they are dropped: only lines near it notice.
		if (length >= this.bytes.length) this.grow(Math.min(length, this.cap));
		for (let i = start; i < end; i++) {
			if (bytes[i] === 0) continue;
			if (this.length === this.cap) {
				this.isTooLong = true;
				return false;
			}

			this.bytes[this.length++] = bytes[i];
		}

		return true;
	}

	private grow(length: number): void {
		const larger = new Uint8Array(Math.min(this.cap, Math.max(length, 2 * this.bytes.length)) + 1);
		larger.set(this.bytes.subarray(0, this.length));
		this.bytes = larger;
	}
}

function isHexDigit(byte: number): boolean {
	return /[0-9A-Fa-f]/.test(String.fromCharCode(byte));
}
