import {expect, test} from 'vitest';
import {bytesOf, frameBytes, handRows} from './collect.ts';

/**
 * What a receiver at `receivedBaud` makes of bytes sent at `sentBaud` without a pause, eight bits, no parity, one stop
 * bit: it waits for a falling edge, samples the middle of each bit by its own clock, and goes on whatever the stop bit is.
 */
function receiveAt(bytes: Uint8Array, sentBaud: number, receivedBaud: number): Uint8Array {
	const line: number[] = [];
	for (const byte of bytes) {
		line.push(0);
		for (let bit = 0; bit < 8; bit++) line.push((byte >> bit) & 1);
		line.push(1);
	}
	const level = (time: number): number => line[Math.floor(time * sentBaud)] ?? 1;
	const end = line.length / sentBaud;
	const step = 1 / Math.max(sentBaud, receivedBaud) / 8;
	const received: number[] = [];
	for (let t = 0; t < end; ) {
		if (level(t) === 1) {
			t += step;
			continue;
		}
		let byte = 0;
		for (let bit = 0; bit < 8; bit++) byte |= level(t + (1.5 + bit) / receivedBaud) << bit;
		received.push(byte);
		t += 9.5 / receivedBaud;
		while (t < end && level(t) === 0) t += step;
	}
	return Uint8Array.from(received);
}

const rates = [9600, 19_200, 38_400, 57_600, 74_880, 115_200, 230_400, 250_000, 500_000, 1_000_000];
const rows = handRows(160, 8);
const formats: readonly [name: string, write: (row: readonly number[]) => string][] = [
	['commas', row => `${row.join(',')}\r\n`],
	['labels', row => `${row.map((value, i) => `${'TIMRPXYB'[i]}:${value}`).join(' ')}\n`],
	['tabs', row => `${row.join('\t')}\n`],
];

test('the receiver of this test gets at the right rate what was sent', () => {
	const bytes = bytesOf('512,498,455\r\n');
	expect(receiveAt(bytes, 115_200, 115_200)).toEqual(bytes);
	// A rate 2 % off is still read (common practice: up to about 5 % in all).
	expect(receiveAt(bytes, 115_200, 113_000)).toEqual(bytes);
});

for (const [name, write] of formats) {
	for (const sent of [9600, 115_200, 250_000]) {
		test(`${name} sent at ${sent} baud settle at their own rate and on nothing at any other`, () => {
			const bytes = bytesOf(rows.map(write).join(''));
			for (const rate of rates) {
				if (Math.abs(rate / sent - 1) < 0.1) continue;
				const {frames, layouts} = frameBytes(receiveAt(bytes, sent, rate), {}, 64);
				expect({rate, frames: frames.length, layouts}).toEqual({rate, frames: 0, layouts: []});
			}
			expect(frameBytes(bytes).frames).toHaveLength(rows.length);
		});
	}
}

test('a hand at rest, whose lines are nearly all alike, settles on nothing at another rate either', () => {
	for (const [, write] of formats) {
		const bytes = bytesOf(
			rows.map((_, i) => write([512, 498, 455 + (i % 2), 400, 380 + (i % 3), 500, 510, 0])).join(''),
		);
		for (const sent of [9600, 115_200]) {
			for (const rate of rates) {
				if (rate === sent) continue;
				const {frames} = frameBytes(receiveAt(bytes, sent, rate), {}, 64);
				expect({sent, rate, frames: frames.length}).toEqual({sent, rate, frames: 0});
			}
		}
	}
});
