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

/** Shortest packet believed without being told: three values. */
const leastBytes = 6;

/** Packets in a row that fail before the layout is given up. */
const failuresToGiveUp = 40;

/** Share of the bytes of a chunk that must be no text before packets are looked for. */
const leastJunkShare = 0.05;

type Candidate = {
	readonly framing: PacketFraming;
	readonly splitter: PacketSplitter;
	packets: Uint8Array[];
	times: number[];
};

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
	private offset = 0;
	private junkShare = 0;

	constructor(forced: ForcedLayout | null) {
		this.forced = forced;
		const framings: PacketFraming[] =
			forced?.framing === 'slip' || forced?.framing === 'cobs'
				? [forced.framing]
				: forced?.framing
					? []
					: ['slip', 'cobs'];
		this.candidates = framings.map(framing => ({
			framing,
			splitter: new PacketSplitter(delimiters[framing]),
			packets: [],
			times: [],
		}));
	}

	/** Takes a chunk; `junk` is how many of its bytes were no text. */
	push(t: number, bytes: Uint8Array, start: number, end: number, junk: number, sink: FrameSink): void {
		if (this.current !== null) {
			for (let i = start; i < end; i++) {
				const packet = this.current.splitter.take(bytes[i]);
				if (packet !== undefined) this.take(t, packet, this.offset + i - start, sink);
			}
		} else if (this.candidates.length > 0) {
			this.junkShare += 0.1 * (junk / Math.max(1, end - start) - this.junkShare);
			const told = this.forced?.framing === 'slip' || this.forced?.framing === 'cobs';
			for (let i = start; i < end && this.current === null; i++) this.look(t, bytes[i], told, sink);
		}
		this.offset += end - start;
	}

	private look(t: number, byte: number, told: boolean, sink: FrameSink): void {
		for (const candidate of this.candidates) {
			const stuffed = candidate.splitter.take(byte);
			if (stuffed === undefined) continue;
			const packet = decodePacket(candidate.framing, stuffed);
			if (packet === undefined || packet.length % 2 !== 0 || packet.length < (told ? 2 : leastBytes)) {
				candidate.packets = [];
				candidate.times = [];
				continue;
			}
			if (candidate.packets.length > 0 && candidate.packets[0].length !== packet.length) {
				candidate.packets = [];
				candidate.times = [];
			}
			candidate.packets.push(packet.slice());
			candidate.times.push(t);
			if (candidate.packets.length >= (told ? 4 : packetsToSettle) && (told || this.junkShare >= leastJunkShare * 0.2))
				this.settle(candidate, sink);
		}
	}

	private settle(candidate: Candidate, sink: FrameSink): void {
		const {packets, times, framing} = candidate;
		// Constant junk would be a constant packet.
		const first = packets[0].join();
		if (this.forced === null && packets.every(packet => packet.join() === first)) {
			candidate.packets = packets.slice(-packetsToSettle + 1);
			candidate.times = times.slice(-packetsToSettle + 1);
			return;
		}
		this.current = candidate;
		this.length = packets[0].length;
		this.check = findCheck(packets) ?? null;
		const count = this.length / 2 - (this.check === null ? 0 : 1);
		const rows = packets.map(packet => read(packet, count));
		const facts = Array.from({length: count}, (_, i) => ({label: '', values: rows.map(row => row[i])}));
		const forced = this.forced !== null && this.forced.channels.length === count ? this.forced.channels : undefined;
		this.layout = {
			framing,
			separator: null,
			labelled: false,
			checksum: this.check?.name ?? null,
			unit: null,
			channels: forced ?? nameChannels(facts, times, times[times.length - 1] > times[0]),
		};
		this.values = new Float64Array(count);
		this.failures = 0;
		sink.layout(times[0], this.layout);
		rows.forEach((row, i) => {
			this.values.set(row);
			sink.frame(times[i], this.values, packets[i].length + 2);
		});
		candidate.packets = [];
		candidate.times = [];
	}

	private take(t: number, stuffed: Uint8Array, offset: number, sink: FrameSink): void {
		const {current, check, length, values} = this;
		if (current === null) return;
		const packet = decodePacket(current.framing, stuffed);
		if (packet === undefined || packet.length !== length || (check !== null && !checkHolds(packet, check))) {
			sink.badLine(
				t,
				packet !== undefined && packet.length < length ? 'short' : 'checksum',
				stuffed.slice(0, 120),
				offset,
			);
			if (++this.failures >= failuresToGiveUp && this.forced === null) this.giveUp();
			return;
		}
		this.failures = 0;
		for (let i = 0; i < values.length; i++) values[i] = packet[2 * i] | (packet[2 * i + 1] << 8);
		sink.frame(t, values, stuffed.length + 1);
	}

	private giveUp(): void {
		this.current = null;
		this.layout = null;
		this.candidates = (['slip', 'cobs'] as const).map(framing => ({
			framing,
			splitter: new PacketSplitter(delimiters[framing]),
			packets: [],
			times: [],
		}));
	}
}

/** Little-endian 16-bit values of a packet. */
function read(packet: Uint8Array, count: number): number[] {
	return Array.from({length: count}, (_, i) => packet[2 * i] | (packet[2 * i + 1] << 8));
}
