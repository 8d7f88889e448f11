import {expect, test} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';
import {bytesOf, Collected, frameBytes, frameLines, handRows} from './collect.ts';

const rows = handRows(60);
const csv = rows.map(row => row.join(','));
const labelled = rows.map(row => row.map((value, i) => `${'TIMRP'[i]}:${value}`).join(' '));

/**
 * Start-up text of ESP32 boards (public serial logs, the makers' reset-reason example and ROM header), of ESP8266
 * boards, and of sketches of our own.
 */
const boot = [
	'ets Jun  8 2016 00:22:57',
	'rst:0x1 (POWERON_RESET),boot:0x13 (SPI_FAST_FLASH_BOOT)',
	'rst:0xc (SW_CPU_RESET),boot:0x13 (SPI_FAST_FLASH_BOOT)',
	'configsip: 0, SPIWP:0xee',
	'clk_drv:0x00,q_drv:0x00,d_drv:0x00,cs0_drv:0x00,hd_drv:0x00,wp_drv:0x00',
	'mode:DIO, clock div:2',
	'load:0x3fff0018,len:4',
	'load:0x3fff001c,len:1044',
	'load:0x40078000,len:8896',
	'load:0x40080400,len:5828',
	'ho 0 tail 12 room 4',
	'entry 0x400806ac',
	'\u001b[0;32mI (32) boot: ESP-IDF v4.4.2 2nd stage bootloader\u001b[0m',
	'\u001b[0;32mI (58) boot: ## Label Usage Type ST Offset Length\u001b[0m',
	'I (62) boot:  0 nvs              WiFi data        01 02 00009000 00006000',
	'I (66) esp_image: segment 0: paddr=00010020 vaddr=3f400020 size=0a3e4h ( 41956) map',
	'Brownout detector was triggered',
	'flash read err, 1000',
	'ets_main.c 371 ',
	"Guru Meditation Error: Core  0 panic'ed (LoadProhibited). Exception was unhandled.",
	'PC      : 0x400d1a3c  PS      : 0x00060030  A0      : 0x800d2b10  A1      : 0x3ffb1f70  ',
	'Backtrace:0x400d1a3c:0x3ffb1f70 0x400d2b0d:0x3ffb1f90',
	'ets Jan  8 2013,rst cause:2, boot mode:(3,6)',
	'load 0x4010f000, len 3460, room 16 ',
	'marionette glove ready, 5 reels, 115200 baud',
	'Puppet glove v0.4',
	'calibrating 1 2 3',
];

test.each([
	['commas', csv],
	['labels', labelled],
] as const)(
	'boot text before, between and after lines of %s is told as such, and never as readings',
	(_name, lines) => {
		const {frames, stray, bad, layouts} = frameLines([
			...boot,
			...lines.slice(0, 30),
			...boot,
			...lines.slice(30),
			...boot,
		]);
		expect(frames).toEqual(rows);
		expect(layouts).toHaveLength(1);
		expect(bad).toEqual([]);
		// The very first line may have been joined in its middle, so that it says nothing.
		expect(stray).toEqual([...boot, ...boot, ...boot].slice(1));
	},
);

test('a board that only restarts, over and over, gives no frames', () => {
	const {frames, layouts, stray} = frameLines(Array.from({length: 30}, () => boot).flat());
	expect(frames).toEqual([]);
	expect(layouts).toEqual([]);
	expect(stray.length).toBeGreaterThan(29 * boot.length);
});

test('debug prints between the lines are stray, with their place and their words', () => {
	const lines = csv.flatMap((line, i) => (i % 10 === 9 ? [line, `loop took ${i} us`, 'ok'] : [line]));
	const {frames, stray, bad} = frameLines(lines);
	expect(frames).toEqual(rows);
	expect(bad).toEqual([]);
	expect(stray).toHaveLength(12);
	expect(stray[0]).toBe('loop took 9 us');
});

test('damaged lines are told as what happened to them, with their place in the bytes', () => {
	const lines = [...csv];
	lines[40] = '512,498,455';
	lines[43] = `${lines[43]}${lines[44]}`;
	lines[46] = '512,4\u000198,455,400,401';
	lines[49] = '512,498455,400,401';
	const {frames, bad, stray} = frameLines(lines);
	expect(frames).toHaveLength(56);
	expect(stray).toEqual([]);
	expect(bad.map(line => line.kind)).toEqual(['short', 'merged', 'garbled', 'short']);
	const text = `${lines.join('\r\n')}\r\n`;
	expect(bad.map(line => line.offset)).toEqual(
		[40, 43, 46, 49].map(i => text.split('\r\n').slice(0, i).join('\r\n').length + 2),
	);
});

