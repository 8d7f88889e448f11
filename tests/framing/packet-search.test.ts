import {describe, expect, test} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';
import {checksums} from '../../source/framing/packet-checksum.ts';
import {handFrames, numbers, Recorder, record, toBytes} from './record-framer.ts';
import {cobs, slip} from './reference-packages.ts';

const five = ['thumb', 'index', 'middle', 'ring', 'little'];
const hand = handFrames(60);

type Check = 'none' | 'low byte first' | 'high byte first';

/** Values as little-endian 16-bit words, with a CRC-16 behind them if wanted. */
function pack(values: readonly number[], check: Check = 'none', name = 'crc-16/modbus'): Uint8Array {
	const body = values.flatMap(value => [value & 255, (value >> 8) & 255]);
	if (check === 'none') return Uint8Array.from(body);
	const crc = checksums[name](Uint8Array.from(body));
	return Uint8Array.from([...body, ...(check === 'low byte first' ? [crc & 255, crc >> 8] : [crc >> 8, crc & 255])]);
}

const stuff = {
	slip: (packet: Uint8Array): Buffer => Buffer.from(slip.encode(packet)),
	cobs: (packet: Uint8Array): Buffer => Buffer.concat([cobs.encode(Buffer.from(packet)), Buffer.from([0])]),
};

function stream(framing: 'slip' | 'cobs', frames = hand, check: Check = 'none', name?: string): Buffer {
	return Buffer.concat(frames.map(values => stuff[framing](pack(values, check, name))));
}

