import {describe, expect, test} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';
import {handFrames, Recorder, record, recordLines, toBytes} from './record-framer.ts';

const hand = handFrames(60);
const lines = hand.map(frame => frame.join());
const labelled = hand.map(([thumb, index, middle]) => `thumb:${thumb} index:${index} middle:${middle}`);

/** Kinds told for lines put one by one between good frames. */
function kindsOf(odd: readonly string[], good = lines): [string, string][] {
	return odd.map(line => {
		const {recorder} = recordLines([...good.slice(0, 20), line, good[20]]);
		expect(recorder.frames.length, line).toBe(21);
		expect(recorder.layouts, line).toHaveLength(1);
		return [line, recorder.kinds().join() || 'nothing'];
	});
}

const bootText = [
	// Check-values S14, S17, S18 and E8: start-up text of usual boards.
	'ets Jun  8 2016 00:22:57',
	'ets Jul 29 2019 12:21:46',
	'rst:0x1 (POWERON_RESET),boot:0x13 (SPI_FAST_FLASH_BOOT)',
	'configsip: 0, SPIWP:0xee',
	'clk_drv:0x00,q_drv:0x00,d_drv:0x00,cs0_drv:0x00,hd_drv:0x00,wp_drv:0x00',
	'mode:DIO, clock div:2',
	'load:0x3fff0030,len:1184',
	'load:0x3fff0030,len:1184,load:0x40078000',
	'ho 0 tail 12 room 4',
	'entry 0x400805d8',
	'Brownout detector was triggered',
	'flash read err, 1000',
	'ets_main.c 371',
	"Guru Meditation Error: Core  0 panic'ed (LoadProhibited). Exception was unhandled.",
	'\u001b[0;32mI (32) boot: ESP-IDF v4.4 2nd stage bootloader\u001b[0m',
];

describe('lines that are no frames', () => {
	test.each(bootText)('start-up text is stray, its digits are no readings: %s', line => {
		expect(kindsOf([line])).toEqual([[line, 'stray']]);
		expect(kindsOf([line], labelled)).toEqual([[line, 'stray']]);
	});

	test('prints of a program are stray', () => {
		const prints = [
			'started',
			'Puppet glove v2.1',
			'calibrating thumb 12',
			'battery 3.71 V',
			'-----',
			'== 5 ==',
			'OK',
			'low',
			'# 17',
			'ü: 5',
		];
		expect(kindsOf(prints)).toEqual(prints.map(line => [line, 'stray']));
	});

	test('empty lines are nothing', () => {
		expect(kindsOf(['', '   ', '\t'])).toEqual([
			['', 'nothing'],
			['   ', 'nothing'],
			['\t', 'nothing'],
		]);
	});

	test('pieces of frames are short', () => {
		const pieces = ['512', '512,4', '512,498,600,712', ',712,433', '512,498,600,712,', '498,', ','];
		expect(kindsOf(pieces)).toEqual(pieces.map(line => [line, 'short']));
	});

	test('two frames on one line are merged, whole or cut', () => {
		const pairs = [
			'512,498,600,712,433512,498,600,712,433',
			'512,498,600,7512,498,600,712,433',
			'512,498,600,712,433,512,498,600,712,433',
			'512,498,600,712,433,498',
		];
		expect(kindsOf(pairs)).toEqual(pairs.map(line => [line, 'merged']));
	});

	test('frames with a byte gone wrong are garbled', () => {
		const wrong = [
			'512,4x8,600,712,433',
			'512;498,600,712,433',
			'512,498,600,712,4\u000133',
			'512,498,6\u007f0,712,433',
		];
		expect(kindsOf(wrong)).toEqual(wrong.map(line => [line, 'garbled']));
	});

	test('damaged lines with labels are no stray lines, and other labels are', () => {
		expect(
			kindsOf(
				[
					'umb:512 index:498 middle:600',
					'thumb:512 index:4',
					'middle:600',
					'dle:600',
					'thumb:512 indthumb:512 index:498 middle:600',
					'temperature:21',
					'x:1 y:2 z:3',
				],
				labelled,
			).map(([, kind]) => kind),
		).toEqual(['garbled', 'short', 'short', 'short', 'merged', 'stray', 'stray']);
	});

	test('an excerpt has at most 120 bytes, raw, with its place in the stream', () => {
		const long = `boot ${'x'.repeat(300)}`;
		const {recorder} = recordLines([...lines.slice(0, 20), long, 'ding \u0007!']);
		expect(recorder.odd[0].text).toBe(long.slice(0, 120));
		expect(recorder.odd[0].offset).toBe(lines.slice(0, 20).join('\r\n').length + 2);
		expect(recorder.odd[1].text).toBe('ding \u0007!');
	});

	test('a line with a digit missing is a frame, and its length shows it', () => {
		const {recorder} = recordLines([...lines.slice(0, 20), '52,498,600,712,433']);
		expect(recorder.frames[20]).toMatchObject({values: [52, 498, 600, 712, 433], lineBytes: 20});
	});
});

