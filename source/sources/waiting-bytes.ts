import {setTimeout as wait} from 'node:timers/promises';
import type {OpenPort} from './serial.ts';

/**
 * How long is looked for what waits. A look lasts a pause and a turn of the event loop, in which the system hands over
 * whatever it holds; the first that brings nothing is the last, and a stream that never pauses so long is looked at ten
 * times.
 */
const pauseMs = 4;
const mostLooks = 10;

/** A bridge chip keeps what it has for so long before it sends it on: the usual latency timer (FTDI AN232B-04, from memory). */
const latencySeconds = 0.016;

/** A start bit, eight bits of data, a stop bit. */
const bitsPerByte = 10;

/** What came of a port as it was opened. */
type FirstBytes = {
	readonly bytes: Uint8Array;
	/** True where they are more than the line can have carried since: they had waited, and were sent at another time. */
	readonly isStale: boolean;
};

/**
 * What a port at `baud` hands over right after it was opened, all at once: perhaps by another glove, an hour ago. Nothing
 * with most ports. To be called as soon as it is open.
 */
export async function firstBytes(port: OpenPort, baud: number): Promise<FirstBytes> {
	const openedAt = performance.now();
	const parts: Uint8Array[] = [];
	let known = 0;
	let isOver = false;
	port.on('data', bytes => {
		if (!isOver) parts.push(bytes);
	});
	for (let look = 0; look < mostLooks; look++) {
		await wait(pauseMs);
		await new Promise(resolve => setImmediate(resolve));
		if (parts.length === known) break;
		known = parts.length;
	}

	isOver = true;
	const seconds = (performance.now() - openedAt) / 1000;
	const bytes = Buffer.concat(parts);
	return {bytes, isStale: bytes.length > (baud / bitsPerByte) * (seconds + latencySeconds)};
}
