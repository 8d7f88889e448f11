import fc from 'fast-check';
import {describe, expect, test} from 'vitest';
import {longestPacket, PacketSplitter, unstuffCobs, unstuffSlip} from '../../source/framing/packet-splitter.ts';
import {cobs, slip} from './reference-packages.ts';

const hex = (text: string): Uint8Array => Uint8Array.from(Buffer.from(text.replaceAll(' ', ''), 'hex'));
const range = (from: number, to: number): number[] => Array.from({length: to - from + 1}, (_, i) => from + i);

function unstuff(with_: typeof unstuffSlip, stuffed: Uint8Array): number[] | undefined {
	const bytes = stuffed.slice();
	const length = with_(bytes, bytes.length);
	return length < 0 ? undefined : [...bytes.subarray(0, length)];
}

/** Packets that a splitter finds; null for one that could not be taken apart. */
function split(framing: 'slip' | 'cobs', bytes: Uint8Array): (number[] | null)[] {
	const splitter = new PacketSplitter(framing);
	const packets: (number[] | null)[] = [];
	for (const byte of bytes)
		if (splitter.take(byte))
			packets.push(splitter.length < 0 ? null : [...splitter.packet.subarray(0, splitter.length)]);
	return packets;
}

describe('SLIP (RFC 1055)', () => {
	// Check-values F3, worked from the constants of RFC 1055.
	test('takes the escapes out', () => {
		expect(unstuff(unstuffSlip, hex('01 DB DC 02 DB DD 03'))).toEqual([0x01, 0xc0, 0x02, 0xdb, 0x03]);
	});

	test('takes packets with END behind them, in front too, and several between', () => {
		const packet = [0x01, 0xc0, 0x02, 0xdb, 0x03];
		for (const stream of [
			'01 DB DC 02 DB DD 03 C0',
			'C0 01 DB DC 02 DB DD 03 C0',
			'C0 C0 C0 01 DB DC 02 DB DD 03 C0 C0',
		])
			expect(split('slip', hex(stream)), stream).toEqual([packet]);
	});

	test('refuses an escape that is followed by anything else', () => {
		for (const stuffed of ['01 DB 02', '01 DB', 'DB DB DC'])
			expect(unstuff(unstuffSlip, hex(stuffed)), stuffed).toBeUndefined();
	});

	test('takes packets of 1006 bytes, all of them escaped', () => {
		expect(split('slip', slip.encode(new Uint8Array(1006).fill(0xc0)))).toEqual([new Array(1006).fill(0xc0)]);
	});

	test('takes back whatever the slip package makes of any bytes', () => {
		fc.assert(
			fc.property(fc.array(fc.uint8Array({minLength: 1, maxLength: 60}), {maxLength: 5}), packets => {
				const stream = Buffer.concat(packets.map(packet => slip.encode(packet)));
				expect(split('slip', stream)).toEqual(packets.map(packet => [...packet]));
			}),
		);
	});
});

describe('COBS (Cheshire and Baker)', () => {
	// Check-values F5 to F7: public conformance vectors, an encyclopaedia's, and the example of the paper.
	test.each([
		['01', ''],
		['02 02', '02'],
		['02 11 02 22', '11 00 22'],
		['06 31 32 33 34 35', '31 32 33 34 35'],
		['05 DE AD BE EF', 'DE AD BE EF'],
		['03 DE AD 03 BE EF', 'DE AD 00 BE EF'],
		['01 01', '00'],
		['01 01 01', '00 00'],
		['01 02 11 01', '00 11 00'],
		['03 11 22 02 33', '11 22 00 33'],
		['05 11 22 33 44', '11 22 33 44'],
		['02 11 01 01 01', '11 00 00 00'],
		['02 45 01 04 2C 4C 79 01 05 40 06 4F 37', '45 00 00 2C 4C 79 00 00 40 06 4F 37'],
	])('%s is %s', (stuffed, plain) => {
		expect(unstuff(unstuffCobs, hex(stuffed))).toEqual([...hex(plain)]);
	});

	// Check-values F8.
	test.each([
		['254 bytes, short form', [0xff, ...range(1, 254)], range(1, 254)],
		['254 bytes with a last 01', [0xff, ...range(1, 254), 1], range(1, 254)],
		['a zero and 254 bytes', [1, 0xff, ...range(1, 254)], [0, ...range(1, 254)]],
		['255 bytes', [0xff, ...range(1, 254), 2, 0xff], range(1, 255)],
		['254 bytes and a zero', [0xff, ...range(2, 255), 1, 1], [...range(2, 255), 0]],
		['253 bytes, a zero and one', [0xfe, ...range(3, 255), 2, 1], [...range(3, 255), 0, 1]],
	])('takes %s', (_name, stuffed, plain) => {
		expect(unstuff(unstuffCobs, Uint8Array.from(stuffed))).toEqual(plain);
	});

	test('refuses a code that points beyond the end, and a zero within', () => {
		for (const stuffed of ['05 11 22', 'FF 01', '03 11 00', '00 11'])
			expect(unstuff(unstuffCobs, hex(stuffed)), stuffed).toBeUndefined();
	});

	test('takes back whatever the cobs package makes of any bytes', () => {
		fc.assert(
			fc.property(fc.array(fc.uint8Array({minLength: 1, maxLength: 600}), {maxLength: 4}), packets => {
				const stream = Buffer.concat(packets.flatMap(packet => [cobs.encode(Buffer.from(packet)), Buffer.from([0])]));
				expect(split('cobs', stream)).toEqual(packets.map(packet => [...packet]));
			}),
		);
	});
});

test('a packet that is too long is told as one that cannot be taken apart, and the next one is good', () => {
	const stream = [...new Array(longestPacket + 100).fill(7), 0xc0, 1, 2, 3, 4, 0xc0];
	expect(split('slip', Uint8Array.from(stream))).toEqual([null, [1, 2, 3, 4]]);
});