describe.each(['slip', 'cobs'] as const)('packets framed by %s', framing => {
	test('are found, and all of them are frames', () => {
		const {recorder, framer} = record(stream(framing));
		expect(recorder.values).toEqual(hand);
		expect(recorder.names).toEqual(five);
		expect(recorder.layouts).toEqual([
			expect.objectContaining({framing, separator: null, checksum: null, labelled: false}),
		]);
		expect(recorder.odd).toEqual([]);
		expect(framer.lineCount).toBe(60);
	});

	test('do not count as junk', () => {
		expect(record(stream(framing)).framer.nonTextBytes).toBe(0);
	});

	test('say how long they were on the line', () => {
		const {recorder} = record(stream(framing));
		expect(recorder.frames.map(frame => frame.lineBytes)).toEqual(
			hand.map(values => stuff[framing](pack(values)).length),
		);
	});

	test('give the same frames byte by byte and cut at every offset', () => {
		const bytes = Buffer.concat([
			stream(framing, hand.slice(0, 20)),
			Buffer.from('rst:0x1 (POWERON)'),
			stream(framing, hand.slice(20)),
		]);
		const whole = record(bytes).recorder.log;
		expect(whole.filter(entry => entry.startsWith('frame')).length).toBeGreaterThan(57);
		expect(record(bytes, {}, 1).recorder.log).toEqual(whole);
		for (let cut = 1; cut < bytes.length; cut += 3) {
			const recorder = new Recorder();
			const framer = new Framer(recorder);
			framer.push(0, bytes, 0, cut);
			framer.push(0, bytes, cut);
			framer.end(0);
			expect(recorder.log, `cut at ${cut}`).toEqual(whole);
		}
	});

	test.each(Object.keys(checksums))('with %s behind the values: found, held, and told when wrong', name => {
		for (const check of ['low byte first', 'high byte first'] as const) {
			const good = stream(framing, hand, check, name);
			const {recorder} = record(good);
			expect(recorder.values).toEqual(hand);
			expect(recorder.layouts[0].checksum).toBe(check === 'low byte first' ? name : `${name} big-endian`);
			const packets = hand.map(values => pack(values, check, name));
			packets[30][3] ^= 0x10;
			packets[40] = packets[40].slice(0, -2);
			const damaged = record(Buffer.concat(packets.map(stuff[framing]))).recorder;
			expect(damaged.kinds()).toEqual(['checksum', 'checksum']);
			expect(damaged.frames).toHaveLength(58);
		}
	});

	test('may begin in the middle of one', () => {
		const {recorder} = record(stream(framing).subarray(5));
		expect(recorder.values).toEqual(hand.slice(1));
		expect(recorder.odd).toEqual([]);
	});

	test('hold values that are unsigned, of 16 bits where a CRC-16 vouches for them', () => {
		const wild = handFrames(40).map(values => values.map((value, i) => (value * 64 + i) % 65_536));
		const {recorder} = record(stream(framing, wild, 'low byte first'));
		expect(recorder.values).toEqual(wild);
		expect(Math.max(...wild.flat())).toBeGreaterThan(32_767);
	});

	test('have counter, stick and buttons like lines have', () => {
		const frames = hand.map((values, i) => [i, ...values, 511 + (i % 2), 500, i % 10 < 5 ? 1 : 0]);
		expect(record(stream(framing, frames)).recorder.names).toEqual([
			'counter',
			...five,
			'stick-x',
			'stick-y',
			'button-1',
		]);
	});

	test('with start-up text between them give a stray line', () => {
		const text = Buffer.from('\r\nrst:0x1 (POWERON_RESET)\r\n');
		const end = Buffer.from([framing === 'slip' ? 0xc0 : 0]);
		const {recorder} = record(
			Buffer.concat([stream(framing, hand.slice(0, 30)), text, end, stream(framing, hand.slice(30))]),
		);
		expect(recorder.kinds()).toEqual(['stray']);
		expect(recorder.frames).toHaveLength(60);
	});

	test('may come after start-up text, and text after them', () => {
		const boot = Buffer.from('ets Jun  8 2016 00:22:57\r\n\r\nentry 0x400805d8\r\n');
		const end = Buffer.from([framing === 'slip' ? 0xc0 : 0]);
		const text = Buffer.from(`\r\n${hand.map(values => values.join()).join('\r\n')}\r\n`);
		const {recorder} = record(Buffer.concat([boot, end, stream(framing), text, text, text]));
		expect(recorder.layouts.map(layout => layout.framing)).toEqual([framing, 'text']);
		expect(recorder.odd.filter(line => line.kind === 'stray').map(line => line.text)).toContain('entry 0x400805d8');
		expect(recorder.frames.length).toBeGreaterThan(60 + 3 * 60 - 30);
	});

	test('of another length are taken on when the firmware changes', () => {
		const longer = hand.map(values => [...values, 512, 500]);
		const {recorder} = record(Buffer.concat([stream(framing), stream(framing, longer), stream(framing, longer)]));
		expect(recorder.layouts.map(layout => layout.channels.length)).toEqual([5, 7]);
		expect(recorder.frames.length).toBeGreaterThan(60 + 120 - 30);
	});

	test('are forced by the option, names and all', () => {
		const {recorder} = record(stream(framing, hand.slice(0, 9)), {layout: `${framing}:little,ring,middle,index,thumb`});
		expect(recorder.names).toEqual([...five].reverse());
		expect(recorder.frames).toHaveLength(9);
	});

	test('of another number of values than the option names are bad', () => {
		const {recorder} = record(stream(framing), {layout: `${framing}:thumb,index,middle`});
		expect(recorder.frames).toEqual([]);
		expect(recorder.names).toEqual(['thumb', 'index', 'middle']);
		expect(new Set(recorder.kinds())).toEqual(new Set(['checksum']));
	});
});

describe('no packets are found', () => {
	test('in text, whatever its bytes', () => {
		const {recorder} = record(toBytes(hand.map(values => values.join()).join('\n')));
		expect(recorder.layouts.map(layout => layout.framing)).toEqual(['text']);
	});

	test('in junk of a constant length between delimiters', () => {
		for (const delimiter of [0xc0, 0x00]) {
			const next = numbers(5);
			const piece = Array.from({length: 12}, () => 0x80 | next(64));
			const junk = Array.from({length: 300}, () => [...piece, delimiter]).flat();
			expect(record(Uint8Array.from(junk)).recorder.layouts, `same, ${delimiter}`).toEqual([]);
			const wild = Array.from({length: 300}, () => [
				...Array.from({length: 12}, () => 1 + next(190)),
				delimiter,
			]).flat();
			expect(record(Uint8Array.from(wild)).recorder.layouts, `wild, ${delimiter}`).toEqual([]);
		}
	});
});
