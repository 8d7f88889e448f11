import {describe, expect, test} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';
import {Session} from '../../source/session/session.ts';
import type {SessionOptions} from '../../source/session/session-options.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {type Course, draw, fists, held, readings} from '../gloves/draw.ts';

// Check-values D2: an epoch lies between two breaks, and nothing learned in one judges the next. A break never makes a reading
// that never was.

const names = ['thumb', 'index', 'middle', 'ring', 'little'];
const encoder = new TextEncoder();

function run(items: readonly SourceItem[], options: Partial<SessionOptions> = {}): Session {
	const session = new Session({timing: 'measured', fullScale: 1023, ...options});
	for (const item of items) session.push(item);
	session.end();
	return session;
}

/** Items moved on by some seconds. */
const later = (items: readonly SourceItem[], seconds: number): SourceItem[] =>
	items.map(item => ({...item, t: item.t + seconds}));

/** A hand that rests at levels of three digits. */
const resting = Object.fromEntries(names.map((name, i) => [name, held(30 + 12 * i)]));

/** A hand that opens and closes; `times` of two seconds. */
const working = (times: number, change: Record<string, Course> = {}): Record<string, Course> => ({
	...Object.fromEntries(
		names.map((name, i) => [name, fists({from: 1 + 0.03 * i, times, open: 20, closed: 66 + 4 * i})]),
	),
	...change,
});

