import {sumOf} from '../math/sums.ts';
// Formulas with sources and worked examples: docs/plan.md.
import {channelKind, type Sheet} from '../sheet/sheet.ts';

/** Start bit, eight data bits, stop bit. */
const bitsPerByte = 10;

/** Frames of `bytes` bytes a serial line carries in a second at most. */
export function framesPerSecondMost(baud: number, bytes: number): number {
	return baud / bitsPerByte / bytes;
}

/** Share of a serial line's capacity that frames take, 0 to 1 and above. */
export function lineLoad(baud: number, bytes: number, framesPerSecond: number): number {
	return (bytes * framesPerSecond * bitsPerByte) / baud;
}

/** Time of one frame on the wire, ms. */
export function wireMs(baud: number, bytes: number): number {
	return ((bytes * bitsPerByte) / baud) * 1000;
}

/** Error of a rate made by dividing a clock by a whole multiple of `samples` (16, or 8 at double speed), percent. */
export function baudErrorPercent(baud: number, clockHz: number, samples: 8 | 16): number {
	const divisor = Math.max(1, Math.round(clockHz / (samples * baud)));
	return (clockHz / (samples * divisor) / baud - 1) * 100;
}

/**
 * Bytes of the longest frame a sheet's channels make, with its end. Text: digits of each value, one separator between
 * values, CR LF. JSON adds names and braces. Packets: two bytes a value and a CRC-16, with the framing's own bytes but
 * without stuffing.
 */
export function frameBytes(sheet: Sheet, fullScale: number): number {
	const digits = sheet.channels.map(({name}) => {
		switch (channelKind(name)) {
			case 'button':
				return 1;
			case 'counter':
				return String(65_535).length;
			case 'clock':
				// 32 bit milliseconds or microseconds.
				return String(2 ** 32 - 1).length;
			default:
				return String(fullScale).length;
		}
	});
	const values = sumOf(digits);
	const separators = Math.max(0, digits.length - 1);
	switch (sheet.link?.framing ?? 'text') {
		case 'text':
			return values + separators + 2;
		case 'json': {
			const names = sheet.channels.reduce((sum, {name}) => sum + name.length + 3, 0);
			return values + separators + names + 2 + 2;
		}
		case 'slip':
			return 2 * digits.length + 2 + 2;
		case 'cobs':
			return 2 * digits.length + 2 + 2;
	}
}
