import type {Board} from '../board.ts';
import {gpioPins, type PinTraits, range} from './gpio-pins.ts';

const traits: Record<number, PinTraits> = {
	5: {analog: {converter: 2, channel: 0}},
	8: {strapping: 'must be high to load firmware, and decides about boot text'},
	9: {strapping: 'low at reset starts the loader instead of the firmware'},
	11: {reserved: {by: 'the supply of the flash on many modules', firmly: false}},
	18: {reserved: {by: 'the USB port of the chip', firmly: true}},
	19: {reserved: {by: 'the USB port of the chip', firmly: true}},
	20: {reserved: {by: 'the serial line (RX) of the first UART', firmly: false}},
	21: {reserved: {by: 'the serial line (TX) of the first UART', firmly: false}},
};
for (const number of range(0, 4)) traits[number] = {analog: {converter: 1, channel: number}};
for (const number of range(12, 17)) traits[number] = {reserved: {by: 'the flash memory', firmly: true}};
// An input of the converter, too: what was said of it above stays.
traits[2] = {...traits[2], strapping: 'must be high at reset'};

export const esp32c3: Board = {
	family: 'esp32-c3',
	title: 'ESP32-C3, 3.3 V',
	supplyVolts: 3.3,
	pinVoltsMost: 3.6,
	converter: {bits: [12], referenceVolts: 3.3, straightVolts: [0, 2.5], conversionSeconds: 50e-6},
	radioConverter: {converter: 2, radio: 'wifi'},
	unreliableConverter: 2,
	pullUpOhms: [30_000, 80_000],
	logic: {lowMost: 0.25, highLeast: 0.75},
	currentMa: {quiet: 30, radio: 90, peak: 400},
	nativeUsb: true,
	notes: [
		'Five inputs of the first converter at most, one of them a strapping pin: a stick besides five fingers wants a multiplexer.',
	],
	radios: ['bluetooth', 'wifi'],
	pins: gpioPins(range(0, 21), traits),
	sources: [
		'ESP-IDF programming guide, GPIO and ADC pages for ESP32-C3 (read: channels, strapping, flash and USB pins; second converter no longer supported)',
		"boot modes of GPIO2, 8 and 9: the maker's book on ESP32-C3 (read)",
		'ESP32-C3 data sheet: range of 0–2.5 V at the highest attenuation, levels, pull-up, absolute maximum (from memory)',
		'board current and conversion time: common practice',
	],
};
