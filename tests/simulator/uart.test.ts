import fc from 'fast-check';
import {describe, expect, test} from 'vitest';
import {UartResampler} from '../../source/simulator/uart.ts';

function receive(sender: number, receiver: number, text: string, gapSeconds = 0): Buffer {
	const uart = new UartResampler(sender, receiver, 'keep');
	const parts: Uint8Array[] = [];
	let t = 1;
	for (const line of text.split(/(?<=\n)/)) {
		const bytes = Buffer.from(line, 'latin1');
		parts.push(uart.push(t, bytes));
		t += (bytes.length * 10) / sender + gapSeconds;
	}
	parts.push(uart.flush());
	return Buffer.concat(parts);
}

const frames = Array.from({length: 40}, (_, i) => `${500 + i},${410 - i},333,${290 + 2 * i},187\r\n`).join('');

describe('UartResampler', () => {
	test('gives the bytes that were sent when both rates are the same', () => {
		fc.assert(
			fc.property(fc.uint8Array({minLength: 1, maxLength: 200}), bytes => {
				const text = Buffer.from(bytes).toString('latin1');
				expect(receive(115200, 115200, text).toString('latin1')).toBe(text);
			}),
		);
	});

	test('still does within the receiver’s tolerance, and no longer beyond it', () => {
		// ATmega328P at 8 data bits: 95.36 % … 104.58 % at most, ± 2 % recommended (check-values U9).
		for (const share of [0.97, 0.98, 1.02, 1.03])
			expect(receive(115200 * share, 115200, frames).toString()).toBe(frames);
		for (const share of [0.9, 1.1]) expect(receive(115200 * share, 115200, frames).toString()).not.toBe(frames);
	});

	test('reads the first bit pattern of a slow sender as worked by hand', () => {
		// 'U' = 0x55 sends start 0, then 1 0 1 0 1 0 1 0, stop 1. Heard four times too fast, every low bit (4 receiver bits
		// long) starts a character: bits 1–3 low, 4–7 high, 8 low (the next low bit has begun): 0b01111000 = 0x78, its stop
		// bit falls into the same low bit. From there the receiver waits for the next fall, two sender bits later.
		const uart = new UartResampler(28800, 115200, 'keep');
		const received = Buffer.concat([uart.push(0.5, Uint8Array.of(0x55)), uart.flush()]);
		expect(received[0]).toBe(0x78);
	});

	test('turns text into junk when the sender is four times slower or faster', () => {
		for (const ratio of [0.25, 4]) {
			const junk = receive(115200 * ratio, 115200, frames, 0.005);
			const text = junk.filter(byte => byte === 10 || byte === 13 || (byte >= 32 && byte < 127)).length;
			expect(junk.length).toBeGreaterThan(20);
			expect(1 - text / junk.length).toBeGreaterThan(0.2);
		}
	});
});
