import type {Board} from '../board.ts';
import {gpioPins, type PinTraits, range} from './gpio-pins.ts';

const traits: Record<number, PinTraits> = {
	23: {reserved: {by: "the regulator's mode on usual boards", firmly: false}},
	24: {reserved: {by: 'the sensing of USB power on usual boards', firmly: false}},
	25: {reserved: {by: 'the LED, or the radio, of usual boards', firmly: false}},
};
for (const number of range(26, 29)) traits[number] = {analog: {converter: 1, channel: number - 26}};
traits[29] = {
	...traits[29],
	reserved: {by: 'the divider that measures the board supply on usual boards', firmly: false},
};

export const rp2040: Board = {
	family: 'rp2040',
	title: 'RP2040, 3.3 V',
	supplyVolts: 3.3,
	pinVoltsMost: 3.6,
	converter: {bits: [12], referenceVolts: 3.3, conversionSeconds: 2e-6},
	pullUpOhms: [50_000, 80_000],
	logic: {lowMost: 0.24, highLeast: 0.61},
	currentMa: {quiet: 30, radio: 70, peak: 100},
	nativeUsb: true,
	notes: [
		'Of 12 bits about 8.7 are effective.',
		'Four inputs, three on usual boards: five fingers want a multiplexer.',
	],
	radios: [],
	pins: gpioPins(range(0, 29), traits),
	sources: [
		'RP2040 documentation as quoted on public pages: four 12 bit inputs on GPIO26–29, GPIO29 taken on usual boards, 500 000 readings/s (read)',
		'RP2040 data sheet: levels, pull-ups, absolute maximum, uses of GPIO23–25 on usual boards (from memory)',
		'effective resolution about 8.7 bits: RP2040 documentation as quoted on public pages (read)',
		'board current: common practice',
	],
};
