import {classifyLine} from './classify-line.ts';
import type {Candidate} from './find-text-layout.ts';
import {readHeader} from './header-line.ts';
import {HeaderWatch} from './header-watch.ts';
import type {LayoutInForce} from './layout-in-force.ts';
import {type HeldLine, type LineShape, readShapes} from './line-shape.ts';
import {OddLines} from './odd-lines.ts';
import type {ForcedLayout} from './parse-layout-option.ts';
import {readSettling, showColumns} from './settling-lines.ts';
import type {Teller} from './teller.ts';
import {readByLabels, type TextLayout} from './text-layout.ts';
import {UnsettledLines} from './unsettled-lines.ts';

const lineFeed = 0x0a;

/**
 * Owns what whole lines are taken for: the text layout that is settled, and the lines that are held until it is known what they
 * are. A line is a frame, a header, damaged or stray, or one of those that settle another layout.
 */
export class TextLines {
	/** The layout that lines have; null until one is settled, and once the stream is packets. */
	layout: TextLayout | null = null;
	readonly headers = new HeaderWatch();

	private readonly teller: Teller;
	private readonly inForce: LayoutInForce;
	private readonly forced: ForcedLayout | null;
	/** Columns that the user gave, or 0. */
	private readonly forcedCount: number;
	private readonly unsettled: UnsettledLines;
	private readonly odd = new OddLines();
	/** Layouts whose lines are being told again, one within the other, and the first line of each. */
	private readonly underReplay: {readonly key: string; readonly from: number}[] = [];

	constructor(teller: Teller, inForce: LayoutInForce, forced: ForcedLayout | null) {
		this.teller = teller;
		this.inForce = inForce;
		this.forced = forced;
		this.forcedCount = forced?.channels.length ?? 0;
		this.unsettled = new UnsettledLines(teller, this.forcedCount);
	}

	/** Tells the frame whose values were read: what came before it is no new layout, and a header before it names its columns. */
	frame(t: number, lineBytes: number): void {
		if (this.odd.length > 0) this.flushOdd();
		const {headers, inForce} = this;
		if (headers.pending !== null) {
			inForce.rename(t, headers.pending);
			headers.pending = null;
		}

		inForce.frame(t, lineBytes);
	}

	/** Takes a line that the layout's template does not fit, or any line while there is no layout. */
	take(line: HeldLine): void {
		const {layout, forcedCount} = this;
		if (layout !== null && readByLabels(layout, line.bytes, this.inForce.values)) {
			this.frame(line.t, line.lineBytes);
			return;
		}

		const candidate: Candidate = {line, shapes: this.shapesOf(line)};
		if (layout === null) {
			const shape = this.unsettled.take(candidate);
			if (shape !== undefined) this.settle(this.unsettled.release(), shape);
			return;
		}

		if (this.takeHeader(line, layout)) return;
		this.headers.pending = null;
		// Who gave a layout wants to hear of every line that does not fit it.
		if (forcedCount === 0) this.odd.count(candidate, this.teller.lineCount);
		if (!this.odd.continues(candidate, layout.count, forcedCount)) this.flushOdd();
		const settled = this.odd.take(candidate, layout.count, forcedCount);
		if (settled === 'alone') this.tellOdd(candidate);
		else if (settled !== undefined) this.settleOdd(settled);
		else if (this.odd.isFull) this.flushOdd();
	}

	/** Tells the lines held that no longer can become a new layout. */
	flushOdd(): void {
		for (const candidate of this.odd.release()) this.tellOdd(candidate);
	}

	/** The link was interrupted: what was held can become nothing. */
	resync(): void {
		this.flushOdd();
		this.headers.pending = null;
	}

	/** The stream has become packets, the first of which began at this place. */
	leave(offset: number): void {
		this.unsettled.tellBefore(offset);
		this.resync();
		this.layout = null;
	}

