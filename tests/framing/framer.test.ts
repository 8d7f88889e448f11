import fc from 'fast-check';
import {describe, expect, test} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';
import {lines, logOf, pieces, stream} from './framer-stream.ts';
import {handFrames, Recorder, record, recordLines, toBytes} from './record-framer.ts';

describe('line ends', () => {
	test.each([
		['LF', '\n', 1],
		['CR LF', '\r\n', 2],
		['CR alone', '\r', 1],
	])("takes lines that end in %s, and counts the end into a line's bytes", (_name, end, endBytes) => {
		const {recorder} = record(lines.map(line => line + end).join(''));
		expect(recorder.values).toEqual(handFrames(30));
		expect(recorder.frames.map(frame => frame.lineBytes)).toEqual(lines.map(line => line.length + endBytes));
		expect(recorder.odd).toEqual([]);
	});

	test('takes lines whose ends are mixed', () => {
		const ends = ['\n', '\r\n', '\r', '\r\r\n', '\n\n', '\n\r'];
		const {recorder} = record(lines.map((line, i) => line + ends[i % ends.length]).join(''));
		expect(recorder.values).toEqual(handFrames(30));
		expect(recorder.odd).toEqual([]);
	});

	test('keeps half a line until its end arrives, and gives it the time of that chunk', () => {
		const recorder = new Recorder();
		const framer = new Framer(recorder);
		framer.push(1, toBytes(`${lines.slice(0, 20).join('\n')}\n512,4`));
		expect(recorder.frames).toHaveLength(20);
		expect(framer.pendingBytes).toBe(5);
		framer.push(2, toBytes('98,600,712'));
		expect(recorder.frames).toHaveLength(20);
		framer.push(3, toBytes(',433\n'));
		expect(recorder.frames[20]).toEqual({t: 3, values: [512, 498, 600, 712, 433], lineBytes: 20});
		expect(framer.pendingBytes).toBe(0);
	});

	test('takes a CR that ends a chunk once it is known that no LF follows', () => {
		const recorder = new Recorder();
		const framer = new Framer(recorder);
		for (const line of lines) framer.push(0, toBytes(`${line}\r`));
		expect(recorder.frames.length).toBe(30);
	});
});

describe('chunks', () => {
	const whole = logOf(stream, []);

	test('the stream used here has frames, several layouts and every kind of text line', () => {
		const heads = new Set(whole.log.map(entry => entry.split(' ')[0]));
		expect([...heads].sort()).toEqual(['frame', 'garbled', 'layout', 'merged', 'overlong', 'short', 'stray']);
	});

	test('gives the same frames whole and byte by byte', () => {
		expect(
			logOf(
				stream,
				Array.from({length: stream.length - 1}, (_, i) => i + 1),
			),
		).toEqual(whole);
	});

	test('gives the same frames whatever the bytes and the cuts', () => {
		const piece = fc.oneof(
			{weight: 6, arbitrary: fc.constantFrom(...pieces).map(text => Buffer.from(text))},
			{weight: 1, arbitrary: fc.uint8Array({maxLength: 40}).map(bytes => Buffer.from(bytes))},
			{weight: 1, arbitrary: fc.constant(Buffer.from([0xc0, 1, 2, 3, 1, 0xc0, 0x05, 1, 2, 3, 1, 0]))},
		);
		fc.assert(
			fc.property(
				fc.array(piece, {minLength: 1, maxLength: 60}),
				fc.array(fc.nat(), {maxLength: 12}),
				(parts, rawCuts) => {
					const input = Buffer.concat(parts);
					const cuts = rawCuts.map(cut => cut % (input.length + 1)).sort((a, b) => a - b);
					expect(logOf(input, cuts)).toEqual(logOf(input, []));
				},
			),
			{numRuns: 300},
		);
	});

	test('gives the same frames where lines turn into packets, wherever that is cut', () => {
		const packets = handFrames(40).map(values => [0xc0, ...values.flatMap(value => [value & 0xff, value >> 8]), 0xc0]);
		// No value here holds a byte that SLIP escapes.
		const plain = packets.filter(packet => !packet.slice(1, -1).some(byte => byte === 0xc0 || byte === 0xdb));
		const words = 'waiting for the curtain\n'.repeat(85);
		const input = Buffer.concat([
			Buffer.from(`${lines.join('\n')}\n${words}`),
			Buffer.from(plain.flat()),
			Buffer.from(plain.flat()),
		]);
		const expected = logOf(input, []);
		expect(expected.log.filter(entry => entry.startsWith('layout'))).toHaveLength(2);
		for (const size of [1, 7, 64, 500, 2000, 2100]) {
			const cuts = Array.from({length: Math.floor((input.length - 1) / size)}, (_, i) => (i + 1) * size);
			expect(logOf(input, cuts), `chunks of ${size}`).toEqual(expected);
		}
	});

	test('reads from the middle of a larger buffer, and keeps nothing of it', () => {
		const text = toBytes(`xx${lines.join('\n')}\nyy`);
		const recorder = new Recorder();
		const framer = new Framer(recorder);
		framer.push(0, text, 2, text.length - 2);
		text.fill(0x39);
		framer.end(0);
		expect(recorder.values).toEqual(handFrames(30));
		expect(framer.bytesTotal).toBe(text.length - 4);
	});
});

