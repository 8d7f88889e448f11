import type {LayoutInForce} from './layout-in-force.ts';
import type {PacketBytes} from './packet-bytes.ts';
import {type PacketFinding, PacketSearch} from './packet-search.ts';
import type {ForcedLayout} from './parse-layout-option.ts';
import type {TextBytes} from './text-bytes.ts';

/**
 * A stream of which it is open what it is. Owns the search for packets, and lets text and packets look at each byte besides:
 * lines may settle a layout, and a layout that was lost still reads what fits it. Over as soon as a layout is settled or a frame
 * has come.
 */
export class OpenBytes {
	/** What the stream is has been found. */
	isOver = false;

	private readonly inForce: LayoutInForce;
	private readonly text: TextBytes;
	private readonly packets: PacketBytes;
	private readonly search: PacketSearch;
	/** Nobody need look for lines. */
	private readonly packetsOnly: boolean;
	/** Columns that the user gave, or 0. */
	private readonly forcedCount: number;

	constructor(inForce: LayoutInForce, text: TextBytes, packets: PacketBytes, forced: ForcedLayout | null) {
		this.inForce = inForce;
		this.text = text;
		this.packets = packets;
		this.packetsOnly = forced?.framing === 'slip' || forced?.framing === 'cobs';
		this.forcedCount = forced?.channels.length ?? 0;
		const framing = forced?.framing === 'slip' || forced?.framing === 'cobs' ? forced.framing : null;
		this.search = new PacketSearch(framing === null ? ['slip', 'cobs'] : [framing], framing !== null, this.forcedCount);
	}

	/** Takes bytes one by one; `base` is the place in the stream of the byte at index 0. Returns where it stopped: at `end`, or once it is over. */
	take(t: number, bytes: Uint8Array, start: number, end: number, base: number): number {
		const {text, packets, inForce, search} = this;
		const {framesTotal} = inForce;
		for (let i = start; i < end; i++) {
			packets.takeByte(t, bytes[i], base + i + 1);
			if (!this.packetsOnly) {
				const before = text.lines.layout;
				text.takeByte(t, bytes, i, base);
				if (text.lines.layout !== before) this.becomeText();
			}

			this.isOver ||= inForce.framesTotal > framesTotal;
			if (this.isOver) return i + 1;
			const finding = search.take(t, bytes[i], base + i + 1, text.quality.nonText);
			if (finding !== undefined) {
				this.becomePackets(finding);
				return i + 1;
			}
		}

		return end;
	}

	/** The source is over: a layout must be made of what there is. */
	end(t: number): void {
		this.text.end(t);
		if (this.text.lines.layout !== null) this.becomeText();
		const finding = this.inForce.current === null ? this.search.end() : undefined;
		if (finding !== undefined) this.becomePackets(finding);
	}

	private becomeText(): void {
		this.packets.layout = null;
		this.isOver = true;
	}

	private becomePackets(finding: PacketFinding): void {
		const [first] = finding.held;
		this.text.leave(first.offset - first.packetBytes, finding.nonTextBefore);
		this.packets.settle(finding, this.forcedCount);
		this.isOver = true;
	}
}
