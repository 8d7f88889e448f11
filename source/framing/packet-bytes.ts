import {bytesToLose, type LayoutInForce} from './layout-in-force.ts';
import {isWords, readPacket} from './line-bytes.ts';
import {holdsChecksum, type PacketChecksum} from './packet-checksum.ts';
import type {PacketFinding} from './packet-search.ts';
import type {PacketSplitter} from './packet-splitter.ts';
import type {Teller} from './teller.ts';

type PacketLayout = {
	readonly splitter: PacketSplitter;
	readonly checksum: PacketChecksum | null;
	/** Bytes of a packet taken apart. */
	readonly length: number;
	/** So many bytes without a frame, and it is open again what the stream is. */
	readonly bytesToLose: number;
};

/** A stream of packets. Owns their layout and the packet under way; a packet is a frame, damaged, or start-up text between two. */
export class PacketBytes {
	/** The layout that packets have; null until one is settled, and once the stream is text. */
	layout: PacketLayout | null = null;

	private readonly teller: Teller;
	private readonly inForce: LayoutInForce;

	constructor(teller: Teller, inForce: LayoutInForce) {
		this.teller = teller;
		this.inForce = inForce;
	}

	/** Bytes of the packet under way. */
	get pendingBytes(): number {
		return this.layout?.splitter.pendingBytes ?? 0;
	}

	/** So many bytes came without a frame that it is open again what the stream is. */
	get isLost(): boolean {
		return this.layout !== null && this.inForce.bytesSinceFrame >= this.layout.bytesToLose;
	}

	/**
	 * Takes bytes of settled packets; `base` is the place in the stream of the byte at index 0. Returns where it stopped: at `end`,
	 * or at the very byte at which the stream counts as lost.
	 */
	take(t: number, bytes: Uint8Array, start: number, end: number, base: number): number {
		const {layout, inForce} = this;
		if (layout === null) return start;
		for (let i = start; i < end; i++) {
			inForce.bytesSinceFrame++;
			if (layout.splitter.take(bytes[i])) this.takePacket(t, layout, base + i + 1);
			if (inForce.bytesSinceFrame >= layout.bytesToLose) return i + 1;
		}

		return end;
	}

	/** Takes one byte while it is open what the stream is, the last before `offset`. */
	takeByte(t: number, byte: number, offset: number): void {
		const {layout} = this;
		if (layout === null) return;
		if (layout.splitter.take(byte)) this.takePacket(t, layout, offset);
		else this.inForce.bytesSinceFrame++;
	}

	/** The link was interrupted: what was pending is dropped. */
	resync(): void {
		this.layout?.splitter.resync();
	}

	/** Takes on the layout of packets that were found, and tells all of them. `forcedCount` is the number of columns that the user gave, or 0. */
	settle({held, splitter, checksum, count}: PacketFinding, forcedCount: number): void {
		const {inForce, teller} = this;
		const fits = forcedCount === 0 || forcedCount === count;
		const columns = fits ? count : forcedCount;
		const length = 2 * columns + (checksum === null ? 0 : 2);
		this.layout = {splitter, checksum, length, bytesToLose: Math.max(bytesToLose / 8, 8 * length)};
		inForce.begin(columns, null, null);
		for (const packet of fits ? held : []) {
			readPacket(packet.bytes, inForce.values);
			inForce.watch.take(packet.t, inForce.values);
		}

		inForce.tell(held[0].t, {
			framing: splitter.framing,
			separator: null,
			checksum: checksum === null ? null : checksum.littleEndian ? checksum.name : `${checksum.name} big-endian`,
			unit: null,
		});
		inForce.isReplaying = true;
		for (const packet of held) {
			teller.lineCount++;
			if (fits) {
				readPacket(packet.bytes, inForce.values);
				inForce.frame(packet.t, packet.packetBytes);
			} else teller.bad(packet.t, 'checksum', packet.bytes, packet.offset - packet.packetBytes);
		}

		inForce.isReplaying = false;
	}

	/** A packet has ended at this place of the stream. */
	private takePacket(t: number, {splitter, checksum, length}: PacketLayout, offset: number): void {
		const {teller, inForce} = this;
		teller.lineCount++;
		if (splitter.length === length) {
			const bytes = splitter.packet.subarray(0, length);
			if (checksum === null || holdsChecksum(bytes, checksum)) {
				readPacket(bytes, inForce.values);
				inForce.frame(t, splitter.packetBytes);
				return;
			}
		}

		const excerpt = splitter.excerpt.subarray(0, splitter.excerptLength);
		const place = offset - splitter.packetBytes;
		if (isWords(excerpt)) teller.stray(t, excerpt, place);
		else teller.bad(t, splitter.length < 0 ? 'garbled' : 'checksum', excerpt, place);
	}
}
