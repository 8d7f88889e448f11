import {countNonText} from './byte-quality.ts';
import {findChecksum, type PacketChecksum} from './packet-checksum.ts';
import {type PacketFraming, PacketSplitter} from './packet-splitter.ts';

/** Packets of one length in a row that are believed where a CRC-16 agrees, or where all values are a converter's. */
const packetsToSettle = 8;

/** Without a CRC and with values beyond a converter's, far more are asked for. */
const packetsToSettleUnsure = 32;

/** Shortest packet believed: two values. */
const shortestPacket = 4;

const converterTop = 4095;

/** A packet kept while it is open whether packets are sent at all. */
type HeldPacket = {
	readonly t: number;
	/** Taken apart. */
	readonly bytes: Uint8Array;
	readonly packetBytes: number;
	/** Received bytes up to its end. */
	readonly offset: number;
};

export type PacketFinding = {
	readonly splitter: PacketSplitter;
	readonly held: readonly HeldPacket[];
	readonly checksum: PacketChecksum | null;
	/** Values per packet. */
	readonly count: number;
	/** Bytes of junk counted before the first of these packets. */
	readonly nonTextBefore: number;
};

type Trail = {
	readonly splitter: PacketSplitter;
	held: HeldPacket[];
	/** Junk counted before the first packet held, and before the packet under way. */
	nonTextBefore: number;
	nonTextHere: number;
};

/**
 * Looks for packets in a stream of which it is open what it is, one byte at a time. Text has no packets, and junk has
 * none of constant length with values that a glove sends.
 */
export class PacketSearch {
	private readonly trails: Trail[];
	/** The user said that packets come, so they need not prove it. */
	private readonly told: boolean;
	private readonly forcedCount: number;

	constructor(framings: readonly PacketFraming[], told: boolean, forcedCount: number) {
		this.told = told;
		this.forcedCount = forcedCount;
		this.trails = framings.map(framing => ({
			splitter: new PacketSplitter(framing),
			held: [],
			nonTextBefore: 0,
			nonTextHere: 0,
		}));
	}

	/** Takes a byte with its place in the stream; `nonText` is the junk counted so far. A finding where it settles one. */
	take(t: number, byte: number, offset: number, nonText: number): PacketFinding | undefined {
		for (const trail of this.trails) {
			if (!trail.splitter.take(byte)) continue;
			const finding = this.takePacket(trail, t, offset, nonText);
			if (finding !== undefined) return finding;
		}

		return undefined;
	}

	/** The stream is over: takes packets that are fewer, if they are certain. */
	end(): PacketFinding | undefined {
		for (const trail of this.trails) {
			if (trail.held.length < packetsToSettle / 2) continue;
			const finding = this.judge(trail);
			if (finding !== undefined) return finding;
		}

		return undefined;
	}

	private takePacket(trail: Trail, t: number, offset: number, nonText: number): PacketFinding | undefined {
		const {splitter} = trail;
		const {length} = splitter;
		const nonTextBefore = trail.nonTextHere;
		trail.nonTextHere = nonText;
		if (length < shortestPacket || length % 2 !== 0) {
			trail.held = [];
			return undefined;
		}

		if (trail.held.length > 0 && trail.held[0].bytes.length !== length) trail.held = [];
		if (trail.held.length === 0) trail.nonTextBefore = nonTextBefore;
		const bytes = splitter.packet.slice(0, length);
		trail.held.push({t, bytes, packetBytes: splitter.packetBytes, offset});
		if (trail.held.length < packetsToSettle) return undefined;
		const finding = this.judge(trail);
		if (finding === undefined && trail.held.length >= packetsToSettleUnsure) trail.held.shift();
		return finding;
	}

	private judge(trail: Trail): PacketFinding | undefined {
		const {held, splitter, nonTextBefore} = trail;
		const packets = held.map(packet => packet.bytes);
		const differs = packets.some(packet => packet.some((byte, i) => byte !== packets[0][i]));
		// Equal packets agree on any checksum that one of them happens to hold.
		const checksum = differs || this.told ? (findChecksum(packets) ?? null) : null;
		const count = packets[0].length / 2 - (checksum === null ? 0 : 1);
		if (count < 1) return undefined;
		const sure = this.told || this.forcedCount === count || (checksum !== null && differs);
		if (!sure && !isPlausible(packets)) return undefined;
		return {splitter, held, checksum, count, nonTextBefore};
	}
}

/**
 * Whether packets without a checksum hold a glove's values: not text, most columns within a 12-bit converter's range,
 * or, after many packets, all of them moving in small steps with low bytes of every kind. Junk of a constant length
 * (frames of one length at a wrong symbol rate) has high bytes as wild as its low ones, and few kinds of bytes.
 */
function isPlausible(packets: readonly Uint8Array[]): boolean {
	const {length} = packets[0];
	const junk = packets.reduce((sum, packet) => sum + packet.reduce((odd, byte) => odd + (isOdd(byte) ? 1 : 0), 0), 0);
	if (junk < 0.2 * length * packets.length) return false;
	if (packets.every(packet => countNonText(packet) === 0)) return false;
	const count = length / 2;
	let withinConverter = 0;
	let smooth = 0;
	for (let column = 0; column < count; column++) {
		const values = packets.map(packet => packet[2 * column] | (packet[2 * column + 1] << 8));
		if (values.every(value => value <= converterTop)) withinConverter++;
		const steps = values.slice(1).map((value, i) => Math.abs(value - values[i]));
		steps.sort((a, b) => a - b);
		if (steps[Math.floor(steps.length / 2)] <= 0.02 * 65_536) smooth++;
	}

	if (withinConverter >= 0.6 * count) return true;
	const kinds = new Set(packets.flatMap(packet => [...packet])).size;
	return packets.length >= packetsToSettleUnsure && smooth === count && kinds >= 32;
}

/** Bytes that text of a glove does not contain. */
function isOdd(byte: number): boolean {
	return byte >= 0x80 || (byte < 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d);
}
