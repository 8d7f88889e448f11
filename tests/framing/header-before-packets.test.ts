import {expect, test} from 'vitest';
import {handFrames, record} from './record-framer.ts';
import {slip} from './reference-packages.ts';

/** Bytes that end a line: packets without any of them are one line that goes on. */
const lineEnds = [0x0a, 0x0d];

test('a header of lines names no column of the packets that follow it', () => {
	const hand = handFrames(400);
	const lines = hand.slice(0, 30).map(values => `${values.join()}\n`);
	const packets = hand.slice(30).map(values =>
		values.flatMap(value => {
			const low = value & 255;
			return [lineEnds.includes(low) ? low + 1 : low, value >> 8];
		}),
	);
	const {recorder} = record(
		Buffer.concat([
			Buffer.from(`${lines.join('')}roll,pitch,yaw,ring,little\n`),
			...packets.map(packet => slip.encode(Uint8Array.from(packet))),
		]),
	);
	const inPackets = recorder.layouts.filter(({framing}) => framing === 'slip');
	expect(inPackets.map(({labelled, channels}) => [labelled, ...channels.map(({name}) => name)])).toEqual([
		[false, 'thumb', 'index', 'middle', 'ring', 'little'],
	]);
	// 2048 bytes of packets, 186 of them, pass before the lines count as lost.
	expect(recorder.frames.length).toBeGreaterThan(30 + 370 - 190);
});
