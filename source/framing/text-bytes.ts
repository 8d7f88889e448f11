import {ByteQuality} from './byte-quality.ts';
import {classifyLine} from './classify-line.ts';
import {bytesToLose, type LayoutInForce} from './layout-in-force.ts';
import {LineAssembler, lineDone, lineTooLong} from './line-assembler.ts';
import {afterMark, isBlank, wholeDigits} from './line-bytes.ts';
import type {ForcedLayout} from './parse-layout-option.ts';
import type {Teller} from './teller.ts';
import type {TextLayout} from './text-layout.ts';
import type {TextLines} from './text-lines.ts';

const lineFeed = 0x0a;
const carriageReturn = 0x0d;

/**
 * A stream that is text. Owns the way from bytes to whole lines: the line under way, what is taken off it, whether its front
 * may be missing, and which bytes are no text. A line that fits the layout's template is read where it stands, without a copy.
 */
export class TextBytes {
	/** What bytes that were looked at as text are: the share of those that are none tells a wrong symbol rate. */
	readonly quality = new ByteQuality();
	/** Lines out of which terminal colours were taken. */
	colouredLines = 0;
	/** Lines off which the head of the board's own logging was taken. */
	headedLines = 0;

	readonly lines: TextLines;
	private readonly teller: Teller;
	private readonly inForce: LayoutInForce;
	private readonly assembler: LineAssembler;
	private readonly maxLineBytes: number;
	/** Nobody said that text comes: it may become something else. */
	private readonly canLose: boolean;
	/** The next line is the stream's first: it may have been joined in its middle. */
	private atFirstLine = true;
	/** The link was interrupted: what comes up to the next end of a line has lost its front. */
	private joined = false;

	constructor(
		teller: Teller,
		inForce: LayoutInForce,
		lines: TextLines,
		forced: ForcedLayout | null,
		maxLineBytes: number,
	) {
		this.teller = teller;
		this.inForce = inForce;
		this.lines = lines;
		this.canLose = forced?.framing !== 'text' && forced?.framing !== 'json';
		this.maxLineBytes = maxLineBytes;
		this.assembler = new LineAssembler(maxLineBytes);
	}

	/** Bytes of the line under way. */
	get pendingBytes(): number {
		return this.assembler.pendingBytes;
	}

	/** So many bytes came without a frame that it is open again what the stream is. */
	get isLost(): boolean {
		return this.inForce.bytesSinceFrame >= bytesToLose && this.canLose;
	}

	/**
	 * Takes bytes of settled text; `base` is the place in the stream of the byte at index 0. Whole lines go straight from the
	 * chunk, everything else by way of the assembler. Returns where it stopped: at `end`, or at the very byte at which the stream
	 * counts as lost, so that chunks make no difference.
	 */
	take(t: number, bytes: Uint8Array, start: number, end: number, base: number): number {
		const {assembler, inForce, canLose} = this;
		let lastEnd = end - 1;
		while (lastEnd >= start && bytes[lastEnd] !== lineFeed && bytes[lastEnd] !== carriageReturn) lastEnd--;
		let at = start;
		while (at < end) {
			if (at <= lastEnd) {
				at = this.takeWholeLines(t, bytes, at, lastEnd, end);
				if (at === end) break;
			}

			const stop = canLose ? Math.min(end, at + bytesToLose - inForce.bytesSinceFrame) : end;
			const result = assembler.take(bytes, at, stop, base + at);
			this.quality.take(bytes, at, assembler.next);
			inForce.bytesSinceFrame += assembler.next - at;
			at = assembler.next;
			this.takeResult(t, result);
			if (this.isLost) break;
		}

		return at;
	}

	/** Takes one byte while it is open what the stream is. */
	takeByte(t: number, bytes: Uint8Array, place: number, base: number): void {
		const {assembler} = this;
		for (let at = place; at === place; at = assembler.next)
			this.takeResult(t, assembler.take(bytes, at, place + 1, base + place));
		this.quality.take(bytes, place, place + 1);
	}

	/** The link was interrupted; with `joined` what comes next has lost its front, which is nobody's fault. */
	resync(offset: number, joined: boolean): void {
		this.lines.resync();
		this.begin(offset);
		this.atFirstLine = true;
		this.joined = joined;
	}

	/** A new line begins at this place of the stream: what was pending is dropped. */
	begin(offset: number): void {
		this.assembler.begin(offset);
	}

	/** The stream has become packets, the first of which began at `offset`; so many bytes before it were no text. */
	leave(offset: number, nonText: number): void {
		this.lines.leave(offset);
		this.atFirstLine = false;
		this.quality.nonText = nonText;
	}

