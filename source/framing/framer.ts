import {ByteQuality} from './byte-quality.ts';
import {classifyLine} from './classify-line.ts';
import {ColumnWatch} from './column-watch.ts';
import {type Candidate, findTextLayout, linesKept, otherBoards} from './find-text-layout.ts';
import type {FramerOptions, FrameSink, LayoutChange} from './frame-sink.ts';
import {readHeader} from './header-line.ts';
import type {Channel, Layout} from './layout.ts';
import {LineAssembler, lineDone, lineTooLong} from './line-assembler.ts';
import {afterMark, excerptOf, isBlank, isWords, readPacket, wholeDigits} from './line-bytes.ts';
import {type HeldLine, type LineShape, readShapes} from './line-shape.ts';
import {nameChannels} from './name-channels.ts';
import {OddLines} from './odd-lines.ts';
import {holdsChecksum, type PacketChecksum} from './packet-checksum.ts';
import {type PacketFinding, PacketSearch} from './packet-search.ts';
import type {PacketSplitter} from './packet-splitter.ts';
import {type ForcedLayout, parseLayoutOption} from './parse-layout-option.ts';
import {hasDecimals, isCutInFront} from './settling-lines.ts';
import {readByLabels, type TextLayout, toTextLayout} from './text-layout.ts';

const defaultMaxLineBytes = 65_536;

/** So many bytes without a frame, and the stream may have become something else altogether. */
const bytesToLose = 2048;

/** After so many frames what the columns are is settled: the roles of four blocks of frames agree (`ColumnWatch`). */
const framesToBelieve = 256;

const lineFeed = 0x0a;
const carriageReturn = 0x0d;

/**
 * What the stream is taken for. `open`: lines and packets alike are looked for, while a layout that was lost still reads what
 * fits it; `text`: lines, from the start where a layout was given; `packets`: packets of the length that was found. `open` → `text` or `packets` where a layout is
 * settled or a frame comes; back to `open` after so many bytes without a frame.
 */
type State = 'open' | 'text' | 'packets';

/** A line of the layout that is settled on, read its way. */
type Member = {readonly line: HeldLine; readonly shape: LineShape};

type PacketLayout = {
	readonly splitter: PacketSplitter;
	readonly checksum: PacketChecksum | null;
	/** Bytes of a packet taken apart. */
	readonly length: number;
};

/**
 * Bytes in, frames out. Finds the layout from the stream, keeps watching, and settles anew when the firmware changes
 * its format. What is no frame is told as a bad or a stray line; only empty lines and a first line that was joined in
 * its middle go untold. The answers depend on the bytes alone, never on where chunks were cut. Memory is bounded by
 * `maxLineBytes` and a few dozen lines.
 *
 * All state is plain data, except `sink`: a deep copy that points `sink` elsewhere is an independent framer.
 *
 * @throws {CannotError} for a `layout` option that makes no sense
 */
export class Framer {
	/** Whom layouts, frames and lines are told. */
	sink: FrameSink;
	/** Bytes received. */
	bytesTotal = 0;
	/** Lines and packets that were complete, good or not; empty lines do not count. */
	lineCount = 0;
	/** Lines out of which terminal colours were taken. */
	colouredLines = 0;
	/** Lines off which the head of the board's own logging was taken. */
	headedLines = 0;
	/** Frames in the layout at the latest header, and between it and the one before. */
	private headerAt = 0;
	private headerGap = 0;
	/** Header lines that say again what is known. */
	repeatedHeaders = 0;
	/** Header lines that were told as lines of no frame, and named the columns. */
	headerLines = 0;

