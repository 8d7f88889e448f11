import type {Board} from '../board.ts';
import {gpioPins, type PinTraits, range} from './gpio-pins.ts';

const flash: PinTraits = {reserved: {by: 'the flash memory', firmly: true}};
const psram: PinTraits = {reserved: {by: 'the extra memory of modules that have PSRAM', firmly: false}};

/** GPIO number by channel. */
const firstConverter = [36, 37, 38, 39, 32, 33, 34, 35];
const secondConverter = [4, 0, 2, 15, 13, 12, 14, 27, 25, 26];

const traits: Record<number, PinTraits> = {
	1: {reserved: {by: 'the serial line (TX) to the USB bridge', firmly: true}},
	3: {reserved: {by: 'the serial line (RX) to the USB bridge', firmly: true}},
	16: psram,
	17: psram,
};
for (const number of range(6, 11)) traits[number] = flash;
for (const [channel, number] of firstConverter.entries()) traits[number] = {analog: {converter: 1, channel}};
for (const [channel, number] of secondConverter.entries()) traits[number] = {analog: {converter: 2, channel}};
for (const number of range(34, 39)) traits[number] = {...traits[number], inputOnly: true, pullUp: false};
for (const number of [37, 38]) {
	traits[number] = {
		...traits[number],
		reserved: {by: 'the inside of most modules, which do not lead it out', firmly: false},
	};
}
for (const [number, strapping] of [
	[0, 'low at reset starts the loader instead of the firmware'],
	[2, 'must be low or open to load firmware'],
	[5, 'sets timing of the SDIO slave'],
	[12, 'high at reset sets the flash to 1.8 V and can stop the start'],
	[15, 'low at reset silences the boot text'],
] as const) {
	traits[number] = {...traits[number], strapping};
}

export const esp32: Board = {
	family: 'esp32',
	title: 'ESP32, 3.3 V',
	supplyVolts: 3.3,
	pinVoltsMost: 3.6,
	converter: {
		bits: [12, 11, 10, 9],
		referenceVolts: 3.3,
		straightVolts: [0.15, 2.45],
		conversionSeconds: 50e-6,
	},
	radioConverter: {converter: 2, radio: 'wifi'},
	pullUpOhms: [30_000, 80_000],
	logic: {lowMost: 0.25, highLeast: 0.75},
	currentMa: {quiet: 50, radio: 130, peak: 500},
	nativeUsb: false,
	notes: [
		'The converter is noisy while the radio is on: average several readings, and 100 nF from each input to ground.',
	],
	radios: ['bluetooth', 'wifi'],
	pins: gpioPins([...range(0, 19), ...range(21, 23), ...range(25, 27), ...range(32, 39)], traits),
	sources: [
		'ESP-IDF programming guide, ADC and GPIO pages for ESP32 (read)',
		'ESP32 data sheet: absolute maximum, input levels, pull-up about 45 kΩ (from memory)',
		'GPIO37 and 38 not led out on usual modules: module drawings (from memory)',
		'what each strapping pin decides: ESP32 data sheet (from memory)',
		'supply of at least 500 mA: ESP32 hardware design guidelines (from memory)',
		'board current and conversion time: common practice',
	],
};