describe('the ends of a stream', () => {
	test('excuses a first line that was joined in its middle', () => {
		const {recorder} = record(`0,712,433\n${lines.join('\n')}\n`);
		expect(recorder.odd).toEqual([]);
		expect(recorder.values).toEqual(handFrames(30));
	});

	test('excuses a first line that lacks the front of its first number', () => {
		const values = handFrames(20).map(frame => [frame[0] + 1000, ...frame.slice(1)]);
		const text = values.map(frame => frame.join()).join('\n');
		const {recorder} = record(`${text.slice(2)}\n`);
		expect(recorder.values).toEqual(values.slice(1));
		expect(recorder.odd).toEqual([]);
	});

	test('takes a last line without an end that is whole', () => {
		const {recorder} = record(lines.join('\n'));
		expect(recorder.values).toEqual(handFrames(30));
	});

	test('leaves a last line that was cut untold', () => {
		const text = `${lines.join('\n')}\n512,498,600,712,433`;
		for (const cut of [1, 2, 3, 4, 5, 9, 15]) {
			const {recorder} = record(text.slice(0, -cut));
			expect(recorder.frames, `less ${cut}`).toHaveLength(30);
			expect(recorder.odd).toEqual([]);
		}
	});

	test('settles a stream that is over after three lines', () => {
		const {recorder} = record('512,498,600,712,433\n513,498,600,712,433\n512,499,600,712,433\n');
		expect(recorder.frames).toHaveLength(3);
		expect(recorder.names).toEqual(['thumb', 'index', 'middle', 'ring', 'little']);
	});

	test('excuses the line that an interruption cut', () => {
		const recorder = new Recorder();
		const framer = new Framer(recorder);
		framer.push(0, toBytes(`${lines.join('\n')}\n512,4`));
		framer.resync();
		framer.push(1, toBytes(`9,433\n${lines[0]}\n`));
		framer.end(1);
		expect(recorder.odd).toEqual([]);
		expect(recorder.frames).toHaveLength(31);
	});

	test('tells nothing of an empty stream', () => {
		expect(record('').recorder.log).toEqual([]);
		expect(record('\n\r\n  \n\t\r').recorder.log).toEqual([]);
	});
});

describe('a line without an end', () => {
	test('is told once as overlong, and the next good line is a frame again', () => {
		const junk = '1'.repeat(200_000);
		const {recorder} = record(`${lines.join('\n')}\n${junk}\n${lines[0]}\n`);
		expect(recorder.odd.map(line => [line.kind, line.text.length])).toEqual([['overlong', 120]]);
		expect(recorder.odd[0].offset).toBe(lines.join('\n').length + 1);
		expect(recorder.frames).toHaveLength(31);
	});

	test('never makes memory grow', () => {
		const framer = new Framer(new Recorder(), {maxLineBytes: 1000});
		const chunk = new Uint8Array(10_000).fill(0x31);
		for (let i = 0; i < 500; i++) framer.push(i, chunk);
		const size = (value: unknown, seen = new Set<unknown>()): number => {
			if (typeof value !== 'object' || value === null || seen.has(value)) return 0;
			seen.add(value);
			if (ArrayBuffer.isView(value)) return value.byteLength;
			return Object.values(value).reduce((sum: number, entry) => sum + size(entry, seen), 0);
		};
		// The cap, two packet buffers of 2048 bytes with their excerpts, and small change.
		expect(size(framer)).toBeLessThan(1000 + 2 * (2048 + 120) + 1000);
	});

	test('takes lines up to the cap, 64 KiB unless told otherwise', () => {
		const padded = `512,498,600,712,433${' '.repeat(65_536 - 19)}`;
		const good = record(`${lines.join('\n')}\n${padded}\n`).recorder;
		expect(good.frames).toHaveLength(31);
		const long = record(`${lines.join('\n')}\n${padded} \n`).recorder;
		expect(long.kinds()).toEqual(['overlong']);
	});
});