	/** The stream is over: makes a layout of what there is, if there is none. */
	settleLast(): void {
		const shape = this.inForce.current === null ? this.unsettled.last() : undefined;
		if (shape !== undefined) this.settle(this.unsettled.release(), shape);
	}

	/** The stream is over: tells what is held still. */
	end(): void {
		this.flushOdd();
		this.unsettled.tellBefore(Number.POSITIVE_INFINITY);
	}

	private shapesOf({bytes}: HeldLine): LineShape[] {
		const framing = this.forced?.framing ?? null;
		return readShapes(bytes).filter(
			({tokens}) => framing === null || (framing === 'json') === (tokens.paths !== undefined),
		);
	}

	/** A header among the frames: what is known already, or names for those to come. False for a line that is none. */
	private takeHeader(line: HeldLine, {labels, separator, count}: TextLayout): boolean {
		const header = labels.every(label => label === null) ? readHeader(line.bytes, separator, count) : undefined;
		if (header === undefined) return false;
		this.flushOdd();
		const {headerNames, frames} = this.inForce;
		if (!this.headers.take(header.names, headerNames, frames)) this.teller.stray(line.t, line.bytes, line.offset);
		return true;
	}

	private tellOdd({line, shapes}: Candidate): void {
		const {layout, odd, teller} = this;
		const isOther = shapes.some(shape => odd.isOtherBoard(shape.key));
		teller.line(line, isOther || layout === null ? 'stray' : classifyLine(line.bytes, layout.vocabulary));
	}

	/** The lines that are held have become a new layout. */
	private settleOdd(shape: LineShape): void {
		const run = this.odd.release();
		if (this.wouldSettleAgain(run[0].line, shape)) for (const each of run) this.tellOdd(each);
		else this.settle(run, shape);
	}

	/**
	 * Whether lines from `first` on that are being told again, in a layout that they settled, and do not fit it, are to
	 * settle the same layout once more: that would go on for ever.
	 */
	private wouldSettleAgain(first: HeldLine, {key}: LineShape): boolean {
		return this.underReplay.some(replayed => replayed.key === key && replayed.from >= first.offset);
	}

	/** Takes on the layout of a shape found among lines, and tells all of the lines. */
	private settle(candidates: readonly Candidate[], shape: LineShape): void {
		const {inForce, headers} = this;
		const settling = readSettling(candidates, shape, this.forcedCount);
		const {text, before, lines, headerNames, unit} = settling;
		for (const line of before) {
			if (inForce.current === null) this.tellBeforeFirst(line, text);
			else this.tellOdd({line, shapes: []});
		}

		this.layout = text;
		this.odd.settled(shape.key, settling.others);
		headers.pending = null;
		if (headerNames !== null) headers.naming = 1;
		inForce.begin(text.count, text, headerNames);
		showColumns(settling, inForce.values, inForce.watch);
		inForce.tell(lines[0].t, {framing: text.framing, separator: text.separator, checksum: null, unit});
		inForce.isReplaying = true;
		this.underReplay.push({key: shape.key, from: lines[0].offset});
		for (const line of lines) this.replay(line);
		this.underReplay.pop();
		inForce.isReplaying = false;
	}

	/** A line before the stream's first frame: junk is start-up text at another rate, and no frame was damaged yet. */
	private tellBeforeFirst(line: HeldLine, {vocabulary}: TextLayout): void {
		const kind = classifyLine(line.bytes, vocabulary);
		this.teller.line(line, kind === 'garbled' && !line.isFirst ? 'stray' : kind);
	}

	/** Tells a held line again, now that there is a layout. */
	private replay(line: HeldLine): void {
		const stopped = new Uint8Array(line.bytes.length + 1);
		stopped.set(line.bytes);
		stopped[line.bytes.length] = lineFeed;
		if (this.layout?.template?.match(stopped, 0, this.inForce.values) === line.bytes.length)
			this.frame(line.t, line.lineBytes);
		else this.take(line);
	}
}
