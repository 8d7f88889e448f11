import {createRequire} from 'node:module';
import fc from 'fast-check';
import {expect, test} from 'vitest';
import {
	checkHolds,
	checksums,
	decodeCobs,
	decodeSlip,
	findCheck,
	PacketSplitter,
} from '../../source/framing/packets.ts';

const require = createRequire(import.meta.url);
// Independent implementations from the registry; neither ships types.
const cobs: {encode(data: Buffer): Buffer; decode(data: Buffer): Buffer} = require('cobs');
const slip: {encode(data: Uint8Array): Uint8Array} = require('slip');
const polycrc: {
	crc(width: number, poly: number, xorIn: number, xorOut: number, reflect: boolean): (data: Uint8Array) => number;
} = require('polycrc');

const hex = (text: string): Uint8Array => new Uint8Array(Buffer.from(text.replaceAll(' ', ''), 'hex'));
const range = (first: number, last: number): number[] => Array.from({length: last - first + 1}, (_, i) => first + i);

test('SLIP: the packet of RFC 1055’s constants loses its stuffing', () => {
	// RFC 1055: END is C0, ESC DB; in a packet they are sent as DB DC and DB DD.
	expect(decodeSlip(hex('01 DB DC 02 DB DD 03'))).toEqual(hex('01 C0 02 DB 03'));
	expect(decodeSlip(hex('DB DC DB DC'))).toEqual(hex('C0 C0'));
	expect(decodeSlip(hex('DB DD DC DD'))).toEqual(hex('DB DC DD'));
	expect(decodeSlip(hex(''))).toEqual(hex(''));
});

test('SLIP: an escape before anything else is no packet', () => {
	for (const stuffed of ['01 DB', 'DB 01', 'DB DB DC', '01 DB C0']) expect(decodeSlip(hex(stuffed))).toBeUndefined();
});

test('SLIP: END before and behind a packet, and empty packets between, are one packet', () => {
	const splitter = new PacketSplitter(0xc0);
	const packets: Uint8Array[] = [];
	for (const byte of hex('C0 01 DB DC 02 DB DD 03 C0 C0 C0 04 C0')) {
		const packet = splitter.take(byte);
		if (packet !== undefined) packets.push(packet.slice());
	}
	expect(packets).toEqual([hex('01 DB DC 02 DB DD 03'), hex('04')]);
});

test('a packet of 1006 bytes passes, as RFC 1055 asks, and one without an end is not kept', () => {
	const splitter = new PacketSplitter(0xc0);
	splitter.take(0xc0);
	for (let i = 0; i < 1006; i++) expect(splitter.take(1)).toBeUndefined();
	expect(splitter.take(0xc0)).toHaveLength(1006);
	for (let i = 0; i < 5000; i++) expect(splitter.take(1)).toBeUndefined();
	expect(splitter.take(0xc0)).toBeUndefined();
	splitter.take(2);
	expect(splitter.take(0xc0)).toEqual(hex('02'));
});

/** COBS vectors: public conformance vectors, the encyclopaedia's set and the paper's IP header; computed anew. */
const cobsVectors: readonly [data: string, stuffed: string][] = [
	['', '01'],
	['02', '02 02'],
	['11 00 22', '02 11 02 22'],
	['31 32 33 34 35', '06 31 32 33 34 35'],
	['DE AD BE EF', '05 DE AD BE EF'],
	['DE AD 00 BE EF', '03 DE AD 03 BE EF'],
	['00', '01 01'],
	['00 00', '01 01 01'],
	['00 11 00', '01 02 11 01'],
	['11 22 00 33', '03 11 22 02 33'],
	['11 22 33 44', '05 11 22 33 44'],
	['11 00 00 00', '02 11 01 01 01'],
	['45 00 00 2C 4C 79 00 00 40 06 4F 37', '02 45 01 04 2C 4C 79 01 05 40 06 4F 37'],
];

test.each(cobsVectors)('COBS: %s', (data, stuffed) => {
	expect(decodeCobs(hex(stuffed))).toEqual(hex(data));
});

