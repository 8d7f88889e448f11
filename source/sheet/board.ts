/** What a pin can do, and what speaks against using it. */
export type Pin = {
	/** As the sheet names it: `A0`, `GPIO32`, `P0.02`. */
	readonly name: string;
	/** Other spellings that mean the same pin, in capitals. */
	readonly aliases: readonly string[];
	/** The converter that measures it and its channel there; missing where none does. */
	readonly analog?: {readonly converter: number; readonly channel: number};
	/** Can be read as a digital input. */
	readonly digital: boolean;
	/** Has an internal pull-up. */
	readonly pullUp: boolean;
	/** Cannot be an output. */
	readonly inputOnly?: boolean;
	/** What its level at reset decides. */
	readonly strapping?: string;
	/** What already uses it on usual boards. `firmly`: a sensor there cannot work or stops the board. */
	readonly reserved?: {readonly by: string; readonly firmly: boolean};
};

/** How a converter samples, as far as its maker says. */
export type Converter = {
	/** Bits of a reading: what can be chosen, the usual one first. */
	readonly bits: readonly number[];
	/** Volts at full scale with the usual reference. */
	readonly referenceVolts: number;
	/** Between these the converter is straight; missing where it is over the whole range. */
	readonly straightVolts?: readonly [low: number, high: number];
	/** Largest source resistance it is made for; missing where the maker does not say. */
	readonly sourceOhmsMost?: number;
	/** Sampling capacitor, worst series resistance inside, and time to charge it; missing where not published. */
	readonly sampling?: {readonly farads: number; readonly seriesOhms: number; readonly seconds: number};
	/** Longest source resistance for each acquisition time that can be chosen, where it can. */
	readonly acquisition?: readonly {readonly microseconds: number; readonly sourceOhmsMost: number}[];
	/** One conversion, seconds, as usual firmware does it. */
	readonly conversionSeconds: number;
};

/** A board family: what the plan has to know of its chip. */
export type Board = {
	readonly family: string;
	readonly title: string;
	/** Usual supply of the chip, which also feeds pots and stick. */
	readonly supplyVolts: number;
	/** Highest voltage a pin stands. */
	readonly pinVoltsMost: number;
	readonly converter: Converter;
	/** A converter the radio takes away, and by which radio. */
	readonly radioConverter?: {readonly converter: number; readonly radio: 'wifi'};
	/** A converter whose readings its maker no longer vouches for. */
	readonly unreliableConverter?: number;
	readonly pullUpOhms: readonly [least: number, most: number];
	/** Levels of a digital input as shares of the supply. */
	readonly logic: {readonly lowMost: number; readonly highLeast: number};
	/** Clock of the serial unit, where its divider makes rates inexact. */
	readonly uartClockHz?: number;
	/** Typical current of a board with this chip, without and with its radio, mA. Common practice: measure yours. */
	readonly currentMa: {readonly quiet: number; readonly radio: number; readonly peak: number};
	/** Has a USB port of its own: no bridge, and the baud rate means nothing there. */
	readonly nativeUsb: boolean;
	/** What else a builder should know. */
	readonly notes: readonly string[];
	readonly radios: readonly ('bluetooth' | 'wifi')[];
	readonly pins: readonly Pin[];
	/** Where the figures come from; "from memory" where a document was not read. */
	readonly sources: readonly string[];
};

/** A pin as a sheet names it: the pin, and the input of an external multiplexer in front of it (`GPIO32/3`). */
type PinUse = {readonly pin: Pin; readonly muxInput: number | null};

/**
 * The pin a sheet means by `text`, or undefined where the board has none of that name. Case, spaces and the usual
 * other spellings (`32`, `IO32`, `D32` for `GPIO32`) make no difference.
 */
export function findPin(board: Board, text: string): PinUse | undefined {
	const [, name, mux] = /^([^/]+?)(?:\/(\d{1,2}))?$/.exec(text.trim().toUpperCase().replaceAll(' ', '')) ?? [];
	if (name === undefined) return undefined;
	const pin = board.pins.find(candidate => candidate.name === name || candidate.aliases.includes(name));
	return pin && {pin, muxInput: mux === undefined ? null : Number(mux)};
}
