/** A chip by the name the trade has for it: what `--board` takes, the same for every command. */
type BoardWord = {
	/** The board model of the simulator that reads like it. */
	readonly model: string;
	/** Whether a sheet knows its pins (source/sheet/boards). */
	readonly hasPins: boolean;
};

/** The vocabulary of `--board`: chips and families of the trade, no maker's boards. */
export const boardWords: Readonly<Record<string, BoardWord>> = {
	atmega328p: {model: 'avr', hasPins: true},
	esp32: {model: 'esp32', hasPins: true},
	'esp32-s3': {model: 'esp32', hasPins: true},
	'esp32-c3': {model: 'esp32', hasPins: true},
	rp2040: {model: 'arm-12bit-skips', hasPins: true},
	nrf52840: {model: 'arm-12bit', hasPins: true},
	atmega32u4: {model: 'avr', hasPins: false},
	atmega2560: {model: 'avr', hasPins: false},
	samd21: {model: 'arm-12bit', hasPins: false},
	stm32: {model: 'arm-12bit', hasPins: false},
};