describe('a plug that is pulled and put back', () => {
	const formats: readonly (readonly [name: string, write: (row: readonly number[]) => Uint8Array])[] = [
		['commas', row => encoder.encode(`${row.join(',')}\r\n`)],
		['labels', row => encoder.encode(`${row.map((value, i) => `${names[i]}:${value}`).join(' ')}\n`)],
		[
			'JSON',
			row => encoder.encode(`${JSON.stringify(Object.fromEntries(row.map((value, i) => [names[i], value])))}\n`),
		],
		[
			'SLIP',
			row =>
				Uint8Array.from([
					0xc0,
					...row
						.flatMap(value => [value & 255, value >> 8])
						.flatMap(byte => (byte === 0xc0 ? [0xdb, 0xdc] : byte === 0xdb ? [0xdb, 0xdd] : [byte])),
					0xc0,
				]),
		],
		['COBS', row => cobs(row.flatMap(value => [value & 255, value >> 8]))],
	];

	test.each(formats)('gives no impossible value at any byte offset of a line (%s)', (_, write) => {
		const rows = readings({channels: resting, seconds: 0.6, noise: 0.2});
		const lines = rows.map(write);
		const half = lines.length / 2;
		const {length} = lines[half];
		const {length: next} = lines[half + 1];
		const known = new Set(rows.map(row => row.join()));
		for (let out = 0; out <= length; out++) {
			// What came of the line at which it was pulled, and what was lost of the first one when it was back.
			for (const back of new Set([0, 1, Math.min(next - 1, Math.max(0, next - out)), next - 1])) {
				const seen: string[] = [];
				const bad: string[] = [];
				const framer = new Framer({
					layout: () => {},
					frame: (_t, values) => seen.push(values.join()),
					badLine: (_t, kind) => bad.push(kind),
					strayLine: () => bad.push('stray'),
				});
				for (const [n, line] of lines.entries()) {
					if (n === half) {
						framer.push(n / 100, line.subarray(0, out));
						framer.resync();
					} else framer.push(n / 100, n === half + 1 ? line.subarray(back) : line);
				}
				framer.end(1);
				expect(
					seen.filter(row => !known.has(row)),
					`${out}, ${back}`,
				).toEqual([]);
				expect(bad).toEqual([]);
				// A line whose front is not known to be whole is not believed: the one pulled at, and at most one more.
				expect(seen.length, `${out}, ${back}`).toBeGreaterThanOrEqual(lines.length - 2);
			}
		}
	});

	test('gives none in a session that is told of it', () => {
		const rows = readings({channels: resting, seconds: 2, noise: 0.2});
		const lines = rows.map(row => encoder.encode(`${row.join(',')}\r\n`));
		const items: SourceItem[] = [
			...lines.slice(0, 100).map((bytes, n) => ({t: n / 100, bytes})),
			{t: 1, bytes: lines[100].subarray(0, 9)},
			{t: 1.01, event: 'port-lost'},
			{t: 3, event: 'reattached'},
			{t: 3.01, bytes: lines[101].subarray(2)},
			...lines.slice(102).map((bytes, n) => ({t: 3.02 + n / 100, bytes})),
		];
		const session = run(items);
		const {history} = session.features;
		expect(history.count).toBe(198);
		const seen = Array.from({length: history.count}, (_frame, n) =>
			names.map((_name, i) => history.reading(n, i)).join(),
		);
		expect(seen).toEqual([...rows.slice(0, 100), ...rows.slice(102)].map(row => row.join()));
		expect(session.link.badLines).toBe(0);
	});

	const replug = (gone: number, back: number): SourceItem[] => [
		{t: gone, event: 'port-lost'},
		{t: back, event: 'reattached'},
	];

	test('makes a new epoch: what was learned of the glove is forgotten, what was found is closed and stays', () => {
		const stuck = draw({channels: working(6, {ring: held(40)}), seconds: 14});
		const sound = later(draw({channels: working(6), seconds: 14}), 20);
		const session = run([...stuck, ...replug(14, 19), ...sound]);
		expect(session.findings.map(({code, channel, to}) => [code, channel, to === null])).toEqual([
			['stuck-mid', 'ring', false],
			['port-lost', null, false],
		]);
		expect(session.features.epochFrom).toBe(19);
		expect(session.snapshot().channels.find(({name}) => name === 'ring')?.state).toBe('proven');
		// Six closings and openings of this epoch, not twelve.
		expect(session.features.hands[0].count[0]).toBeLessThanOrEqual(12);
	});

	test('is no restart of the board, no stall and no silence', () => {
		const banner: SourceItem = {t: 0, bytes: encoder.encode('Fox of the theatre ready\r\n')};
		const counted = (from: number, seconds: number): SourceItem[] =>
			readings({channels: resting, seconds}).map((row, n) => ({
				t: from + n / 100,
				bytes: encoder.encode(`${n},${row.join(',')}\r\n`),
			}));
		const items = [banner, ...counted(0.5, 8), ...replug(8.6, 16), {...banner, t: 17}, ...counted(17.5, 8)];
		const session = run(items, {layout: `counter,${names.join(',')}`});
		expect(session.findings.map(({code}) => code)).toEqual(['port-lost']);
		expect(session.snapshot().link).toMatchObject({lost: 0, outages: 1});
	});

	test('lets another pace be learned: 50 frames a second after 200 is no slow, uneven or lossy stream', () => {
		const quick = draw({channels: resting, seconds: 10, rate: 200});
		const slower = later(draw({channels: resting, seconds: 20, rate: 50}), 15);
		const session = run([...quick, ...replug(10, 14), ...slower]);
		expect(session.findings.map(({code}) => code)).toEqual(['port-lost']);
		expect(session.link.nominal).toBeCloseTo(0.02, 6);
	});
});