describe('a restart in the middle', () => {
	test('start-up text between frames gives stray lines only', () => {
		const {recorder} = recordLines([...lines.slice(0, 30), ...bootText, ...lines.slice(30)]);
		expect(recorder.kinds()).toEqual(bootText.map(() => 'stray'));
		expect(recorder.values).toEqual(hand);
		expect(recorder.layouts).toHaveLength(1);
	});

	test('start-up text in front of the first frame is no frame either', () => {
		const {recorder} = recordLines([...bootText, ...lines]);
		expect(recorder.values).toEqual(hand);
		expect(recorder.layouts).toHaveLength(1);
		expect(recorder.kinds()).toEqual(bootText.map(() => 'stray'));
	});
});

describe('a new format', () => {
	const more = hand.map((frame, i) => [...frame, 510 + (i % 2), 500, 1].join());

	test('is taken on after eight lines, none of which is lost', () => {
		const {recorder} = recordLines([...lines, ...more]);
		expect(recorder.layouts.map(layout => layout.channels.length)).toEqual([5, 8]);
		expect(recorder.frames).toHaveLength(120);
		expect(recorder.odd).toEqual([]);
		const recorded = new Recorder();
		const framer = new Framer(recorded);
		for (const line of lines) framer.push(0, toBytes(`${line}\n`));
		for (const line of more.slice(0, 7)) framer.push(0, toBytes(`${line}\n`));
		expect(recorded.layouts).toHaveLength(1);
		framer.push(0, toBytes(`${more[7]}\n`));
		expect(recorded.layouts).toHaveLength(2);
		expect(recorded.frames).toHaveLength(68);
	});

	test('may be labelled, JSON, or another separator', () => {
		const formats = [
			labelled,
			hand.map(([thumb, index]) => JSON.stringify({thumb, index})),
			lines.map(line => line.replaceAll(',', '\t')),
		];
		for (const format of formats) {
			const {recorder} = recordLines([...lines, ...format]);
			expect(recorder.frames).toHaveLength(120);
			expect(recorder.layouts).toHaveLength(2);
			expect(recorder.odd).toEqual([]);
		}
	});

	test('may have numbers of any length, be they of one length in some line, as hexadecimal ones are', () => {
		const format = hand.map((_, i) => (i % 8 === 7 ? '51;60;70' : `${7 * i};${1000 - i};${i % 4}`));
		const {recorder} = recordLines([...lines, ...format]);
		expect(recorder.layouts.map(({separator}) => separator)).toEqual([',', ';']);
		expect(recorder.values.slice(60)).toEqual(format.map(line => line.split(';').map(Number)));
	});

	test('is not seen in a few odd lines, however alike', () => {
		const mixed = lines.flatMap((line, i) => (i >= 20 && i < 27 ? [line, '1,2,3'] : [line]));
		const {recorder} = recordLines([...mixed.slice(0, 40), ...new Array(7).fill('1,2,3'), ...lines]);
		expect(recorder.layouts).toHaveLength(1);
		expect(recorder.values.every(values => values.length === 5)).toBe(true);
	});

	test('does not come and go: returning to an old one takes longer each time', () => {
		const blocks = Array.from({length: 40}, (_, i) => (i % 2 === 0 ? lines.slice(0, 10) : more.slice(0, 10))).flat();
		const {recorder} = recordLines(blocks);
		// Ten lines settle each format once; a return asks for sixteen.
		expect(recorder.layouts).toHaveLength(2);
	});

	test('is not seen in progress that is printed line by line', () => {
		const progress = Array.from({length: 30}, (_, i) => `Calibrating ${i} of 30`);
		const {recorder} = recordLines([...lines, ...progress, ...lines]);
		expect(recorder.layouts).toHaveLength(1);
		expect(recorder.kinds()).toEqual(progress.map(() => 'stray'));
	});
});

