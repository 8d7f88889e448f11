import type {Board} from '../board.ts';
import {gpioPins, type PinTraits, range} from './gpio-pins.ts';

const traits: Record<number, PinTraits> = {
	43: {reserved: {by: 'the serial line (TX) of the first UART', firmly: false}},
	44: {reserved: {by: 'the serial line (RX) of the first UART', firmly: false}},
	45: {strapping: 'sets the voltage of the flash'},
	46: {strapping: 'decides about boot text and loader'},
	0: {strapping: 'low at reset starts the loader instead of the firmware'},
};
for (const number of range(26, 32)) traits[number] = {reserved: {by: 'the flash memory', firmly: true}};
for (const number of range(33, 37)) {
	traits[number] = {reserved: {by: 'flash or PSRAM on modules with eight data lines', firmly: false}};
}
for (const number of range(1, 10)) traits[number] = {analog: {converter: 1, channel: number - 1}};
for (const number of range(11, 20)) traits[number] = {analog: {converter: 2, channel: number - 11}};
for (const number of [19, 20])
	traits[number] = {...traits[number], reserved: {by: 'the USB port of the chip', firmly: true}};
traits[3] = {...traits[3], strapping: 'chooses the source of JTAG signals'};

export const esp32s3: Board = {
	family: 'esp32-s3',
	title: 'ESP32-S3, 3.3 V',
	supplyVolts: 3.3,
	pinVoltsMost: 3.6,
	converter: {bits: [12], referenceVolts: 3.3, straightVolts: [0, 3.1], conversionSeconds: 50e-6},
	radioConverter: {converter: 2, radio: 'wifi'},
	pullUpOhms: [30_000, 80_000],
	logic: {lowMost: 0.25, highLeast: 0.75},
	currentMa: {quiet: 45, radio: 120, peak: 500},
	nativeUsb: true,
	notes: [],
	radios: ['bluetooth', 'wifi'],
	pins: gpioPins([...range(0, 21), ...range(26, 48)], traits),
	sources: [
		'ESP-IDF programming guide, GPIO page for ESP32-S3 (read: converter channels, strapping, USB and flash pins)',
		'ESP32-S3 data sheet: range of 0–3.1 V at the highest attenuation, levels, pull-up about 45 kΩ, absolute maximum, meaning of strapping pins (from memory)',
		'second converter shared with Wi-Fi: ESP-IDF programming guide (from memory for this chip)',
		'board current and conversion time: common practice',
	],
};
