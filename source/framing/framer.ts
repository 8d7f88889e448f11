import type {FramerOptions, FrameSink} from './frame-sink.ts';
import type {Layout} from './layout.ts';
import {LayoutInForce} from './layout-in-force.ts';
import {OpenBytes} from './open-bytes.ts';
import {PacketBytes} from './packet-bytes.ts';
import {type ForcedLayout, parseLayoutOption} from './parse-layout-option.ts';
import {Teller} from './teller.ts';
import {TextBytes} from './text-bytes.ts';
import {TextLines} from './text-lines.ts';

const defaultMaxLineBytes = 65_536;

/**
 * What the stream is taken for. `open` (`OpenBytes`): lines and packets alike are looked for, while a layout that was lost still
 * reads what fits it; `text` (`TextBytes`): lines, from the start where a layout was given; `packets` (`PacketBytes`): packets of the
 * length that was found. `open` → `text` or `packets` where a layout is settled or a frame comes; back to `open` after so many
 * bytes without a frame.
 */
type State = 'open' | 'text' | 'packets';

/**
 * Bytes in, frames out. Finds the layout from the stream, keeps watching, and settles anew when the firmware changes
 * its format. What is no frame is told as a bad or a stray line; only empty lines and a first line that was joined in
 * its middle go untold. The answers depend on the bytes alone, never on where chunks were cut. Memory is bounded by
 * `maxLineBytes` and a few dozen lines.
 *
 * Owns the states and what leads from one to the other; each of them has an object of its own.
 *
 * All state is plain data, except `sink`: a deep copy that points `sink` elsewhere is an independent framer.
 *
 * @throws {CannotError} for a `layout` option that makes no sense
 */
export class Framer {
	/** Bytes received. */
	bytesTotal = 0;

	private readonly forced: ForcedLayout | null;
	private readonly teller: Teller;
	private readonly inForce: LayoutInForce;
	private readonly text: TextBytes;
	private readonly packets: PacketBytes;
	/** Null while it is not open what the stream is. */
	private open: OpenBytes | null;

	constructor(sink: FrameSink, options: FramerOptions = {}) {
		const forced = options.layout === undefined ? null : parseLayoutOption(options.layout);
		this.forced = forced;
		this.teller = new Teller(sink);
		this.inForce = new LayoutInForce(this.teller, forced);
		const lines = new TextLines(this.teller, this.inForce, forced);
		this.text = new TextBytes(this.teller, this.inForce, lines, forced, options.maxLineBytes ?? defaultMaxLineBytes);
		this.packets = new PacketBytes(this.teller, this.inForce);
		this.open = forced?.framing === 'text' || forced?.framing === 'json' ? null : this.opened();
	}

	private get state(): State {
		if (this.open !== null) return 'open';
		return this.packets.layout === null ? 'text' : 'packets';
	}

	/** Whom layouts, frames and lines are told. */
	get sink(): FrameSink {
		return this.teller.sink;
	}

	set sink(sink: FrameSink) {
		this.teller.sink = sink;
	}

	/** The layout in force; null until one is settled. */
	get layout(): Layout | null {
		return this.inForce.current;
	}

	/** Lines and packets that were complete, good or not; empty lines do not count. */
	get lineCount(): number {
		return this.teller.lineCount;
	}

	/** Lines out of which terminal colours were taken. */
	get colouredLines(): number {
		return this.text.colouredLines;
	}

	/** Lines off which the head of the board's own logging was taken. */
	get headedLines(): number {
		return this.text.headedLines;
	}

	/** Header lines that say again what is known. */
	get repeatedHeaders(): number {
		return this.text.lines.headers.repeated;
	}

	/** Header lines that were told as lines of no frame, and named the columns. */
	get headerLines(): number {
		return this.text.lines.headers.naming;
	}

	/** Bytes so far that no text contains, those of packets not counted: the share of them tells a wrong symbol rate. */
	get nonTextBytes(): number {
		return this.text.quality.nonText;
	}

	/** Bytes of the line or packet under way. */
	get pendingBytes(): number {
		return this.packets.layout === null ? this.text.pendingBytes : this.packets.pendingBytes;
	}

	/** Takes the bytes of `bytes` from `start` to `end`, which came at `t` seconds. Keeps no reference to `bytes`. */
	push(t: number, bytes: Uint8Array, start = 0, end = bytes.length): void {
		/** Place in the stream of the byte at index 0. */
		const base = this.bytesTotal - start;
		this.bytesTotal += end - start;
		let at = start;
		while (at < end) {
			const {state} = this;
			if (state === 'text') {
				at = this.text.take(t, bytes, at, end, base);
				if (this.text.isLost) this.loseText();
			} else if (state === 'packets') {
				at = this.packets.take(t, bytes, at, end, base);
				if (this.packets.isLost) this.losePackets(base + at);
			} else at = this.takeOpen(t, bytes, at, end, base);
		}
	}

	/**
	 * The link was interrupted: what was pending is dropped, and the next line may be joined in its middle, which is
	 * nobody's fault.
	 */
	resync(): void {
		this.text.resync(this.bytesTotal, this.packets.layout === null);
		this.packets.resync();
		if (this.open !== null) this.open = this.opened();
	}

	/** The source is over: the last line may lack its end, and a layout must be made of what there is. */
	end(t: number): void {
		if (this.open !== null) this.open.end(t);
		else if (this.state === 'text') this.text.end(t);
		this.text.lines.end();
	}

	private takeOpen(t: number, bytes: Uint8Array, start: number, end: number, base: number): number {
		const {open} = this;
		if (open === null) return start;
		const at = open.take(t, bytes, start, end, base);
		if (open.isOver) this.open = null;
		return at;
	}

	private loseText(): void {
		this.open = this.opened();
		this.inForce.bytesSinceFrame = 0;
	}

	/** `offset`: where in the stream the search for lines begins. */
	private losePackets(offset: number): void {
		this.open = this.opened();
		this.text.begin(offset);
	}

	private opened(): OpenBytes {
		return new OpenBytes(this.inForce, this.text, this.packets, this.forced);
	}
}
