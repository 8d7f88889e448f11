import crc16 from 'crc/crc16';
import crc16ccitt from 'crc/crc16ccitt';
import crc16kermit from 'crc/crc16kermit';
import crc16modbus from 'crc/crc16modbus';
import crc16xmodem from 'crc/crc16xmodem';

/** SLIP, RFC 1055. */
const slipEnd = 0xc0;
const slipEscape = 0xdb;
const slipEscapedEnd = 0xdc;
const slipEscapedEscape = 0xdd;

/** Longest packet kept, bytes: RFC 1055 asks for 1006. */
export const maxPacketBytes = 1024;

/** CRC-16 variants tried, by the names of the usual catalogue of parametrised CRCs. */
export const checksums: Readonly<Record<string, (bytes: Uint8Array) => number>> = {
	'crc-16/arc': bytes => crc16(Buffer.from(bytes)),
	'crc-16/modbus': bytes => crc16modbus(Buffer.from(bytes)),
	'crc-16/xmodem': bytes => crc16xmodem(Buffer.from(bytes)),
	'crc-16/kermit': bytes => crc16kermit(Buffer.from(bytes)),
	'crc-16/ibm-3740': bytes => crc16ccitt(Buffer.from(bytes)),
};

/**
 * Takes SLIP's stuffing out of what stood between two END bytes; undefined where an escape is followed by neither of
 * the two bytes RFC 1055 allows.
 */
export function decodeSlip(stuffed: Uint8Array): Uint8Array | undefined {
	const out = new Uint8Array(stuffed.length);
	let length = 0;
	for (let i = 0; i < stuffed.length; i++) {
		let byte = stuffed[i];
		if (byte === slipEscape) {
			byte = stuffed[++i];
			if (byte === slipEscapedEnd) byte = slipEnd;
			else if (byte === slipEscapedEscape) byte = slipEscape;
			else return undefined;
		}
		out[length++] = byte;
	}
	return out.subarray(0, length);
}

/**
 * Takes COBS apart (without its 0 delimiter); undefined where a code byte points beyond the end or a zero occurs.
 * Both forms of a run of exactly 254 bytes at the end are accepted.
 *
 * Source: Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999.
 */
export function decodeCobs(stuffed: Uint8Array): Uint8Array | undefined {
	const out = new Uint8Array(stuffed.length);
	let length = 0;
	let at = 0;
	while (at < stuffed.length) {
		const code = stuffed[at++];
		if (code === 0 || at + code - 1 > stuffed.length) return undefined;
		for (let i = 1; i < code; i++) {
			const byte = stuffed[at++];
			if (byte === 0) return undefined;
			out[length++] = byte;
		}
		if (code < 0xff && at < stuffed.length) out[length++] = 0;
	}
	return out.subarray(0, length);
}

/** The byte that ends a packet in each framing. */
export const delimiters = {slip: slipEnd, cobs: 0} as const;
export type PacketFraming = keyof typeof delimiters;

export function decodePacket(framing: PacketFraming, stuffed: Uint8Array): Uint8Array | undefined {
	return framing === 'slip' ? decodeSlip(stuffed) : decodeCobs(stuffed);
}

/** A CRC-16 as it stands behind the packet's values: which one, and whether its low byte comes first. */
export type PacketCheck = {readonly name: string; readonly littleEndian: boolean};

/** Whether a packet ends in this CRC-16 of what precedes it. */
export function checkHolds(packet: Uint8Array, check: PacketCheck): boolean {
	const body = packet.subarray(0, packet.length - 2);
	const [first, second] = [packet[packet.length - 2], packet[packet.length - 1]];
	const stored = check.littleEndian ? first | (second << 8) : (first << 8) | second;
	return checksums[check.name](body) === stored;
}

/**
 * The CRC-16 that the packets end in, all but a share of them (`damaged`, 0 to 1); undefined where none does. One packet
 * fits by chance once in 65,536.
 */
export function findCheck(packets: readonly Uint8Array[], damaged = 0): PacketCheck | undefined {
	for (const name of Object.keys(checksums)) {
		for (const littleEndian of [true, false]) {
			const check = {name, littleEndian};
			const fitting = packets.filter(packet => packet.length > 2 && checkHolds(packet, check)).length;
			if (packets.length > 0 && fitting >= (1 - damaged) * packets.length) return check;
		}
	}
	return undefined;
}

/** Cuts bytes at a delimiter, keeping what is not complete; empty packets are dropped, overlong ones are cut off. */
export class PacketSplitter {
	private readonly buffer = new Uint8Array(maxPacketBytes);
	private length = 0;
	/** True until the first delimiter: what came before it may be the tail of a packet. */
	partial = true;
	overflowed = false;
	readonly delimiter: number;

	constructor(delimiter: number) {
		this.delimiter = delimiter;
	}

	/** Takes a byte; answers a complete packet's stuffed bytes (valid until the next call) or undefined. */
	take(byte: number): Uint8Array | undefined {
		if (byte !== this.delimiter) {
			if (this.length < maxPacketBytes) this.buffer[this.length++] = byte;
			else this.overflowed = true;
			return undefined;
		}
		const packet = this.buffer.subarray(0, this.length);
		const whole = this.length > 0 && !this.partial && !this.overflowed;
		this.partial = false;
		this.overflowed = false;
		this.length = 0;
		return whole ? packet : undefined;
	}
}