/** Runs at the edge of 254 bytes; both ways to end an exact run are in use. */
const cobsEdges: readonly [name: string, data: number[], stuffed: number[]][] = [
	['01…FE', range(1, 254), [255, ...range(1, 254)]],
	['01…FE, flushed late', range(1, 254), [255, ...range(1, 254), 1]],
	['00 01…FE', [0, ...range(1, 254)], [1, 255, ...range(1, 254)]],
	['01…FF', range(1, 255), [255, ...range(1, 254), 2, 255]],
	['02…FF 00', [...range(2, 255), 0], [255, ...range(2, 255), 1, 1]],
	['03…FF 00 01', [...range(3, 255), 0, 1], [254, ...range(3, 255), 2, 1]],
];

test.each(cobsEdges)('COBS at the edge of a run: %s', (_name, data, stuffed) => {
	expect([...(decodeCobs(Uint8Array.from(stuffed)) ?? [])]).toEqual(data);
});

test('COBS: a code that points beyond the end, or a zero inside, is no packet', () => {
	for (const stuffed of ['05 11 22', '00', '02 00', '03 11 00', 'FF 01 02'])
		expect(decodeCobs(hex(stuffed))).toBeUndefined();
});

test('what the registry’s slip and cobs encode comes back', () => {
	fc.assert(
		fc.property(fc.uint8Array({maxLength: 600}), data => {
			const slipped = slip.encode(data);
			expect([slipped[0], slipped.at(-1)]).toEqual([0xc0, 0xc0]);
			expect(decodeSlip(slipped.subarray(1, -1))).toEqual(data);
			expect(decodeCobs(new Uint8Array(cobs.encode(Buffer.from(data))))).toEqual(data);
		}),
		{numRuns: 200},
	);
});

/** Check values over ASCII "123456789": the catalogue of parametrised CRC algorithms. */
const checkValues: readonly [name: string, value: number][] = [
	['crc-16/xmodem', 0x31c3],
	['crc-16/kermit', 0x2189],
	['crc-16/modbus', 0x4b37],
	['crc-16/ibm-3740', 0x29b1],
	['crc-16/arc', 0xbb3d],
];

test.each(checkValues)('%s of 123456789', (name, value) => {
	expect(checksums[name](new TextEncoder().encode('123456789'))).toBe(value);
	expect(checkValues).toHaveLength(Object.keys(checksums).length);
});

/** Polynomial, register at the start and reflection of each, from the same catalogue. */
const parameters: readonly [name: string, poly: number, start: number, reflect: boolean][] = [
	['crc-16/arc', 0x8005, 0, true],
	['crc-16/modbus', 0x8005, 0xffff, true],
	['crc-16/ibm-3740', 0x1021, 0xffff, false],
	['crc-16/xmodem', 0x1021, 0, false],
	['crc-16/kermit', 0x1021, 0, true],
];

test.each(parameters)('%s agrees with polycrc on any bytes', (name, poly, start, reflect) => {
	const other = polycrc.crc(16, poly, start, 0, reflect);
	fc.assert(
		fc.property(fc.uint8Array({minLength: 1, maxLength: 64}), data => {
			expect(checksums[name](data)).toBe(other(Buffer.from(data)));
		}),
	);
});

test('the CRC behind packets is told by name and byte order, a fifth of the packets may be damaged', () => {
	for (const name of Object.keys(checksums)) {
		for (const littleEndian of [true, false]) {
			const packets = Array.from({length: 12}, (_, i) => {
				const body = Uint8Array.of(i, 2, 250 - i, 1, 7 * i, 3);
				const sum = checksums[name](body);
				const ends = littleEndian ? [sum & 255, sum >> 8] : [sum >> 8, sum & 255];
				return Uint8Array.of(...body, ...ends);
			});
			expect(findCheck(packets)).toEqual({name, littleEndian});
			packets[3][1] ^= 0x10;
			packets[8][7] ^= 1;
			expect(findCheck(packets)).toBeUndefined();
			expect(findCheck(packets, 0.2)).toEqual({name, littleEndian});
			expect(packets.map(packet => checkHolds(packet, {name, littleEndian})).indexOf(false)).toBe(3);
		}
	}
});
