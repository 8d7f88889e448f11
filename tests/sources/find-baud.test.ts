import {EventEmitter} from 'node:events';
import {describe, expect, test} from 'vitest';
import {UartResampler} from '../../source/simulator/uart.ts';
import {findBaud, textShare, usualBauds} from '../../source/sources/find-baud.ts';
import type {OpenPort} from '../../source/sources/serial.ts';

/** Frames of a glove as they reach a listener at one rate from a sender at another, bit by bit. */
function received(senderBaud: number, listenerBaud: number): Buffer {
	const line = new UartResampler(senderBaud, listenerBaud, 'keep');
	const parts: Uint8Array[] = [];
	for (let n = 0; n < 12; n++) {
		const text = `${512 + n},${498 - n},47${n % 10},530,601,1,1\r\n`;
		parts.push(line.push(n * 0.05, new TextEncoder().encode(text)));
	}
	parts.push(line.flush());
	return Buffer.concat(parts);
}

/** A port whose board sends at one rate; it speaks whenever the listener has changed its own. */
class FakePort extends EventEmitter {
	readonly changes: number[] = [];
	constructor(private readonly senderBaud: number | null) {
		super();
	}
	update({baudRate}: {baudRate: number}, callback: (error?: Error | null) => void): void {
		this.changes.push(baudRate);
		callback();
		if (this.senderBaud === null) return;
		const bytes = received(this.senderBaud, baudRate);
		// After the search has thrown away what was under way.
		setTimeout(() => this.emit('data', bytes), 45);
	}
	close(callback: () => void): void {
		callback();
	}
}

const waits = {firstWordMs: 1, listenMs: 20};

describe('the rate of a board', () => {
	test.each([115_200, 57_600, 9600, 28_800])('at %d is found, and the port left there', async baud => {
		const port = new FakePort(baud);
		const found = await findBaud(port as unknown as OpenPort, waits);
		expect(found.baud).toBe(baud);
		expect(port.changes.at(-1)).toBe(baud);
		expect(found.detail).toContain(`Listening at ${baud} baud`);
	});

	test('a board that says nothing leaves the usual rate, and is told so', async () => {
		const port = new FakePort(null);
		const found = await findBaud(port as unknown as OpenPort, waits);
		expect(found.baud).toBe(usualBauds[0]);
		expect(found.detail).toContain('nothing came');
	});
});

test('junk of a wrong rate scores far below text', () => {
	expect(textShare(received(28_800, 115_200))).toBeLessThan(0.5);
	expect(textShare(received(115_200, 115_200))).toBe(1);
	expect(textShare(new Uint8Array())).toBe(-1);
});