describe('state', () => {
	test('a deep copy with a sink of its own goes on by itself', () => {
		const recorder = new Recorder();
		const framer = new Framer(recorder);
		const text = `${lines.join('\n')}\n`;
		framer.push(0, toBytes(text.slice(0, 305)));
		const copy = deepCopy(framer, recorder) as Framer;
		const other = new Recorder();
		copy.sink = other;
		copy.push(0, toBytes(text.slice(305)));
		copy.end(0);
		const framesBefore = recorder.frames.length;
		framer.push(0, toBytes(text.slice(305)));
		framer.end(0);
		expect(recorder.values.slice(framesBefore)).toEqual(other.values);
		expect(recorder.frames).toHaveLength(30);
	});

	test('holds no function and no collection that a plain copy would miss', () => {
		const {framer} = recordLines([...lines, 'hello there', '1,2']);
		const odd: string[] = [];
		const walk = (value: unknown, path: string): void => {
			if (typeof value === 'function' || value instanceof Map || value instanceof Set) odd.push(path);
			if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return;
			for (const [name, entry] of Object.entries(value))
				if (path !== '' || name !== 'sink') walk(entry, `${path}.${name}`);
		};
		walk(framer, '');
		expect(odd).toEqual([]);
	});
});

describe('junk', () => {
	test('settles on nothing in frames heard at four times their rate', () => {
		// A UART hears each bit of the sender as four of its own; start and stop bits become data (U1, U23).
		const {recorder, framer} = record(hearAt(lines.concat(lines, lines, lines).join('\r\n'), 4));
		expect(recorder.frames).toEqual([]);
		expect(recorder.layouts).toEqual([]);
		expect(framer.nonTextBytes / framer.bytesTotal).toBeGreaterThan(0.2);
	});

	test.each([0.25, 0.5, 2, 3, 4, 6, 8, 12])(
		'settles on nothing in one frame repeated, heard at %s times its rate',
		ratio => {
			const {recorder} = record(hearAt(`${'163,156,123,170,159\r\n'.repeat(200)}`, ratio));
			expect(recorder.frames).toEqual([]);
		},
	);

	test('keeps to the frames that follow start-up text at another rate, and counts no damage', () => {
		const {recorder, framer} = record(
			Buffer.concat([
				hearAt('ets Jul 29 2019 12:21:46\r\nrst:0x1 (POWERON_RESET)\r\n', 1.56),
				Buffer.from(`\r\n${lines.join('\r\n')}\r\n`),
			]),
		);
		expect(recorder.frames).toHaveLength(30);
		expect(recorder.kinds().filter(kind => kind !== 'stray')).toEqual([]);
		expect(framer.lineCount).toBeGreaterThanOrEqual(30);
	});
});

/** Bytes that a receiver at `ratio` times the sender's rate makes of a text sent without pauses (8N1, check-values U1). */
function hearAt(text: string, ratio: number): Uint8Array {
	const bits: number[] = [];
	for (const byte of toBytes(text)) {
		bits.push(0);
		for (let bit = 0; bit < 8; bit++) bits.push((byte >> bit) & 1);
		bits.push(1);
	}

	const level = (time: number): number => bits[Math.floor(time / ratio)] ?? 1;
	const heard: number[] = [];
	let time = 0;
	const total = bits.length * ratio;
	while (time < total) {
		if (level(time) === 1) {
			time += Math.min(1, ratio) / 4;
			continue;
		}

		let byte = 0;
		for (let bit = 0; bit < 8; bit++) byte |= level(time + 1.5 + bit) << bit;
		heard.push(byte);
		time += 9.5;
	}

	return Uint8Array.from(heard);
}

/** Copies plain data with prototypes; `keep` stays the same object. */
function deepCopy(value: unknown, keep: unknown, seen = new Map<unknown, unknown>()): unknown {
	if (typeof value !== 'object' || value === null || value === keep) return value;
	if (seen.has(value)) return seen.get(value);
	if (ArrayBuffer.isView(value)) return (value as Uint8Array).slice();
	const copy = Array.isArray(value) ? [] : Object.create(Object.getPrototypeOf(value));
	seen.set(value, copy);
	for (const [name, entry] of Object.entries(value)) copy[name] = deepCopy(entry, keep, seen);
	return copy;
}