test('unlabelled lines settle within twenty lines, or within eight that take a second', () => {
	expect(frameLines(csv.slice(0, 20)).order.startsWith('L')).toBe(true);
	const collected = new Collected();
	const framer = new Framer(collected);
	for (let i = 0; i < 19; i++) framer.push(i / 100, bytesOf(`${csv[i]}\n`));
	expect(collected.order).toBe('');
	framer.push(0.2, bytesOf(`${csv[19]}\n`));
	expect(collected.order).toBe(`L${'f'.repeat(20)}`);
	const slow = new Collected();
	const slowFramer = new Framer(slow);
	for (let i = 0; i < 11; i++) slowFramer.push(i / 10, bytesOf(`${csv[i]}\n`));
	expect(slow.order).toBe(`L${'f'.repeat(11)}`);
});

test('the firmware changes the number of its columns: eight such lines are a new layout', () => {
	const seven = handRows(30, 7);
	const {layouts, frames, bad} = frameLines([...csv, ...seven.map(row => row.join(','))]);
	expect(layouts.map(layout => layout.channels.length)).toEqual([5, 7]);
	expect(frames).toEqual([...rows, ...seven]);
	expect(bad).toEqual([]);
});

test('the firmware changes its format, to and fro', () => {
	const hex = rows.map(row => row.map(value => value.toString(16).padStart(4, '0')).join(' '));
	const decimals = rows.map(row => row.map(value => (value / 10).toFixed(1).replace('.', ',')).join(';'));
	const json = rows.map(row => JSON.stringify({fingers: row}));
	const formats = [csv, labelled, hex, decimals, json, csv, json, labelled];
	const {layouts, frames, bad, stray} = frameLines(formats.flat());
	expect(frames).toEqual(
		formats.flatMap(format => (format === decimals ? rows.map(row => row.map(value => value / 10)) : rows)),
	);
	expect(layouts).toHaveLength(formats.length);
	expect([bad, stray]).toEqual([[], []]);
});

test('two boards on one line: the one that speaks more is read, the other told as stray, none mixed', () => {
	const other = handRows(60, 3, 4095);
	const pairs: [readonly string[], readonly string[]][] = [
		[csv, other.map(row => row.join(','))],
		[labelled, other.map(row => `bend:${row[0]} twist:${row[1]}`)],
		[csv.map(line => `L,${line}`), csv.map(line => `R,${line}`)],
		[labelled.map(line => `L ${line}`), labelled.map(line => `R ${line}`)],
	];
	for (const [first, second] of pairs) {
		// Two lines of the first to one of the second.
		const lines = first.flatMap((line, i) => (i % 2 === 1 ? [line, second[i]] : [line]));
		const {frames, stray, bad, layouts} = frameLines(lines);
		expect(frames).toEqual(rows);
		expect(stray).toEqual(second.filter((_, i) => i % 2 === 1));
		expect(bad).toEqual([]);
		expect(layouts).toHaveLength(1);
	}
});

test('a second board that joins later is told as stray from its tenth line on', () => {
	const many = handRows(200);
	const lines = many.flatMap((row, i) =>
		i >= 50 && i % 2 === 1 ? [row.join(','), `${i % 7},${i % 11},3`] : [row.join(',')],
	);
	const {frames, stray, bad} = frameLines(lines);
	expect(frames).toEqual(many);
	expect(stray.length + bad.length).toBe(75);
	expect(bad.length).toBeLessThan(50);
	expect(stray.length).toBeGreaterThan(25);
});

test('a line without an end is bounded and told once, and the next line is read', () => {
	const before = `${csv.slice(0, 30).join('\n')}\n`;
	const endless = '7'.repeat(200_000);
	const after = `${csv.slice(30).join('\n')}\n`;
	for (const size of [1, 1000, 300_000]) {
		const collected = new Collected();
		const framer = new Framer(collected);
		const bytes = bytesOf(`${before}${endless}\n${after}`);
		let most = 0;
		for (let at = 0; at < bytes.length; at += size) {
			framer.push(at / 1e6, bytes.subarray(at, at + size));
			most = Math.max(most, framer.pendingBytes);
		}
		framer.end(1);
		expect(most).toBeLessThanOrEqual(65_536);
		expect(collected.bad).toEqual([{kind: 'overlong', text: '7'.repeat(120), offset: before.length}]);
		expect(collected.frames).toEqual(rows);
	}
});

test('the bound of a line can be set', () => {
	const {bad, frames} = frameBytes(bytesOf(`${csv.join('\n')}\n${'9'.repeat(300)}\n${csv.join('\n')}\n`), {
		maxLineBytes: 200,
	});
	expect(bad.map(line => line.kind)).toEqual(['overlong']);
	expect(frames).toHaveLength(120);
});

test('a last line without its end counts if it is whole', () => {
	const text = csv.join('\n');
	expect(frameBytes(bytesOf(text)).frames).toEqual(rows);
	const cut = frameBytes(bytesOf(text.slice(0, text.lastIndexOf(',') - 3)));
	expect(cut.frames).toEqual(rows.slice(0, -1));
	expect(cut.bad).toEqual([]);
});

test('three lines are enough where there are no more', () => {
	expect(frameLines(csv.slice(0, 3)).frames).toEqual(rows.slice(0, 3));
	expect(frameLines(csv.slice(0, 2)).frames).toEqual([]);
});