	/** The source is over: the last line may lack its end, and a layout must be made of what there is. */
	end(t: number): void {
		const last = this.assembler.end();
		if (last?.complete === false && this.lines.layout !== null) this.takeUnfinished(t, this.lines.layout);
		else if (last !== undefined) this.takeLine(t, last.complete);
		this.lines.settleLast();
	}

	/** Decodes whole lines that fit the template, up to the last line end; returns where the first other one begins. */
	private takeWholeLines(t: number, bytes: Uint8Array, start: number, lastEnd: number, end: number): number {
		const {assembler, quality, lines, teller} = this;
		const {values} = this.inForce;
		const template = lines.layout?.template ?? null;
		if (template === null || this.joined) return start;
		let at = start;
		while (at <= lastEnd) {
			if (assembler.skipsLineFeed && bytes[at] !== lineFeed && bytes[at] !== 0) assembler.skipsLineFeed = false;
			if (!assembler.isIdle) return at;
			const lineEnd = template.match(bytes, at, values);
			if (lineEnd < 0 || lineEnd - at > this.maxLineBytes) return at;
			const next = bytes[lineEnd] === carriageReturn ? this.afterReturn(bytes, lineEnd, end) : lineEnd + 1;
			if (next < 0) return at;
			quality.takeText(next - at);
			teller.lineCount++;
			this.atFirstLine = false;
			lines.frame(t, next - at);
			at = next;
		}

		return at;
	}

	/** Where the line behind a CR begins, a LF with it skipped; −1 where the next byte is to tell, and is not there. */
	private afterReturn(bytes: Uint8Array, place: number, end: number): number {
		const {assembler} = this;
		const next = place + 1;
		if (assembler.crAlone) {
			assembler.skipsLineFeed = true;
			return next;
		}

		if (next === end || bytes[next] === 0) return -1;
		if (bytes[next] === lineFeed) return next + 1;
		assembler.crAlone = true;
		return next;
	}

	private takeResult(t: number, result: number): void {
		if (result === lineDone) this.takeLine(t, true);
		else if (result === lineTooLong) {
			const {assembler, teller} = this;
			this.lines.flushOdd();
			teller.lineCount++;
			this.atFirstLine = false;
			teller.bad(t, 'overlong', assembler.bytes, assembler.offset);
		}
	}

	/** A whole line stands in the assembler. */
	private takeLine(t: number, complete: boolean): void {
		const {assembler, lines, teller} = this;
		if (assembler.dropTerminalCodes()) this.colouredLines++;
		if (complete && assembler.dropLoggerHead()) this.headedLines++;
		if (complete) assembler.dropChecksum();
		const start = afterMark(assembler.bytes, assembler.length);
		const isJoined = this.joined && complete;
		this.joined &&= !complete;
		if (isBlank(assembler.bytes, start, assembler.length)) {
			this.atFirstLine &&= !isJoined;
			return;
		}

		teller.lineCount++;
		const isFirst = this.atFirstLine;
		this.atFirstLine = false;
		if (isJoined && lines.layout !== null) {
			// `512,498` cut to `2,498` would be a frame that never was.
			const bytes = assembler.bytes.slice(start, assembler.length);
			if (classifyLine(bytes, lines.layout.vocabulary) === 'stray') teller.stray(t, bytes, assembler.offset);
			return;
		}

		if (lines.layout?.template?.match(assembler.bytes, start, this.inForce.values) === assembler.length) {
			lines.frame(t, assembler.received);
			return;
		}

		lines.take({
			t,
			bytes: assembler.bytes.slice(start, assembler.length),
			lineBytes: assembler.received,
			offset: assembler.offset,
			isFirst: isFirst || !complete,
		});
	}

	/** The last line of a stream has no end: a frame if it is plainly whole, else cut, which is nobody's fault. */
	private takeUnfinished(t: number, {template, vocabulary}: TextLayout): void {
		const {assembler, lines, teller} = this;
		const {values} = this.inForce;
		const lastColumn = values.length - 1;
		const usual = values[lastColumn];
		const start = afterMark(assembler.bytes, assembler.length);
		if (template?.match(assembler.bytes, start, values) === assembler.length) {
			// `433` cut to `43` fits as well: fewer digits than in the frame before are not believed.
			const isWhole = wholeDigits(values[lastColumn]) >= wholeDigits(usual);
			if (!isWhole && !template.endsWithLiteral) return;
			teller.lineCount++;
			lines.frame(t, assembler.received);
			return;
		}

		const bytes = assembler.bytes.slice(start, assembler.length);
		if (isBlank(bytes, 0, bytes.length) || classifyLine(bytes, vocabulary) !== 'stray') return;
		teller.lineCount++;
		lines.flushOdd();
		teller.stray(t, bytes, assembler.offset);
	}
}
