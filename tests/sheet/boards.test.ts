import {describe, expect, it} from 'vitest';
import {assignPins} from '../../source/sheet/assign-pins.ts';
import {findPin} from '../../source/sheet/board.ts';
import {boards, findBoard} from '../../source/sheet/boards/all.ts';

const pinsWhere = (family: string, wanted: (pin: (typeof boards)[0]['pins'][0]) => unknown) =>
	findBoard(family)!
		.pins.filter(wanted)
		.map(pin => pin.name);

describe('boards', () => {
	it.each(boards.map(board => [board.family, board] as const))(
		'%s names its sources and has each pin once',
		(_, board) => {
			expect(board.sources.length).toBeGreaterThan(1);
			const names = board.pins.flatMap(pin => [pin.name, ...pin.aliases]);
			expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([]);
			expect(names.every(name => name === name.toUpperCase())).toBe(true);
			for (const pin of board.pins) if (pin.pullUp) expect(pin.digital, pin.name).toBe(true);
		},
	);

	// Source: ATmega328P data sheet, pin descriptions; the board's silk screen (common practice).
	it('knows that A6 and A7 of an ATmega328P are analog only', () => {
		expect(pinsWhere('atmega328p', pin => pin.analog)).toEqual(['A0', 'A1', 'A2', 'A3', 'A4', 'A5', 'A6', 'A7']);
		expect(pinsWhere('atmega328p', pin => !pin.digital)).toEqual(['A6', 'A7']);
	});

	// Source: ESP-IDF programming guide v4.4, ADC and GPIO pages.
	it('has the converters, input-only, strapping and flash pins of the ESP32', () => {
		expect(pinsWhere('esp32', pin => pin.analog?.converter === 1)).toEqual(
			[32, 33, 34, 35, 36, 37, 38, 39].map(n => `GPIO${n}`),
		);
		expect(pinsWhere('esp32', pin => pin.analog?.converter === 2)).toEqual(
			[0, 2, 4, 12, 13, 14, 15, 25, 26, 27].map(n => `GPIO${n}`),
		);
		expect(pinsWhere('esp32', pin => pin.inputOnly && !pin.pullUp)).toEqual(
			[34, 35, 36, 37, 38, 39].map(n => `GPIO${n}`),
		);
		expect(pinsWhere('esp32', pin => pin.strapping)).toEqual([0, 2, 5, 12, 15].map(n => `GPIO${n}`));
		expect(pinsWhere('esp32', pin => pin.reserved?.firmly)).toEqual([1, 3, 6, 7, 8, 9, 10, 11].map(n => `GPIO${n}`));
	});

	// Source: ESP-IDF programming guide, GPIO pages for ESP32-S3 and ESP32-C3.
	it('has the tables of the ESP32-S3 and ESP32-C3', () => {
		expect(pinsWhere('esp32-s3', pin => pin.analog?.converter === 1)).toEqual(
			[1, 2, 3, 4, 5, 6, 7, 8, 9, 10].map(n => `GPIO${n}`),
		);
		expect(pinsWhere('esp32-s3', pin => pin.strapping)).toEqual(['GPIO0', 'GPIO3', 'GPIO45', 'GPIO46']);
		expect(findPin(findBoard('esp32-s3')!, '20')?.pin.analog).toEqual({converter: 2, channel: 9});
		expect(pinsWhere('esp32-c3', pin => pin.analog?.converter === 1)).toEqual([
			'GPIO0',
			'GPIO1',
			'GPIO2',
			'GPIO3',
			'GPIO4',
		]);
		expect(pinsWhere('esp32-c3', pin => pin.analog?.converter === 2)).toEqual(['GPIO5']);
		expect(pinsWhere('esp32-c3', pin => pin.strapping)).toEqual(['GPIO2', 'GPIO8', 'GPIO9']);
	});

	it.each([
		['esp32', '32', 'GPIO32', null],
		['esp32', 'io32', 'GPIO32', null],
		['esp32', 'gpio 32', 'GPIO32', null],
		['esp32', 'GPIO32/7', 'GPIO32', 7],
		['atmega328p', '14', 'A0', null],
		['atmega328p', 'pb5', 'D13', null],
		['rp2040', 'GP26', 'GPIO26', null],
		['nrf52840', 'AIN0', 'P0.02', null],
		['nrf52840', 'P1.2', 'P1.02', null],
	])('on %s takes %s for %s', (family, text, name, muxInput) => {
		const use = findPin(findBoard(family)!, text);
		expect([use?.pin.name, use?.muxInput]).toEqual([name, muxInput]);
	});

	it.each(['GPIO24', 'A9', '', '/3', 'GPIO32/', 'GPIO32/123', '__proto__'])('finds no pin %j on an ESP32', text => {
		expect(findPin(findBoard('esp32')!, text)).toBeUndefined();
	});
});

describe('assignPins', () => {
	const frame = ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y', 'button-1', 'button-2', 'counter'];

	it.each(boards.map(board => [board.family, board] as const))('finds a pin for everything on %s', (_, board) => {
		const channels = assignPins(
			board,
			frame.map(name => ({name})),
			true,
		);
		expect(channels.map(channel => channel.name)).toEqual(frame);
		const used = channels.slice(0, 9).map(channel => channel.pin);
		expect(used).not.toContain(undefined);
		expect(new Set(used).size).toBe(9);
		expect(channels[9].pin).toBeUndefined();
		for (const pin of used.slice(0, 7)) expect(findPin(board, pin!)?.pin.analog).toBeDefined();
		for (const pin of used.slice(7)) expect(findPin(board, pin!)?.pin.pullUp).toBe(true);
	});

	it('goes through a multiplexer where the board has too few inputs', () => {
		const [thumb] = assignPins(
			findBoard('rp2040')!,
			frame.map(name => ({name})),
			true,
		);
		expect(thumb.pin).toBe('GPIO26/0');
	});

	it('leaves a channel without a pin where nothing is left', () => {
		const many = Array.from({length: 40}, (_, index) => ({name: `button-${index + 1}`}));
		expect(assignPins(findBoard('atmega328p')!, many, false).filter(channel => channel.pin).length).toBeLessThan(40);
	});
});
