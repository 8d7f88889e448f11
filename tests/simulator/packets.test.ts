import cobs from 'cobs';
import fc from 'fast-check';
import {crc} from 'polycrc';
import slip from 'slip';
import {describe, expect, test} from 'vitest';
import {crc16, encodeCobs, encodeSlip} from '../../source/simulator/packets.ts';

const data = fc.uint8Array({minLength: 1, maxLength: 600});

describe('encodeSlip', () => {
	test('gives the worked packet of RFC 1055', () => {
		// check-values F3, with the leading END.
		const packet = encodeSlip(Uint8Array.of(0x01, 0xc0, 0x02, 0xdb, 0x03));
		expect(Buffer.from(packet).toString('hex')).toBe('c001dbdc02dbdd03c0');
	});

	test('gives the same bytes as the slip package for any data', () => {
		fc.assert(
			fc.property(data, bytes => {
				expect(Buffer.from(encodeSlip(bytes)).equals(Buffer.from(slip.encode(bytes)))).toBe(true);
			}),
		);
	});
});

describe('encodeCobs', () => {
	test('gives the published vectors', () => {
		// check-values F5 and F6, each followed by the delimiter.
		const vectors = [
			['020000'.slice(0, 2), '020200'],
			['110022', '0211022200'],
			['3132333435', '06313233343500'],
			['dead00beef', '03dead03beef00'],
			['0000', '01010100'],
			['11000000', '021101010100'],
		];
		for (const [plain, packet] of vectors) {
			expect(Buffer.from(encodeCobs(Buffer.from(plain, 'hex'))).toString('hex')).toBe(packet);
		}
	});

	test('is taken apart by the cobs package for any data', () => {
		fc.assert(
			fc.property(data, bytes => {
				const packet = encodeCobs(bytes);
				expect(packet[packet.length - 1]).toBe(0);
				expect(packet.subarray(0, -1).includes(0)).toBe(false);
				expect(Buffer.from(cobs.decode(Buffer.from(packet.subarray(0, -1)))).equals(Buffer.from(bytes))).toBe(true);
			}),
		);
	});
});

describe('crc16', () => {
	test('gives the check values of the catalogue', () => {
		// check-values F9: over the ASCII text 123456789.
		const text = Buffer.from('123456789');
		expect(crc16('xmodem', text)).toBe(0x31c3);
		expect(crc16('kermit', text)).toBe(0x2189);
		expect(crc16('modbus', text)).toBe(0x4b37);
		expect(crc16('ibm-3740', text)).toBe(0x29b1);
	});

	test('agrees with the polycrc package for any data', () => {
		// Parameters: check-values F11.
		const references = {
			xmodem: crc(16, 0x1021, 0, 0, false),
			kermit: crc(16, 0x1021, 0, 0, true),
			modbus: crc(16, 0x8005, 0xffff, 0, true),
			'ibm-3740': crc(16, 0x1021, 0xffff, 0, false),
		} as const;
		fc.assert(
			fc.property(data, bytes => {
				for (const kind of ['xmodem', 'kermit', 'modbus', 'ibm-3740'] as const) {
					expect(crc16(kind, bytes)).toBe(references[kind](Buffer.from(bytes)));
				}
			}),
		);
	});
});
