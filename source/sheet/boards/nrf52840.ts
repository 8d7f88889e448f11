import type {Board, Pin} from '../board.ts';
import {range} from './gpio-pins.ts';

/** Pins of the analog inputs 0–7. */
const analogInputs = ['P0.02', 'P0.03', 'P0.04', 'P0.05', 'P0.28', 'P0.29', 'P0.30', 'P0.31'];

const used: Readonly<Record<string, Pin['reserved']>> = {
	'P0.00': {by: 'the 32.768 kHz crystal of most modules', firmly: false},
	'P0.01': {by: 'the 32.768 kHz crystal of most modules', firmly: false},
	'P0.09': {by: 'the NFC antenna until the firmware turns that off', firmly: false},
	'P0.10': {by: 'the NFC antenna until the firmware turns that off', firmly: false},
	'P0.18': {by: 'the reset line', firmly: true},
};

function port(number: 0 | 1, bits: readonly number[]): Pin[] {
	return bits.map(bit => {
		const name = `P${number}.${String(bit).padStart(2, '0')}`;
		const channel = analogInputs.indexOf(name);
		return {
			name,
			aliases: [
				...(bit < 10 ? [`P${number}.${bit}`] : []),
				`${number * 32 + bit}`,
				...(channel >= 0 ? [`AIN${channel}`] : []),
			],
			digital: true,
			pullUp: true,
			...(channel >= 0 && {analog: {converter: 1, channel}}),
			...(used[name] && {reserved: used[name]}),
		};
	});
}

export const nrf52840: Board = {
	family: 'nrf52840',
	title: 'nRF52840, 3.3 V',
	supplyVolts: 3.3,
	pinVoltsMost: 3.6,
	converter: {
		bits: [12, 14, 10, 8],
		// The supply as reference (VDD/4 with a gain of 1/4); with the internal one full scale is 3.6 V.
		referenceVolts: 3.3,
		acquisition: [
			{microseconds: 3, sourceOhmsMost: 10_000},
			{microseconds: 5, sourceOhmsMost: 40_000},
			{microseconds: 10, sourceOhmsMost: 100_000},
			{microseconds: 15, sourceOhmsMost: 200_000},
			{microseconds: 20, sourceOhmsMost: 400_000},
			{microseconds: 40, sourceOhmsMost: 800_000},
		],
		conversionSeconds: 12e-6,
	},
	pullUpOhms: [11_000, 16_000],
	logic: {lowMost: 0.3, highLeast: 0.7},
	currentMa: {quiet: 8, radio: 12, peak: 30},
	nativeUsb: true,
	notes: [
		'Choose the supply as reference (VDD/4 with gain 1/4). With the internal one full scale is 3.6 V, and pots on 3.3 V end at 92 %.',
		'14 bits are reached by averaging inside the converter.',
	],
	radios: ['bluetooth'],
	pins: [...port(0, range(0, 31)), ...port(1, range(0, 15))],
	sources: [
		"acquisition times: maker's specification of the same converter in a sister chip (read)",
		'nRF52840 product specification: inputs, 8 to 14 bit, levels, pull-up about 13 kΩ, pins of crystal, NFC and reset (from memory)',
		'highest pin voltage: supply + 0.3 V (from memory)',
		'board current and conversion time: common practice',
	],
};
