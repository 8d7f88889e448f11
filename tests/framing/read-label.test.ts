import {describe, expect, test} from 'vitest';
import {nameFromLabel, readHandLabel, readLabel} from '../../source/framing/read-label.ts';
import {handFrames, recordLines} from './record-framer.ts';

describe('labels', () => {
	// Common practice, no source: spellings that builders use.
	test.each([
		['thumb', 'Thumb thumb THUMB th thm thumbFinger thumb_pot fingers.thumb left.thumb thumbfinger'],
		['index', 'index idx Ind indexFinger finger_index pointer forefinger fingerindex'],
		['middle', 'middle mid MIDDLE middle_finger mdl'],
		['ring', 'ring rng Ring ringFinger fingersring'],
		['little', 'little pinky Pinkie pnk ltl pinkyFinger'],
		[
			'stick-x',
			'x X jx joyX joy_x stick_x stick.x stickX xAxis axis0 joystickX thumbStickX thumbstick_x VRx S.0 JoyStick-X',
		],
		['stick-y', 'y jy joyY stick_y axis1 joystick.y thumbstickY VRy js_y'],
		['counter', 'seq SEQ count cnt frame frame# packet counter frameCount'],
		['clock', 'ms millis us micros time timestamp ts time_ms t_ms uptime millis()'],
	])('%s', (name, spellings) => {
		for (const spelling of spellings.split(' ')) expect(readLabel(spelling)?.name, spelling).toBe(name);
	});

	test('buttons, with their numbers', () => {
		for (const label of 'b button btn joyClick joyclick SW joy_btn thumbButton click stickButton key pushButton taster bouton botón'.split(
			' ',
		))
			expect(readLabel(label)?.role, label).toBe('button');
		expect(['b1', 'btn2', 'button_3', 'B0', 'buttons.4', 'Button 5'].map(label => readLabel(label)?.ordinal)).toEqual([
			1, 2, 3, 0, 4, 5,
		]);
	});

	test('b is a button alone or with its number, and no word of another name', () => {
		expect(['b', 'B', 'b3', 'b_left', 'b x', 'left b'].map(label => readLabel(label)?.role)).toEqual([
			'button',
			'button',
			'button',
			undefined,
			undefined,
			undefined,
		]);
	});

	test('clock units', () => {
		expect(
			['ms', 'millis', 'us', 'micros', 't_us', 'time_s', 'sec', 'time'].map(
				label => readLabel(label)?.clockUnitSeconds,
			),
		).toEqual([0.001, 0.001, 1e-6, 1e-6, 1e-6, 1, 1, undefined]);
	});

	test('single letters are fingers only among their like', () => {
		const all = ['t', 'i', 'm', 'r', 'p'];
		expect(all.map(label => readLabel(label, all)?.name)).toEqual(['thumb', 'index', 'middle', 'ring', 'little']);
		expect(readLabel('t', ['t', 'x', 'y'])).toMatchObject({role: 'clock', weak: true});
		expect(readLabel('r', ['r', 'g', 'b'])).toBeUndefined();
	});

	test('x, y and z together are no stick', () => {
		expect(readLabel('x', ['x', 'y', 'z'])).toBeUndefined();
		expect(readLabel('ax', ['ax', 'ay', 'az'])?.role).toBe('spare');
	});

	test('labels that say nothing here say nothing', () => {
		for (const label of ['A0', 'ch1', 'adc3', 'Q', 'velo', '', '17']) expect(readLabel(label), label).toBeUndefined();
	});

	// What a button is for is no word for a button: such columns go by their two values.
	test('a use is no name of a button', () => {
		for (const label of 'trigger grab grip pinch fire menu home calib jump open laugh'.split(' '))
			expect(readLabel(label), label).toBeUndefined();
	});

	test('what else a board tells of is no finger', () => {
		for (const label of 'temp rssi gx ax qw yaw pitch acc.x gyro_z heap fps crc'.split(' '))
			expect(readLabel(label)?.role, label).toBe('spare');
		for (const label of 'battery vbat batt_mV Akku'.split(' ')) expect(readLabel(label)?.role, label).toBe('battery');
	});

	// General dictionaries, from memory.
	test.each([
		['thumb', 'Daumen pouce pulgar pollice polegar duim kciuk tumme tommel'],
		['index', 'Zeigefinger Zeige índice indice indicador wijsvinger pekfinger wskazujący'],
		['middle', 'Mittelfinger majeur corazón medio médio middelvinger środkowy'],
		['ring', 'Ringfinger annulaire anular anulare ringvinger serdeczny'],
		['little', 'kleiner_Finger auriculaire meñique mignolo mindinho mały lillfinger'],
	])('%s in other languages', (name, spellings) => {
		for (const spelling of spellings.split(' ')) expect(readLabel(spelling)?.name, spelling).toBe(name);
	});

	test('a hand is named beside its channel', () => {
		expect(['left.thumb', 'R_index', 'rightRing', 'L3', 'thumb_l', 'leftHand.2', 'thumb'].map(readHandLabel)).toEqual([
			{hand: 'left', rest: 'thumb'},
			{hand: 'right', rest: 'index'},
			{hand: 'right', rest: 'ring'},
			{hand: 'left', rest: '3'},
			undefined,
			{hand: 'left', rest: '2'},
			undefined,
		]);
	});

	test('a name made of a label holds nothing that a terminal obeys', () => {
		expect(nameFromLabel('Temp\u001b[2J (C)')).toBe('temp-2j-c');
		expect(nameFromLabel('\u202eabc')).toBe('abc');
		expect(nameFromLabel('***')).toBe('spare');
		expect(nameFromLabel('a'.repeat(100))).toHaveLength(24);
	});
});

