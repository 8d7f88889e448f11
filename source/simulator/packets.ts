import type {StreamSpec} from './stream-spec.ts';

const end = 0xc0;
const escapeByte = 0xdb;

/** SLIP packet, END in front too (RFC 1055; check-values F1, F2). */
export function encodeSlip(data: Uint8Array): Uint8Array {
	const out = [end];
	for (const byte of data) {
		if (byte === end) out.push(escapeByte, 0xdc);
		else if (byte === escapeByte) out.push(escapeByte, 0xdd);
		else out.push(byte);
	}
	out.push(end);
	return Uint8Array.from(out);
}

/** COBS packet with its closing zero (Cheshire and Baker 1999; check-values F4–F8). */
export function encodeCobs(data: Uint8Array): Uint8Array {
	const out = [0];
	let codeAt = 0;
	let run = 1;
	for (let i = 0; i < data.length; i++) {
		if (data[i] !== 0) {
			out.push(data[i]);
			run++;
		}
		if (data[i] === 0 || (run === 0xff && i + 1 < data.length)) {
			out[codeAt] = run;
			codeAt = out.length;
			out.push(0);
			run = 1;
		}
	}
	out[codeAt] = run;
	out.push(0);
	return Uint8Array.from(out);
}

/** Start value and bit order of each CRC-16 (check-values F11). */
const crcParameters = {
	xmodem: {polynomial: 0x1021, start: 0, reflected: false},
	kermit: {polynomial: 0x8408, start: 0, reflected: true},
	modbus: {polynomial: 0xa001, start: 0xffff, reflected: true},
	'ibm-3740': {polynomial: 0x1021, start: 0xffff, reflected: false},
} as const;

/** CRC-16 of `data`, 0 … 65,535. */
export function crc16(kind: Exclude<StreamSpec['crc'], 'none'>, data: Uint8Array): number {
	const {polynomial, start, reflected} = crcParameters[kind];
	let crc: number = start;
	for (const byte of data) {
		if (reflected) {
			crc ^= byte;
			for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ polynomial : crc >>> 1;
		} else {
			crc ^= byte << 8;
			for (let bit = 0; bit < 8; bit++) crc = crc & 0x8000 ? ((crc << 1) ^ polynomial) & 0xffff : crc << 1;
		}
	}
	return crc;
}
