import type {Board, Pin} from '../board.ts';
import {range} from './gpio-pins.ts';

/** Port names of the digital pins D0–D13. */
const digitalPorts = [...range(0, 7).map(bit => `PD${bit}`), ...range(0, 5).map(bit => `PB${bit}`)];

const used: Readonly<Record<number, Pin['reserved']>> = {
	0: {by: 'the serial line (RX) to the USB bridge', firmly: true},
	1: {by: 'the serial line (TX) to the USB bridge', firmly: true},
	13: {by: 'the LED of most boards, which loads a pull-up', firmly: false},
};

export const atmega328p: Board = {
	family: 'atmega328p',
	title: 'ATmega328P, 16 MHz, 5 V',
	supplyVolts: 5,
	// Supply + 0.5 V (absolute maximum ratings).
	pinVoltsMost: 5.5,
	converter: {
		bits: [10],
		referenceVolts: 5,
		sourceOhmsMost: 10_000,
		// 1.5 clocks of 125 kHz; 14 pF behind at most 100 kΩ.
		sampling: {farads: 14e-12, seriesOhms: 100_000, seconds: 12e-6},
		// 13 clocks of the same 125 kHz.
		conversionSeconds: 104e-6,
	},
	pullUpOhms: [20_000, 50_000],
	logic: {lowMost: 0.3, highLeast: 0.6},
	uartClockHz: 16_000_000,
	// It has no radio.
	currentMa: {quiet: 25, radio: 25, peak: 50},
	nativeUsb: false,
	notes: [],
	radios: [],
	pins: [
		...digitalPorts.map((port, number) => ({
			name: `D${number}`,
			aliases: [`${number}`, port],
			digital: true,
			pullUp: true,
			...(used[number] && {reserved: used[number]}),
		})),
		...range(0, 7).map(number => ({
			name: `A${number}`,
			// Firmware may count the analog pins on from D13: A0 is pin 14, too.
			aliases: number < 6 ? [`${14 + number}`, `D${14 + number}`, `PC${number}`, `ADC${number}`] : [`ADC${number}`],
			analog: {converter: 1, channel: number},
			// A6 and A7 exist on the 32-pin package only and lead to the converter alone.
			digital: number < 6,
			pullUp: number < 6,
			...(number >= 6 && {inputOnly: true}),
		})),
	],
	sources: [
		'ATmega328P data sheet (converter, input levels: read; conversion times, A6/A7, absolute maximum: from memory)',
		'ATmega169P data sheet for the input circuit of the same converter (read)',
		'ATmega328PB data sheet for the pull-ups (read)',
		'board current: common practice',
	],
};
