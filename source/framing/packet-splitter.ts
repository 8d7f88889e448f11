import type {Framing} from './layout.ts';

export type PacketFraming = Extract<Framing, 'slip' | 'cobs'>;

/** RFC 1055 (check-values F1). */
const slipEnd = 0xc0;
const slipEscape = 0xdb;
const slipEscapedEnd = 0xdc;
const slipEscapedEscape = 0xdd;

/** The byte that ends a packet. */
const packetEnd: Readonly<Record<PacketFraming, number>> = {slip: slipEnd, cobs: 0};

/** Longest packet kept, stuffed: RFC 1055 asks for 1006 bytes, each of which may be escaped. */
export const longestPacket = 2048;

/**
 * Takes SLIP's escapes out of what stood between two END bytes, in place. Returns the length, or -1 where an escape is
 * followed by neither of the two bytes that RFC 1055 gives.
 */
export function unstuffSlip(bytes: Uint8Array, length: number): number {
	let to = 0;
	for (let from = 0; from < length; from++) {
		let byte = bytes[from];
		if (byte === slipEscape) {
			from++;
			if (from < length && bytes[from] === slipEscapedEnd) byte = slipEnd;
			else if (from < length && bytes[from] === slipEscapedEscape) byte = slipEscape;
			else return -1;
		}

		bytes[to++] = byte;
	}

	return to;
}

/**
 * Takes COBS apart (without its zero), in place. Returns the length, or -1 where a code byte points beyond the end.
 * A run of exactly 254 bytes at the end may carry a last code of 1 or not: both forms are met (check-values F8).
 *
 * Source: Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999.
 */
export function unstuffCobs(bytes: Uint8Array, length: number): number {
	let to = 0;
	let from = 0;
	while (from < length) {
		const code = bytes[from++];
		if (code === 0 || from + code - 1 > length) return -1;
		for (let i = 1; i < code; i++) {
			if (bytes[from] === 0) return -1;
			bytes[to++] = bytes[from++];
		}

		if (code < 0xff && from < length) bytes[to++] = 0;
	}

	return to;
}

/** Cuts a stream into packets, whatever the chunks. Empty packets are dropped; memory is bounded by `longestPacket`. */
export class PacketSplitter {
	readonly framing: PacketFraming;
	/** The last packet, taken apart; `length` bytes of it are valid until the next byte is taken. */
	readonly packet = new Uint8Array(longestPacket);
	/** Length of the last packet taken apart, or -1 where it could not be. */
	length = 0;
	/** Bytes received for the last packet, its END bytes among them. */
	packetBytes = 0;
	/** The last packet as received, for an excerpt. */
	excerptLength = 0;
	readonly excerpt = new Uint8Array(120);

	private readonly end: number;
	private pendingLength = 0;
	private received = 0;
	private tooLong = false;
	private joined = false;

	constructor(framing: PacketFraming) {
		this.framing = framing;
		this.end = packetEnd[framing];
	}

	/** Bytes of the packet under way. */
	get pendingBytes(): number {
		return this.received;
	}

	/** The link was interrupted: forgets the packet under way, and what comes up to the next END. */
	resync(): void {
		this.joined = true;
		this.received = 0;
		this.pendingLength = 0;
		this.tooLong = false;
	}

	/** Takes a byte. True where it completes a packet, good or not. */
	take(byte: number): boolean {
		this.received++;
		if (byte !== this.end) {
			if (this.pendingLength < longestPacket) this.packet[this.pendingLength++] = byte;
			else this.tooLong = true;
			return false;
		}

		if (this.joined) {
			this.resync();
			this.joined = false;
			return false;
		}

		// An END in front of a packet belongs to it (RFC 1055's suggestion against line noise).
		if (this.pendingLength === 0) return false;
		this.excerptLength = Math.min(this.excerpt.length, this.pendingLength);
		this.excerpt.set(this.packet.subarray(0, this.excerptLength));
		if (this.tooLong) this.length = -1;
		else if (this.framing === 'slip') this.length = unstuffSlip(this.packet, this.pendingLength);
		else this.length = unstuffCobs(this.packet, this.pendingLength);
		this.packetBytes = this.received;
		this.received = 0;
		this.pendingLength = 0;
		this.tooLong = false;
		return true;
	}
}
