import {describe, expect, test} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {Framer} from '../../source/framing/framer.ts';
import {parseLayoutOption} from '../../source/framing/parse-layout-option.ts';
import {handFrames, Recorder, record, recordLines} from './record-framer.ts';

const hand = handFrames(30);
const lines = hand.map(frame => frame.join());

describe('the option', () => {
	test('names channels in order, with roles', () => {
		const {framing, channels} = parseLayoutOption('counter, thumb,index,-,stick-x,stick-y,button-2,clock-us,thumb,-');
		expect(framing).toBeNull();
		expect(channels.map(channel => `${channel.name} ${channel.role}`)).toEqual([
			'counter counter',
			'thumb finger',
			'index finger',
			'spare-1 spare',
			'stick-x stick',
			'stick-y stick',
			'button-2 button',
			'clock clock',
			'thumb-2 finger',
			'spare-2 spare',
		]);
		expect(channels[7].clockUnitSeconds).toBe(1e-6);
		expect(channels.map(channel => channel.index)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
	});

	test('understands the usual abbreviations, and numbers buttons that have none', () => {
		expect(
			parseLayoutOption('th,idx,mid,rng,pinky,joyX,joyY,btn,btn,ms').channels.map(channel => channel.name),
		).toEqual(['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y', 'button-1', 'button-2', 'clock']);
	});

	test('keeps a number as it is written, and capital letters for small ones', () => {
		expect(parseLayoutOption('thumb-02,button-02,BUTTON-3,Clock-MS').channels.map(channel => channel.name)).toEqual([
			'thumb-02',
			'button-02',
			'button-3',
			'clock',
		]);
	});

	test('takes a framing in front, alone too', () => {
		expect(parseLayoutOption('slip:thumb,index')).toMatchObject({
			framing: 'slip',
			channels: [{name: 'thumb'}, {name: 'index'}],
		});
		expect(parseLayoutOption('COBS:')).toMatchObject({framing: 'cobs', channels: []});
	});

	test.each([
		['', '--layout must not be ""'],
		['thumb,,ring', '--layout must not be "thumb,,ring"'],
		['thumb,thmub', '--layout does not know "thmub"'],
		['f1,f2', '--layout does not know "f1"'],
		['thumb,temp', '--layout does not know "temp"'],
		['usb:thumb', '--layout must not begin with "usb:"'],
	])('refuses "%s" with one clear line', (text, message) => {
		expect(() => new Framer(new Recorder(), {layout: text})).toThrow(CannotError);
		try {
			parseLayoutOption(text);
		} catch (error) {
			expect((error as Error).message).toContain(message);
			expect((error as Error).message).not.toContain('\n');
		}
	});
});

describe('a layout that is given', () => {
	test('overrides names and roles, and settles after three lines', () => {
		const layout = 'little,ring,middle,index,thumb';
		const {recorder} = recordLines(lines.slice(0, 3), 0.01, {layout});
		expect(recorder.names).toEqual(layout.split(','));
		expect(recorder.frames).toHaveLength(3);
	});

	test('overrides labels too', () => {
		const {recorder} = recordLines(
			hand.map(([a, b]) => `thumb:${a} index:${b}`),
			0.01,
			{layout: 'ring,little'},
		);
		expect(recorder.names).toEqual(['ring', 'little']);
	});

	test('makes every line bad where the number of columns differs', () => {
		const seven = 'thumb,index,middle,ring,little,stick-x,stick-y';
		const {recorder} = recordLines(lines, 0.01, {layout: seven});
		expect(recorder.names).toEqual(seven.split(','));
		expect(recorder.frames).toEqual([]);
		// The first line of a stream is excused.
		expect(recorder.kinds()).toEqual(new Array(29).fill('short'));
		expect(recordLines(lines, 0.01, {layout: 'thumb,index,middle'}).recorder.kinds()).toEqual(
			new Array(29).fill('merged'),
		);
	});

	test('takes frames as soon as lines with its number of columns come', () => {
		const three = hand.map(([a, b, c]) => `${a};${b};${c}`);
		const {recorder} = recordLines([...lines, ...three], 0.01, {layout: 'thumb,index,middle'});
		expect(recorder.frames).toHaveLength(30);
	});

	test('never settles on another number of columns', () => {
		const three = hand.map(([a, b, c]) => `${a},${b},${c}`);
		const {recorder} = recordLines([...lines, ...three], 0.01, {layout: 'thumb,index,middle,ring,little'});
		expect(recorder.layouts).toHaveLength(1);
		expect(recorder.frames).toHaveLength(30);
		expect(new Set(recorder.kinds())).toEqual(new Set(['short']));
	});

	test('finds out the unit of a clock without one', () => {
		const {recorder} = recordLines(
			hand.map((frame, i) => [10_000 * i, ...frame].join()),
			0.01,
			{layout: 'clock,thumb,index,middle,ring,little'},
		);
		expect(recorder.layouts[0].channels[0].clockUnitSeconds).toBe(1e-6);
	});

	test('text: keeps packets from being looked for', () => {
		const packets = Buffer.from(new Array(40).fill([1, 2, 3, 1, 0xc0]).flat());
		expect(
			record(packets).recorder.layouts.length + record(packets, {layout: 'text:'}).recorder.layouts.length,
		).toBeLessThanOrEqual(1);
		expect(record(packets, {layout: 'text:'}).recorder.layouts).toEqual([]);
	});
});
