import fc from 'fast-check';
import {describe, expect, test} from 'vitest';
import {checksums, findChecksum, holdsChecksum} from '../../source/framing/packet-checksum.ts';
import {polycrc} from './reference-packages.ts';

const digits = Buffer.from('123456789');

/** Check values over "123456789" and parameters, check-values F9 to F11 (catalogue of parametrised CRC algorithms). */
const catalogue = [
	['crc-16/arc', 0xbb3d, 0x8005, 0x0000, true],
	['crc-16/modbus', 0x4b37, 0x8005, 0xffff, true],
	['crc-16/xmodem', 0x31c3, 0x1021, 0x0000, false],
	['crc-16/kermit', 0x2189, 0x1021, 0x0000, true],
	['crc-16/ibm-3740', 0x29b1, 0x1021, 0xffff, false],
] as const;

describe.each(catalogue)('%s', (name, check, poly, init, reflected) => {
	test('has the check value of the catalogue', () => {
		expect(checksums[name](digits)).toBe(check);
	});

	test('agrees with the polycrc package on any bytes', () => {
		const reference = polycrc.crc(16, poly, init, 0, reflected);
		fc.assert(
			fc.property(fc.uint8Array({maxLength: 64}), bytes => {
				expect(checksums[name](bytes)).toBe(reference(Buffer.from(bytes)));
			}),
		);
	});

	test.each([true, false])('is found behind packets, low byte first: %s', littleEndian => {
		const packets = ['puppet', 'reel 1', 'reel 2'].map(text => {
			const body = Buffer.from(text);
			const value = checksums[name](body);
			const ends = littleEndian ? [value & 255, value >> 8] : [value >> 8, value & 255];
			return Uint8Array.from([...body, ...ends]);
		});
		expect(findChecksum(packets)).toEqual({name, littleEndian});
		expect(holdsChecksum(packets[0], {name, littleEndian})).toBe(true);
		packets[0][2] ^= 1;
		expect(holdsChecksum(packets[0], {name, littleEndian})).toBe(false);
		expect(findChecksum(packets)).toBeUndefined();
	});
});

test('every kind that is tried is in the catalogue above', () => {
	expect(Object.keys(checksums).sort()).toEqual(catalogue.map(([name]) => name).sort());
});
