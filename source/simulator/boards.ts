/** A microcontroller board as its readings show it. */
export type BoardSpec = {
	readonly family: string;
	/** Bits of the converter: readings go from 0 to 2^bits − 1. */
	readonly adcBits: number;
	/** Supply of converter and potentiometers, volts. */
	readonly supplyVolts: number;
	/** Noise of one reading with a sound, low-impedance source, counts rms. */
	readonly noiseRmsCounts: number;
	/** Share of readings with three times that noise (radio and flash activity). */
	readonly noiseTail: number;
	/** Shares of the input range at the bottom and top in which nothing but 0 or full scale is read (check-values S7, S8, S10). */
	readonly deadLow: number;
	readonly deadHigh: number;
	/** Every n-th code never appears; 0: none missing. */
	readonly missingCodeEvery: number;
	/** Time between two channels of a scan, microseconds (check-values A7). */
	readonly conversionMicroseconds: number;
	/** What the board prints when it starts: nothing, a line of the sketch's own, or the boot ROM's text (check-values S14). */
	readonly bootText: 'none' | 'sketch' | 'esp32';
	/** Seconds from reset to the first frame (check-values U22). */
	readonly bootSeconds: number;
	/** How often such boards are met, relative to each other. */
	readonly share: number;
};

const plain = {
	noiseTail: 0.002,
	deadLow: 0,
	deadHigh: 0,
	missingCodeEvery: 0,
	bootText: 'sketch',
	bootSeconds: 0.4,
} as const;

const avr = {...plain, adcBits: 10, supplyVolts: 5, conversionMicroseconds: 112, bootSeconds: 1.6} as const;
const esp32 = {...plain, adcBits: 12, supplyVolts: 3.3, bootText: 'esp32', bootSeconds: 0.5} as const;
const arm = {...plain, supplyVolts: 3.3} as const;

/** Typical boards. Noise figures: common practice, no source; the ESP32's ends: check-values S7–S10; AVR timing: check-values A7. */
export const boards: Readonly<Record<string, BoardSpec>> = {
	avr: {...avr, family: 'avr', noiseRmsCounts: 0.35, share: 10},
	'avr-noisy': {...avr, family: 'avr-noisy', noiseRmsCounts: 0.9, noiseTail: 0.01, share: 3},
	'avr-8bit': {...avr, family: 'avr-8bit', adcBits: 8, noiseRmsCounts: 0.12, conversionMicroseconds: 60, share: 1},
	esp32: {
		...esp32,
		family: 'esp32',
		noiseRmsCounts: 6.5,
		noiseTail: 0.02,
		deadLow: 0.035,
		deadHigh: 0.04,
		conversionMicroseconds: 95,
		share: 8,
	},
	'esp32-skips': {
		...esp32,
		family: 'esp32-skips',
		noiseRmsCounts: 5,
		noiseTail: 0.01,
		deadLow: 0.03,
		deadHigh: 0.04,
		missingCodeEvery: 9,
		conversionMicroseconds: 60,
		bootSeconds: 0.35,
		share: 2,
	},
	'arm-12bit': {...arm, family: 'arm-12bit', adcBits: 12, noiseRmsCounts: 1.6, conversionMicroseconds: 22, share: 5},
	'arm-12bit-skips': {
		...arm,
		family: 'arm-12bit-skips',
		adcBits: 12,
		noiseRmsCounts: 3.2,
		missingCodeEvery: 32,
		conversionMicroseconds: 10,
		share: 2,
	},
	'arm-14bit': {...arm, family: 'arm-14bit', adcBits: 14, noiseRmsCounts: 4, conversionMicroseconds: 30, share: 1},
	'external-16bit': {
		...plain,
		family: 'external-16bit',
		adcBits: 16,
		supplyVolts: 5,
		noiseRmsCounts: 14,
		conversionMicroseconds: 150,
		share: 1,
	},
};