describe('labelled lines', () => {
	const hand = handFrames(40);
	const lineOf = (i: number, extra: readonly string[]): string =>
		[...hand[i].map((value, c) => `${'TIMRP'[c]}:${value}`), ...extra].join(' ');

	test('mix fingers, stick, buttons, clock, counter and others', () => {
		const {recorder} = recordLines(
			hand.map((_, i) =>
				lineOf(i, [
					`joyX:${512 + (i % 2)}`,
					'joyY:500',
					`b1:${i % 10 < 5 ? 1 : 0}`,
					'trigger:0',
					`n:${i}`,
					`ms:${10 * i}`,
					'temp:21.5',
				]),
			),
		);
		expect(recorder.names).toEqual([
			'thumb',
			'index',
			'middle',
			'ring',
			'little',
			'stick-x',
			'stick-y',
			'button-1',
			'trigger',
			'counter',
			'clock',
			'temp',
		]);
		expect(recorder.layouts[0].channels.map(channel => channel.role)).toEqual([
			...new Array(5).fill('finger'),
			'stick',
			'stick',
			'button',
			'button',
			'counter',
			'clock',
			'spare',
		]);
		expect(recorder.layouts[0].channels[10].clockUnitSeconds).toBe(0.001);
	});

	test('t is the time where it rises like one beside the letters of five fingers', () => {
		const {recorder} = recordLines(
			hand.map((_, i) => `t:${1000 + 10 * i} T:${512 + (i % 2)} I:498 M:${600 - (i % 3)} R:712 P:433`),
		);
		expect(recorder.names).toEqual(['clock', 'thumb', 'index', 'middle', 'ring', 'little']);
	});

	test('n that does not count is no counter', () => {
		const {recorder} = recordLines(hand.map((_, i) => lineOf(i, ['n:5'])));
		expect(recorder.names[5]).toBe('n');
		expect(recorder.layouts[0].channels[5].role).toBe('spare');
	});

	test('index that counts beside no other finger is the counter', () => {
		const {recorder} = recordLines(hand.map(([x, y], i) => `index:${i} x:${x} y:${y}`));
		expect(recorder.names).toEqual(['counter', 'stick-x', 'stick-y']);
	});

	test('a trigger that turns out analog is no button', () => {
		const {recorder} = recordLines(hand.map((frame, i) => lineOf(i, [`trigger:${frame[0]}`])));
		expect(recorder.layouts[0].channels[5]).toMatchObject({name: 'trigger', role: 'spare'});
	});

	test('numbered buttons from 0 are counted from 1', () => {
		const {recorder} = recordLines(hand.map((_, i) => lineOf(i, ['b0:1', 'b1:0', 'b2:1'])));
		expect(recorder.names.slice(5)).toEqual(['button-1', 'button-2', 'button-3']);
	});
});