	private readonly forced: ForcedLayout | null;
	private readonly quality = new ByteQuality();
	private readonly assembler: LineAssembler;
	private readonly maxLineBytes: number;
	private current: Layout | null = null;
	private text: TextLayout | null = null;
	private packet: PacketLayout | null = null;
	private search: PacketSearch | null;
	private values = new Float64Array(0);
	private watch = new ColumnWatch(0);
	/** Names from a header line, until another layout is settled. */
	private headerNames: readonly string[] | null = null;
	/** A header that came after the layout was settled; holds if a frame follows it. */
	private newHeader: readonly string[] | null = null;
	private held: Candidate[] = [];
	private odd: OddLines;
	private bytesSinceFrame = 0;
	/** The next line is the stream's first: it may have been joined in its middle. */
	private atFirstLine = true;
	/** The link was interrupted: what comes up to the next end of a line has lost its front. */
	private joined = false;
	/** Frames in the layout in force. */
	private framesInLayout = 0;
	private replaying = false;
	/** Layouts whose lines are being told again, one within the other, and the first line of each. */
	private readonly underReplay: {readonly key: string; readonly from: number}[] = [];

	constructor(sink: FrameSink, options: FramerOptions = {}) {
		this.sink = sink;
		this.forced = options.layout === undefined ? null : parseLayoutOption(options.layout);
		this.maxLineBytes = options.maxLineBytes ?? defaultMaxLineBytes;
		this.assembler = new LineAssembler(this.maxLineBytes);
		this.odd = new OddLines();
		this.search = this.newSearch();
	}

	private get state(): State {
		if (this.search !== null) return 'open';
		return this.packet === null ? 'text' : 'packets';
	}

	/** The layout in force; null until one is settled. */
	get layout(): Layout | null {
		return this.current;
	}

	/** Bytes so far that no text contains, those of packets not counted: the share of them tells a wrong symbol rate. */
	get nonTextBytes(): number {
		return this.quality.nonText;
	}

	/** Bytes of the line or packet under way. */
	get pendingBytes(): number {
		return this.packet === null ? this.assembler.pendingBytes : this.packet.splitter.pendingBytes;
	}

	/** Takes the bytes of `bytes` from `start` to `end`, which came at `t` seconds. Keeps no reference to `bytes`. */
	push(t: number, bytes: Uint8Array, start = 0, end = bytes.length): void {
		/** Place in the stream of the byte at index 0. */
		const base = this.bytesTotal - start;
		this.bytesTotal += end - start;
		let at = start;
		while (at < end) {
			const {state} = this;
			if (state === 'text') at = this.takeText(t, bytes, at, end, base);
			else if (state === 'packets') at = this.takePackets(t, bytes, at, end, base);
			else at = this.takeSearching(t, bytes, at, end, base);
		}
	}

	/**
	 * The link was interrupted: what was pending is dropped, and the next line may be joined in its middle, which is
	 * nobody's fault.
	 */
	resync(): void {
		this.flushOdd();
		this.newHeader = null;
		this.assembler.begin(this.bytesTotal);
		this.packet?.splitter.resync();
		if (this.search !== null) this.search = this.newSearch();
		this.atFirstLine = true;
		this.joined = this.packet === null;
	}

	/** The source is over: the last line may lack its end, and a layout must be made of what there is. */
	end(t: number): void {
		const last = this.assembler.end();
		if (last !== undefined && this.state !== 'packets') {
			if (last.complete || this.text === null) this.takeLine(t, last.complete);
			else this.takeUnfinished(t);
		}

		if (this.text === null && this.packet === null) {
			const finding = findTextLayout(this.held, this.forced?.channels.length ?? 0, true);
			if (finding !== undefined) this.settleText(this.held, finding.shape);
			else {
				const packets = this.search?.end();
				if (packets !== undefined) this.settlePackets(packets);
			}
		}

		this.flushOdd();
		for (const {line} of this.held) this.tellUnsettled(line);
		this.held = [];
	}

	// --- bytes