describe('a board that starts again', () => {
	const boot = (t: number): SourceItem[] =>
		['ets Jun  8 2016 00:22:57', 'rst:0x1 (POWERON_RESET),boot:0x13'].map((text, n) => ({
			t: t + n / 100,
			bytes: encoder.encode(`${text}\r\n`),
		}));

	test('begins an epoch with the first frame after it; open findings on channels close then', () => {
		const stuck = draw({channels: working(6, {ring: held(40)}), seconds: 14});
		const session = run([...stuck, ...boot(14.5), ...later(draw({channels: resting, seconds: 4}), 15)]);
		const [ring, restart] = session.findings;
		expect([ring.code, ring.channel]).toEqual(['stuck-mid', 'ring']);
		expect(ring.to).toBeLessThanOrEqual(14.5);
		expect([restart.code, restart.from]).toEqual(['device-restart', 13.99]);
		expect(session.features.epochFrame).toBe(1400);
		expect(session.snapshot().channels.map(({state}) => state)).toEqual(Array(5).fill('waiting'));
	});

	test('noticed by its counter a frame late, loses neither of the two frames', () => {
		const rows = readings({channels: resting, seconds: 6});
		const items = rows.map(
			(row, n): SourceItem => ({
				t: n < 300 ? n / 100 : n / 100 + 1,
				bytes: encoder.encode(`${n < 300 ? 5000 + n : n - 300},${row.join(',')}\r\n`),
			}),
		);
		const session = run(items, {layout: `counter,${names.join(',')}`});
		expect(session.findings).toMatchObject([{code: 'device-restart', from: 2.99}]);
		expect(session.features.epochFrame).toBe(300);
	});

	test('noticed many seconds late, does not throw away what came since', () => {
		// A greeting of one line that says nothing of starting, among frames without times: it might be a name in a chat.
		const texts = (line: string): SourceItem[] => [{t: 0, bytes: encoder.encode(`${line}\r\n`)}];
		const first = later(draw({channels: working(3), seconds: 8}), 0);
		const second = later(draw({channels: working(6), seconds: 14}), 8);
		const session = run([...texts('Fox 7'), ...first, ...later(texts('Fox 7'), 7.995), ...second], {timing: 'assumed'});
		expect(session.findings.map(({code}) => code)).toEqual(['device-restart']);
		expect(session.features.epochFrame).toBe(800);
		// Noticed after 1200 frames more, with five closings of this epoch behind it.
		expect(session.features.hands[0].count[0]).toBe(12);
		expect(session.snapshot().channels.map(({state}) => state)).toEqual(Array(5).fill('proven'));
	});
});

describe('a stream that becomes another', () => {
	const labelled = (rows: readonly (readonly number[])[], from: number): SourceItem[] =>
		rows.map((row, n) => ({
			t: from + n / 100,
			bytes: encoder.encode(`${row.map((value, i) => `${names[i]}:${value}`).join(' ')}\n`),
		}));
	const stuck = draw({channels: working(6, {ring: held(40)}), seconds: 14});

	test('after long is an epoch: what was found before stays, closed', () => {
		const session = run([...stuck, ...labelled(readings({channels: resting, seconds: 6}), 14)]);
		const ring = session.findings.find(({channel}) => channel === 'ring');
		expect(ring).toMatchObject({code: 'stuck-mid'});
		expect(ring?.to).toBeLessThanOrEqual(14);
		expect(session.layoutNow?.labelled).toBe(true);
		expect(session.features.epochFrom).toBe(14);
	});

	test('a header that comes late names the channels anew: what was found under the guessed names goes', () => {
		const header: SourceItem = {t: 13.999, bytes: encoder.encode('little,ring,middle,index,thumb\n')};
		const session = run([...stuck, header, ...later(draw({channels: resting, seconds: 6}), 14)]);
		expect(session.layoutNow?.channels.map(({name}) => name)).toEqual(['little', 'ring', 'middle', 'index', 'thumb']);
		expect(session.findings.filter(({channel}) => channel === 'ring')).toEqual([]);
	});

	test('what was found by a scale that was guessed wrong goes with the scale', () => {
		const session = new Session({timing: 'measured'});
		// A 12-bit glove whose fingers lie low at first: by 10 bits the ring finger would be stuck at the top.
		const low = draw({channels: working(6, {ring: held(24.9)}), seconds: 14, fullScale: 4095}).map(item => item);
		for (const item of low) session.push(item);
		const high = later(
			draw({
				channels: working(3, {ring: fists({from: 1, times: 3, open: 30, closed: 90})}),
				seconds: 8,
				fullScale: 4095,
			}),
			14,
		);
		for (const item of high) session.push(item);
		session.end();
		expect(session.features.scale.fullScale).toBe(4095);
		expect(session.findings.filter(({code}) => code === 'stuck-high')).toEqual([]);
	});
});

/** Consistent overhead byte stuffing of fewer than 254 bytes, with its zero at the end. */
function cobs(bytes: readonly number[]): Uint8Array {
	const out = [0];
	let code = 0;
	for (const byte of bytes) {
		if (byte === 0) {
			out[code] = out.length - code;
			code = out.push(0) - 1;
		} else out.push(byte);
	}
	out[code] = out.length - code;
	return Uint8Array.from([...out, 0]);
}