describe('two boards on one line', () => {
	const other = hand.map((_, i) => `${i % 7},${i % 5},1`);

	test('alternating from the start, the one with more columns is kept and the other is stray', () => {
		const {recorder} = recordLines(lines.flatMap((line, i) => [line, other[i]]));
		expect(recorder.values).toEqual(hand);
		expect(recorder.kinds()).toEqual(other.map(() => 'stray'));
		expect(recorder.layouts).toHaveLength(1);
	});

	test('of which one sends twice as many lines, that one is kept', () => {
		const {recorder} = recordLines(lines.flatMap((line, i) => (i % 2 === 0 ? [line, other[i]] : [line])));
		expect(recorder.values).toEqual(hand);
		expect(new Set(recorder.kinds())).toEqual(new Set(['stray']));
	});

	test('of which one sends twice as many lines of fewer columns, that one is kept', () => {
		const {recorder} = recordLines(lines.flatMap((line, i) => (i % 2 === 0 ? [other[i], line] : [other[i]])));
		expect(recorder.values).toEqual(other.map(line => line.split(',').map(Number)));
		expect(new Set(recorder.kinds())).toEqual(new Set(['stray']));
	});

	test('of which one joins later, its first lines at most count as damage', () => {
		const semicolons = other.map(line => line.replaceAll(',', ';'));
		for (const [second, most] of [
			// The shape of a cut frame needs twelve lines of thirty-two to be told from damage, another shape eight.
			[other, 12],
			[semicolons, 8],
		] as const) {
			const {recorder} = recordLines([...lines, ...lines.flatMap((line, i) => [line, second[i]])]);
			expect(recorder.frames).toHaveLength(120);
			expect(recorder.kinds().filter(kind => kind !== 'stray').length).toBeLessThan(most);
			expect(recorder.layouts).toHaveLength(1);
		}
	});
});

describe('counting', () => {
	test('counts lines and packets once each, empty lines not', () => {
		const {framer} = recordLines([...lines, '', 'started', '1,2', '']);
		expect(framer.lineCount).toBe(62);
	});

	test('a frame in which one in twelve lines is cut or merged gives no stray line and no new layout', () => {
		const damaged: string[] = [];
		for (let i = 0; i < 600; i++) {
			const line = lines[i % 60];
			const cut = 1 + ((i * 7) % (line.length - 1));
			if (i % 24 === 7) damaged.push(line.slice(0, cut), line.slice(cut));
			else if (i % 24 === 19) damaged.push(line + lines[(i + 1) % 60]);
			else damaged.push(line);
		}

		const {recorder} = record(`${damaged.join('\n')}\n`);
		expect(recorder.layouts).toHaveLength(1);
		expect(recorder.kinds()).not.toContain('stray');
		expect(recorder.frames.length).toBeGreaterThanOrEqual(550);
		expect(recorder.frames.length).toBeLessThanOrEqual(575);
	});
});
