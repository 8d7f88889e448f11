import {createRequire} from 'node:module';
import {expect, test} from 'vitest';
import {checksums} from '../../source/framing/packets.ts';
import {bytesOf, frameBytes, handRows} from './collect.ts';

const require = createRequire(import.meta.url);
const cobs: {encode(data: Buffer): Buffer} = require('cobs');
const slip: {encode(data: Uint8Array): Uint8Array} = require('slip');

type Framing = 'slip' | 'cobs';
type Check = {name: string; littleEndian: boolean} | null;

const rows = handRows(80, 7, 4095);

/** A packet as a board would send it, stuffed by the registry's encoders. */
function packetOf(row: readonly number[], framing: Framing, check: Check = null): Uint8Array {
	const body = Buffer.alloc(row.length * 2);
	for (const [i, value] of row.entries()) body.writeUInt16LE(value, 2 * i);
	let data = Uint8Array.from(body);
	if (check !== null) {
		const sum = checksums[check.name](data);
		data = Uint8Array.of(...data, ...(check.littleEndian ? [sum & 255, sum >> 8] : [sum >> 8, sum & 255]));
	}
	return framing === 'slip' ? slip.encode(data) : Uint8Array.of(...cobs.encode(Buffer.from(data)), 0);
}

const join = (packets: readonly Uint8Array[]): Uint8Array => Uint8Array.from(packets.flatMap(packet => [...packet]));

const checks: Check[] = [
	null,
	...Object.keys(checksums).flatMap(name => [
		{name, littleEndian: true},
		{name, littleEndian: false},
	]),
];

for (const framing of ['slip', 'cobs'] as const) {
	for (const check of checks) {
		const title = check === null ? 'no CRC' : `${check.name}, ${check.littleEndian ? 'low' : 'high'} byte first`;
		test(`${framing} packets with ${title} are found and read`, () => {
			const {layouts, frames, bad, stray} = frameBytes(join(rows.map(row => packetOf(row, framing, check))));
			expect(layouts).toHaveLength(1);
			expect(layouts[0]).toMatchObject({framing, separator: null, checksum: check?.name ?? null, unit: null});
			expect(layouts[0].channels.map(channel => channel.name)).toEqual(
				'thumb index middle ring little stick-x stick-y'.split(' '),
			);
			// The first packet may have been joined in its middle, unless an END stands before it.
			expect(frames).toEqual(framing === 'slip' ? rows : rows.slice(1));
			expect([bad, stray]).toEqual([[], []]);
		});
	}

	const check = {name: 'crc-16/modbus', littleEndian: true};

	test(`${framing}: a packet whose CRC is wrong is told with its place, and the next one read`, () => {
		const packets = rows.map(row => packetOf(row, framing, check));
		const hurt = [4, 40, 60];
		// A bit of the second byte of data: neither a stuffing byte nor an end becomes of it.
		for (const i of hurt) packets[i][2] ^= 0x01;
		const {frames, bad} = frameBytes(join(packets));
		expect(bad.map(line => line.kind)).toEqual(hurt.map(() => 'checksum'));
		expect(bad.map(line => line.offset)).toEqual(
			hurt.map(i => join(packets.slice(0, i)).length + (framing === 'slip' ? 1 : 0)),
		);
		const sound = rows.filter((_, i) => !hurt.includes(i));
		expect(frames).toEqual(framing === 'slip' ? sound : sound.slice(1));
	});

	test(`${framing}: bytes that get lost cost the packets they were in, no more`, () => {
		const bytes = join(rows.map(row => packetOf(row, framing, check)));
		const starts = rows.map((_, i) => join(rows.slice(0, i).map(row => packetOf(row, framing, check))).length);
		// Lost: one byte in packet 30, the whole end of packet 45 with the start of 46.
		const lost = [starts[30] + 3, ...Array.from({length: 8}, (_, i) => starts[46] - 4 + i)];
		const {frames, bad} = frameBytes(bytes.filter((_, i) => !lost.includes(i)));
		const wanted = rows.filter((_, i) => ![30, 45, 46].includes(i));
		expect(frames).toEqual(framing === 'slip' ? wanted : wanted.slice(1));
		expect(bad).toHaveLength(2);
	});

	test(`${framing}: without a CRC, packets of another length are told as bad`, () => {
		const packets = rows.map(row => packetOf(row, framing));
		packets[50] = packetOf(rows[50].slice(0, 4), framing);
		const {frames, bad} = frameBytes(join(packets));
		expect(bad).toMatchObject([{kind: 'short'}]);
		expect(frames).toHaveLength(framing === 'slip' ? 79 : 78);
	});

	test(`${framing}: text before the packets is stray, and they are found behind it`, () => {
		const boot =
			'rst:0x1 (POWERON_RESET),boot:0x13 (SPI_FAST_FLASH_BOOT)\r\nmode:DIO, clock div:2\r\nmarionette glove ready\r\n';
		const bytes = Uint8Array.of(...bytesOf(`\r\n${boot}`), ...join(rows.map(row => packetOf(row, framing, check))));
		const {frames, stray, bad} = frameBytes(bytes);
		expect(frames).toEqual(rows.slice(framing === 'slip' ? 0 : 1));
		expect(stray).toEqual(
			boot
				.trim()
				.split('\r\n')
				.slice(stray.length === 2 ? 1 : 0),
		);
		expect(bad).toEqual([]);
	});

	test(`${framing}: firmware that changes from text to packets and back is followed`, () => {
		const text = rows.map(row => `${row.join(',')}\r\n`).join('');
		const many = Array.from({length: 5}, () => rows).flat();
		const packets = join(many.map(row => packetOf(row, framing, check)));
		const longText = Array.from({length: 5}, () => text).join('');
		const bytes = Uint8Array.of(...bytesOf(text), ...packets, ...bytesOf(longText));
		const {layouts, frames} = frameBytes(bytes);
		expect(layouts.map(layout => layout.framing)).toEqual(['text', framing, 'text']);
		// Some are spent on finding out: less than five kilobytes at each change.
		expect(frames.length).toBeGreaterThan(
			80 + 400 + 400 - 2 * Math.ceil(5000 / packetOf(rows[0], framing, check).length),
		);
		expect(frames.slice(0, 80)).toEqual(rows);
		expect(frames.slice(-80)).toEqual(rows);
		const known = new Set(rows.map(row => row.join()));
		expect(frames.every(frame => known.has(frame.join()))).toBe(true);
	});

	test(`${framing}: packets that never change are not believed, unless --layout names the framing`, () => {
		const constant = join(
			Array.from({length: 60}, () => packetOf([512, 498, 455, 300, 301, 600, 601], framing, check)),
		);
		expect(frameBytes(constant).frames).toEqual([]);
		const layout = `${framing}:thumb,index,middle,ring,little,stick-x,stick-y`;
		const {frames, names, layouts} = frameBytes(constant, {layout});
		expect(frames.length).toBeGreaterThan(55);
		expect(frames.every(frame => frame.join() === '512,498,455,300,301,600,601')).toBe(true);
		expect(names).toEqual('thumb index middle ring little stick-x stick-y'.split(' '));
		expect(layouts[0].checksum).toBe('crc-16/modbus');
	});

	test(`${framing}: one value a packet is enough where --layout names it`, () => {
		const {frames} = frameBytes(join(rows.map(row => packetOf(row.slice(0, 1), framing))), {
			layout: `${framing}:thumb`,
		});
		expect(frames).toEqual(rows.slice(framing === 'slip' ? 0 : 1).map(row => row.slice(0, 1)));
	});
}
