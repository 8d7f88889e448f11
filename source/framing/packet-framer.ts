import type {FrameSink} from './frame-sink.ts';
import type {Layout} from './layout.ts';
import {nameChannels} from './name-channels.ts';
import {
	checkHolds,
	decodePacket,
	delimiters,
	findCheck,
	type PacketCheck,
	type PacketFraming,
	PacketSplitter,
} from './packets.ts';
import type {ForcedLayout} from './parse-layout-option.ts';

/** Packets of one length in a row before they are believed. Junk has no constant length. */
const packetsToSettle = 12;

/** Packets of one length where `--layout` names the framing. */
const packetsWhenTold = 4;

/** Shortest packet believed without being told: three values. */
const leastBytes = 6;

/** Packets in a row that fail, or bytes without a good one, before the layout is given up. */
const failuresToGiveUp = 40;
const bytesToGiveUp = 4096;

/** A few of the first packets may be damaged and the CRC still be seen in the others. */
const damagedAllowed = 0.2;

/** Whom packets are told: frames and bad packets go to `sink`. */
export type PacketListener = {
	readonly sink: FrameSink;
	/** A layout was settled; comes before its first frame. */
	packetsSettled(t: number, layout: Layout): void;
	packetsGivenUp(): void;
};

/** Share of the bytes of a chunk that must be no text before packets are looked for. */
const leastJunkShare = 0.05;

type Received = {
	readonly packet: Uint8Array;
	readonly stuffed: Uint8Array;
	readonly t: number;
	readonly offset: number;
};

type Candidate = {
	readonly framing: PacketFraming;
	readonly splitter: PacketSplitter;
	received: Received[];
};

function candidateOf(framing: PacketFraming): Candidate {
	return {framing, splitter: new PacketSplitter(delimiters[framing]), received: []};
}

/** Finds and decodes packets of little-endian 16-bit values framed by SLIP or COBS, with or without a CRC-16. */
export class PacketFramer {
	layout: Layout | null = null;
	private readonly forced: ForcedLayout | null;
	private candidates: Candidate[];
	private current: Candidate | null = null;
	private check: PacketCheck | null = null;
	private length = 0;
	private values = new Float64Array(0);
	private failures = 0;
	private bytesSinceGood = 0;
	private junkShare = 0;

	constructor(forced: ForcedLayout | null) {
		this.forced = forced;
		const framings: PacketFraming[] =
			forced?.framing === 'slip' || forced?.framing === 'cobs'
				? [forced.framing]
				: forced?.framing
					? []
					: ['slip', 'cobs'];
		this.candidates = framings.map(candidateOf);
	}

	/** Takes a chunk; `junk` is how many of its bytes were no text, `offset` the place of byte 0 of `bytes` in the stream. */
	push(
		t: number,
		bytes: Uint8Array,
		start: number,
		end: number,
		junk: number,
		offset: number,
		to: PacketListener,
	): void {
		const told = this.forced?.framing === 'slip' || this.forced?.framing === 'cobs';
		this.junkShare += 0.1 * (junk / Math.max(1, end - start) - this.junkShare);
		for (let i = start; i < end; i++) {
			if (this.current === null) {
				if (this.candidates.length === 0) return;
				this.look(t, bytes[i], told, offset + i, to);
				continue;
			}
			const packet = this.current.splitter.take(bytes[i]);
			this.bytesSinceGood++;
			if (packet !== undefined) this.take(t, packet, offset + i - packet.length, to);
			else if (this.bytesSinceGood >= bytesToGiveUp && !told) this.giveUp(to);
		}
	}

	private look(t: number, byte: number, told: boolean, at: number, to: PacketListener): void {
		for (const candidate of this.candidates) {
			const stuffed = candidate.splitter.take(byte);
			if (stuffed === undefined) continue;
			const packet = decodePacket(candidate.framing, stuffed);
			if (packet === undefined || packet.length % 2 !== 0 || packet.length < (told ? 2 : leastBytes)) {
				// Where the framing is told, one damaged packet among the first ones starts nothing over.
				if (!told) candidate.received = [];
				continue;
			}
			if (candidate.received.length > 0 && candidate.received[0].packet.length !== packet.length)
				candidate.received = [];
			candidate.received.push({packet: packet.slice(), stuffed: stuffed.slice(), t, offset: at - stuffed.length});
			const enough = candidate.received.length >= (told ? packetsWhenTold : packetsToSettle);
			if (enough && (told || this.junkShare >= leastJunkShare * 0.2)) this.settle(candidate, told, to);
			if (this.current !== null) return;
		}
	}

	private settle(candidate: Candidate, told: boolean, to: PacketListener): void {
		const {received, framing} = candidate;
		// Constant junk would be a constant packet.
		const first = received[0].packet.join();
		if (!told && received.every(({packet}) => packet.join() === first)) {
			candidate.received = received.slice(1 - packetsToSettle);
			return;
		}
		this.current = candidate;
		this.length = received[0].packet.length;
		const check =
			findCheck(
				received.map(({packet}) => packet),
				damagedAllowed,
			) ?? null;
		this.check = check;
		const count = this.length / 2 - (check === null ? 0 : 1);
		const sound = received.filter(({packet}) => check === null || checkHolds(packet, check));
		const rows = sound.map(({packet}) => read(packet, count));
		const times = sound.map(({t}) => t);
		const facts = Array.from({length: count}, (_, i) => ({label: '', values: rows.map(row => row[i])}));
		const forced = this.forced !== null && this.forced.channels.length === count ? this.forced.channels : undefined;
		this.layout = {
			framing,
			separator: null,
			labelled: false,
			checksum: check?.name ?? null,
			unit: null,
			channels: forced ?? nameChannels(facts, times, times[times.length - 1] > times[0]),
		};
		this.values = new Float64Array(count);
		this.failures = 0;
		this.bytesSinceGood = 0;
		candidate.received = [];
		to.packetsSettled(received[0].t, this.layout);
		for (const {packet, stuffed, t, offset} of received) {
			if (check === null || checkHolds(packet, check)) {
				this.values.set(read(packet, count));
				to.sink.frame(t, this.values, stuffed.length + 1);
			} else to.sink.badLine(t, 'checksum', stuffed.slice(0, 120), offset);
		}
	}

	private take(t: number, stuffed: Uint8Array, offset: number, to: PacketListener): void {
		const {current, check, length, values} = this;
		if (current === null) return;
		const packet = decodePacket(current.framing, stuffed);
		if (packet === undefined || packet.length !== length || (check !== null && !checkHolds(packet, check))) {
			to.sink.badLine(
				t,
				packet !== undefined && packet.length < length ? 'short' : 'checksum',
				stuffed.slice(0, 120),
				offset,
			);
			if (++this.failures >= failuresToGiveUp && this.forced === null) this.giveUp(to);
			return;
		}
		this.failures = 0;
		this.bytesSinceGood = 0;
		for (let i = 0; i < values.length; i++) values[i] = packet[2 * i] | (packet[2 * i + 1] << 8);
		to.sink.frame(t, values, stuffed.length + 1);
	}

	private giveUp(to: PacketListener): void {
		this.current = null;
		this.layout = null;
		this.candidates = (['slip', 'cobs'] as const).map(candidateOf);
		this.bytesSinceGood = 0;
		to.packetsGivenUp();
	}
}

/** Little-endian 16-bit values of a packet. */
function read(packet: Uint8Array, count: number): number[] {
	return Array.from({length: count}, (_, i) => packet[2 * i] | (packet[2 * i + 1] << 8));
}