	/** Settled text: whole lines straight from the chunk, everything else by way of the assembler. */
	private takeText(t: number, bytes: Uint8Array, start: number, end: number, base: number): number {
		const {assembler, quality} = this;
		let lastEnd = end - 1;
		while (lastEnd >= start && bytes[lastEnd] !== lineFeed && bytes[lastEnd] !== carriageReturn) lastEnd--;
		let at = start;
		while (at < end) {
			if (at <= lastEnd) {
				at = this.takeWholeLines(t, bytes, at, lastEnd, end);
				if (at === end) break;
			}

			// Cut at the very byte at which the stream counts as lost, so that chunks make no difference.
			const canLose = this.forced?.framing !== 'text' && this.forced?.framing !== 'json' && this.text !== null;
			const stop = canLose ? Math.min(end, at + bytesToLose - this.bytesSinceFrame) : end;
			const result = assembler.take(bytes, at, stop, base + at);
			quality.take(bytes, at, assembler.next);
			this.bytesSinceFrame += assembler.next - at;
			at = assembler.next;
			this.takeResult(t, result);
			if (canLose && this.bytesSinceFrame >= bytesToLose) {
				this.search = this.newSearch();
				this.bytesSinceFrame = 0;
				return at;
			}
		}

		return at;
	}

	/** Decodes whole lines that fit the template, up to the last line end; returns where the first other one begins. */
	private takeWholeLines(t: number, bytes: Uint8Array, start: number, lastEnd: number, end: number): number {
		const {assembler, quality} = this;
		let at = start;
		while (at <= lastEnd) {
			const template = this.text?.template ?? null;
			if (template === null || this.joined) return at;
			if (assembler.skipsLineFeed && bytes[at] !== lineFeed && bytes[at] !== 0) assembler.skipsLineFeed = false;
			if (!assembler.isIdle) return at;
			const lineEnd = template.match(bytes, at, this.values);
			if (lineEnd < 0 || lineEnd - at > this.maxLineBytes) return at;
			const next = bytes[lineEnd] === carriageReturn ? this.afterReturn(bytes, lineEnd, end) : lineEnd + 1;
			if (next < 0) return at;
			quality.takeText(next - at);
			this.lineCount++;
			this.atFirstLine = false;
			this.emitFrame(t, next - at);
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

	/** While it is open what the stream is: byte by byte, for lines and packets at once. */
	private takeSearching(t: number, bytes: Uint8Array, start: number, end: number, base: number): number {
		const {quality, forced} = this;
		const packetsOnly = forced?.framing === 'slip' || forced?.framing === 'cobs';
		for (let i = start; i < end; i++) {
			if (this.packet?.splitter.take(bytes[i])) this.takePacket(t, base + i + 1);
			else if (this.packet !== null) this.bytesSinceFrame++;
			if (!packetsOnly) this.takeTextByte(t, bytes, i, base);
			if (this.search === null) return i + 1;
			const finding = this.search.take(t, bytes[i], base + i + 1, quality.nonText);
			if (finding !== undefined) {
				this.settlePackets(finding);
				return i + 1;
			}
		}

		return end;
	}

	/** A byte that may be a line's; ends the search where it settles a text layout. */
	private takeTextByte(t: number, bytes: Uint8Array, place: number, base: number): void {
		const {assembler} = this;
		const before = this.text;
		for (let at = place; at === place; at = assembler.next) {
			this.takeResult(t, assembler.take(bytes, at, place + 1, base + place));
		}

		this.quality.take(bytes, place, place + 1);
		// Text it is after all.
		if (before !== this.text) this.search = null;
	}

	private takePackets(t: number, bytes: Uint8Array, start: number, end: number, base: number): number {
		const {packet} = this;
		if (packet === null) return start;
		const limit = Math.max(bytesToLose / 8, 8 * packet.length);
		for (let i = start; i < end; i++) {
			this.bytesSinceFrame++;
			if (packet.splitter.take(bytes[i])) this.takePacket(t, base + i + 1);
			if (this.bytesSinceFrame >= limit) {
				this.search = this.newSearch();
				this.assembler.begin(base + i + 1);
				return i + 1;
			}
		}

		return end;
	}

	private newSearch(): PacketSearch | null {
		const framing = this.forced?.framing ?? null;
		if (framing === 'text' || framing === 'json') return null;
		const told = framing !== null;
		return new PacketSearch(framing === null ? ['slip', 'cobs'] : [framing], told, this.forced?.channels.length ?? 0);
	}

	private takeResult(t: number, result: number): void {
		if (result === lineDone) this.takeLine(t, true);
		else if (result === lineTooLong) {
			this.flushOdd();
			this.lineCount++;
			this.atFirstLine = false;
			const {assembler} = this;
			this.sink.badLine(t, 'overlong', excerptOf(assembler.bytes), assembler.offset);
		}
	}

	// --- lines

	/** A whole line stands in the assembler. */
	private takeLine(t: number, complete: boolean): void {
		const {assembler} = this;
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
		this.lineCount++;
		const isFirst = this.atFirstLine;
		this.atFirstLine = false;
		if (isJoined && this.text !== null) {
			// `512,498` cut to `2,498` would be a frame that never was.
			const bytes = assembler.bytes.slice(start, assembler.length);
			if (classifyLine(bytes, this.text.vocabulary) === 'stray')
				this.sink.strayLine(t, excerptOf(bytes), assembler.offset);
			return;
		}
		if (this.text?.template?.match(assembler.bytes, start, this.values) === assembler.length) {
			this.emitFrame(t, assembler.received);
			return;
		}

		const line: HeldLine = {
			t,
			bytes: assembler.bytes.slice(start, assembler.length),
			lineBytes: assembler.received,
			offset: assembler.offset,
			isFirst: isFirst || !complete,
		};
		this.takeOddLine(line);
	}

	/** A settled layout's line that the template does not fit, or any line while there is no layout. */
	private takeOddLine(line: HeldLine): void {
		const {text} = this;
		if (text !== null && readByLabels(text, line.bytes, this.values)) {
			this.emitFrame(line.t, line.lineBytes);
			return;
		}

		const {framing} = this.forced ?? {framing: null};
		const shapes = readShapes(line.bytes).filter(
			({tokens}) => framing === null || (framing === 'json') === (tokens.paths !== undefined),
		);
		const candidate: Candidate = {line, shapes};
		if (text === null) {
			this.held.push(candidate);
			const finding = findTextLayout(this.held, this.forced?.channels.length ?? 0, false);
			if (finding !== undefined) this.settleText(this.held, finding.shape);
			else if (this.held.length >= linesKept) this.tellUnsettled((this.held.shift() as Candidate).line);
			return;
		}

		if (this.takeHeader(line, text)) return;
		this.newHeader = null;
		const forcedCount = this.forced?.channels.length ?? 0;
		// Who gave a layout wants to hear of every line that does not fit it.
		if (forcedCount === 0) this.odd.count(candidate, this.lineCount);
		if (!this.odd.continues(candidate, text.count, forcedCount)) this.flushOdd();
		const settled = this.odd.take(candidate, text.count, forcedCount);
		if (settled === 'alone') this.tellOdd(candidate);
		else if (settled !== undefined) this.settleOdd(settled);
		else if (this.odd.isFull) this.flushOdd();
	}

	/** A header among the frames: what is known already, or names for those to come. False for a line that is none. */
	private takeHeader(line: HeldLine, {labels, separator, count}: TextLayout): boolean {
		const header = labels.every(label => label === null) ? readHeader(line.bytes, separator, count) : undefined;
		if (header === undefined) return false;
		this.flushOdd();
		if (this.headerNames?.join('\u0000') === header.names.join('\u0000') && this.comesRegularly()) {
			this.repeatedHeaders++;
			return true;
		}

		this.newHeader = header.names;
		this.sink.strayLine(line.t, excerptOf(line.bytes), line.offset);
		return true;
	}

	/** The lines that are held have become a new format. */
	private settleOdd(shape: LineShape): void {
		const run = this.odd.release();
		if (this.wouldSettleAgain(run[0].line, shape)) for (const each of run) this.tellOdd(each);
		else this.settleText(run, shape);
	}

	/** The last line of a stream has no end: a frame if it is plainly whole, else cut, which is nobody's fault. */
	private takeUnfinished(t: number): void {
		const {assembler, text, values} = this;
		if (text === null) return;
		const lastColumn = values.length - 1;
		const usual = values[lastColumn];
		const start = afterMark(assembler.bytes, assembler.length);
		if (text.template?.match(assembler.bytes, start, values) === assembler.length) {
			// `433` cut to `43` fits as well: fewer digits than in the frame before are not believed.
			const isWhole = wholeDigits(values[lastColumn]) >= wholeDigits(usual);
			if (!isWhole && !text.template.endsWithLiteral) return;
			this.lineCount++;
			this.emitFrame(t, assembler.received);
			return;
		}

		const bytes = assembler.bytes.slice(start, assembler.length);
		if (isBlank(bytes, 0, bytes.length) || classifyLine(bytes, text.vocabulary) !== 'stray') return;
		this.lineCount++;
		this.flushOdd();
		this.sink.strayLine(t, excerptOf(bytes), assembler.offset);
	}

	/** Whether a header that comes again does so at even distances; a board that started again prints its at any time. */
	private comesRegularly(): boolean {
		const gap = this.framesInLayout - this.headerAt;
		this.headerAt = this.framesInLayout;
		// The first distance has none to be like: people and programs choose round ones, with the header counted or not.
		const isRegular = gap === this.headerGap || gap % 10 === 0 || (gap + 1) % 10 === 0;
		this.headerGap = gap;
		return isRegular;
	}

	private flushOdd(): void {
		for (const candidate of this.odd.release()) this.tellOdd(candidate);
	}

	private tellOdd({line, shapes}: Candidate): void {
		const {text} = this;
		const other = shapes.some(shape => this.odd.isOtherBoard(shape.key));
		const kind = other || text === null ? 'stray' : classifyLine(line.bytes, text.vocabulary);
		if (kind === 'stray') this.sink.strayLine(line.t, excerptOf(line.bytes), line.offset);
		else if (!line.isFirst) this.sink.badLine(line.t, kind, excerptOf(line.bytes), line.offset);
	}

	/** A line for which no layout was found. Junk in front of the first frame is start-up text at another rate. */
	private tellUnsettled(line: HeldLine): void {
		const quality = new ByteQuality();
		quality.take(line.bytes, 0, line.bytes.length);
		if (quality.nonText === 0) this.sink.strayLine(line.t, excerptOf(line.bytes), line.offset);
		else if (!line.isFirst) this.sink.badLine(line.t, 'garbled', excerptOf(line.bytes), line.offset);
	}

	// --- layouts

	/** Takes on the layout of a shape found among lines, and tells all of the lines. */
	private settleText(candidates: readonly Candidate[], shape: LineShape): void {
		const forcedChannels = this.forced?.channels ?? [];
		const text = toTextLayout(shape, forcedChannels.length);
		const members: Member[] = [];
		for (const {line, shapes} of candidates) {
			const own = shapes.find(other => other.key === shape.key);
			if (own !== undefined) members.push({line, shape: own});
		}

		const cutFirst = members.length > 2 && isCutInFront(members.map(member => member.shape));
		const first = cutFirst && members[0].line.isFirst ? members[1].line : members[0].line;
		const before = candidates.filter(({line}) => line.offset < first.offset);
		const unit = this.takeHeaders(before, text);
		this.held = [];
		const others = forcedChannels.length > 0 ? [] : otherBoards(candidates, shape.key);
		const isNew = this.text === null && this.packet === null;
		for (const {line} of before) {
			if (cutFirst && line.isFirst && line === members[0].line) continue;
			if (isNew) this.tellBeforeFirst(line, text);
			else this.tellOdd({line, shapes: []});
		}

		this.text = text;
		this.packet = null;
		this.search = null;
		this.newHeader = null;
		this.odd.settled(shape.key, others);
		this.values = new Float64Array(text.count);
		this.watch = new ColumnWatch(text.count);
		this.watchMembers(text, members, first.offset);
		const change = this.changeNow();
		this.current = {
			framing: text.framing,
			separator: text.separator,
			labelled: this.headerNames !== null || text.labels.some(label => label !== null),
			checksum: null,
			unit,
			channels: this.channels(),
		};
		this.sink.layout(first.t, this.current, change);
		this.replaying = true;
		this.underReplay.push({key: shape.key, from: first.offset});
		for (const {line} of candidates) {
			if (line.offset >= first.offset) this.replay(line);
		}

		this.underReplay.pop();
		this.replaying = false;
	}

	/**
	 * Whether lines from `first` on that are being told again, in a layout that they settled, and do not fit it, are to
	 * settle the same layout once more: that would go on for ever.
	 */
	private wouldSettleAgain(first: HeldLine, {key}: LineShape): boolean {
		return this.underReplay.some(replayed => replayed.key === key && replayed.from >= first.offset);
	}

	/** Names from the last header line before the first frame, where the frames have none. The unit: the frames', else a header's. */
	private takeHeaders(before: readonly Candidate[], text: TextLayout): string | null {
		let unit = text.unit;
		this.headerNames = null;
		if (text.labels.some(label => label !== null)) return unit;
		for (const {line} of before) {
			const header = readHeader(line.bytes, text.separator, text.count);
			if (header === undefined) continue;
			this.headerNames = header.names;
			this.headerLines = 1;
			unit ??= header.unit;
		}

		return unit;
	}

	/** What the lines that settled a layout, from `firstOffset` on, show of its columns. */
	private watchMembers(text: TextLayout, members: readonly Member[], firstOffset: number): void {
		for (const {line, shape} of members) {
			if (text.template === null || line.offset < firstOffset) continue;
			// In the layout's order: by labels where it has them.
			if (!readByLabels(text, line.bytes, this.values)) this.values.set(shape.tokens.values);
			this.watch.take(line.t, this.values);
		}

		for (let column = 0; column < text.count; column++) {
			if (members.every(({line, shape}) => hasDecimals(line, shape, column))) this.watch.notePrinted(column);
		}

		this.watch.guess();
	}

	/** Tells a held line again, now that there is a layout. */
	private replay(line: HeldLine): void {
		const stopped = new Uint8Array(line.bytes.length + 1);
		stopped.set(line.bytes);
		stopped[line.bytes.length] = lineFeed;
		if (this.text?.template?.match(stopped, 0, this.values) === line.bytes.length)
			this.emitFrame(line.t, line.lineBytes);
		else this.takeOddLine(line);
	}

	private tellBeforeFirst(line: HeldLine, text: TextLayout): void {
		const kind = classifyLine(line.bytes, text.vocabulary);
		// Junk before the first frame is start-up text at another rate, and no frame was damaged yet.
		if (kind === 'stray' || kind === 'garbled') {
			if (!line.isFirst || kind === 'stray') this.sink.strayLine(line.t, excerptOf(line.bytes), line.offset);
		} else if (!line.isFirst) this.sink.badLine(line.t, kind, excerptOf(line.bytes), line.offset);
	}

	private settlePackets(finding: PacketFinding): void {
		const {held, splitter, checksum, count, nonTextBefore} = finding;
		const firstOffset = held[0].offset - held[0].packetBytes;
		for (const {line} of this.held) {
			if (line.offset + line.lineBytes <= firstOffset) this.tellUnsettled(line);
			// A byte in a packet that looked like a line end.
			else this.lineCount--;
		}

		this.held = [];
		this.flushOdd();
		this.assembler.begin(this.bytesTotal);
		this.atFirstLine = false;
		this.text = null;
		this.search = null;
		this.headerNames = null;
		this.newHeader = null;
		const forcedCount = this.forced?.channels.length ?? 0;
		const fits = forcedCount === 0 || forcedCount === count;
		const columns = fits ? count : forcedCount;
		this.packet = {splitter, checksum, length: 2 * columns + (checksum === null ? 0 : 2)};
		this.quality.nonText = nonTextBefore;
		this.values = new Float64Array(columns);
		this.watch = new ColumnWatch(columns);
		for (const packet of fits ? held : []) {
			readPacket(packet.bytes, this.values);
			this.watch.take(packet.t, this.values);
		}

		this.watch.guess();
		const change = this.changeNow();
		this.current = {
			framing: splitter.framing,
			separator: null,
			labelled: false,
			checksum: checksum === null ? null : checksum.littleEndian ? checksum.name : `${checksum.name} big-endian`,
			unit: null,
			channels: this.channels(),
		};
		this.sink.layout(held[0].t, this.current, change);
		this.replaying = true;
		for (const packet of held) {
			this.lineCount++;
			if (fits) {
				readPacket(packet.bytes, this.values);
				this.emitFrame(packet.t, packet.packetBytes);
			} else this.sink.badLine(packet.t, 'checksum', excerptOf(packet.bytes), packet.offset - packet.packetBytes);
		}

		this.replaying = false;
	}

	/** A packet has ended at this place of the stream. */
	private takePacket(t: number, offset: number): void {
		const {packet} = this;
		if (packet === null) return;
		const {splitter, checksum, length} = packet;
		this.lineCount++;
		if (splitter.length === length) {
			const bytes = splitter.packet.subarray(0, length);
			if (checksum === null || holdsChecksum(bytes, checksum)) {
				readPacket(bytes, this.values);
				this.emitFrame(t, splitter.packetBytes);
				return;
			}
		}

		const excerpt = splitter.excerpt.slice(0, splitter.excerptLength);
		const place = offset - splitter.packetBytes;
		if (isWords(excerpt)) this.sink.strayLine(t, excerpt, place);
		else this.sink.badLine(t, splitter.length < 0 ? 'garbled' : 'checksum', excerpt, place);
	}

	private channels(): readonly Channel[] {
		const {forced, text, watch} = this;
		if (forced !== null && forced.channels.length === watch.count) {
			if (!forced.findClockUnit) return forced.channels;
			return forced.channels.map(channel =>
				channel.role === 'clock' ? {...channel, clockUnitSeconds: watch.clockUnitSeconds(channel.index)} : channel,
			);
		}

		const none = new Array<null>(watch.count).fill(null);
		const labels = this.headerNames ?? text?.labels ?? none;
		return nameChannels(labels, text?.times ?? none.map(() => false), watch);
	}

	/** What a layout that is settled on now is to the one before it. */
	private changeNow(): LayoutChange {
		const change = this.current === null ? 'found' : this.framesInLayout < framesToBelieve ? 'corrected' : 'changed';
		this.framesInLayout = 0;
		return change;
	}

	/** Names and roles once more: told only where they have changed. `renamed`: by a header that took the place of another. */
	private revise(t: number, renamed = false): void {
		const {current} = this;
		if (current === null) return;
		const channels = this.channels();
		if (JSON.stringify(channels) === JSON.stringify(current.channels)) return;
		this.current = {...current, labelled: current.labelled || this.headerNames !== null, channels};
		this.sink.layout(t, this.current, renamed ? this.changeNow() : 'corrected');
	}

	private emitFrame(t: number, lineBytes: number): void {
		if (this.odd.length > 0) this.flushOdd();
		if (this.newHeader !== null) {
			const renamed = this.headerNames !== null;
			this.headerNames = this.newHeader;
			this.newHeader = null;
			this.revise(t, renamed);
		}

		if (this.watch.active && !this.replaying && this.watch.take(t, this.values)) this.revise(t);
		this.bytesSinceFrame = 0;
		this.framesInLayout++;
		if (this.search !== null) this.search = null;
		this.sink.frame(t, this.values, lineBytes);
	}
}
