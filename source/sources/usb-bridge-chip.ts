/**
 * What a port with these USB ids most likely is. Ids are from memory: bridge makers let others use theirs, and boards
 * are copied with theirs, so this is a hint for a person, never a ground for a decision.
 */
const chips: readonly (readonly [vendorId: string, productId: string | undefined, chip: string])[] = [
	['0403', '6001', 'FTDI FT232R'],
	['0403', '6010', 'FTDI FT2232 (two ports)'],
	['0403', '6011', 'FTDI FT4232 (four ports)'],
	['0403', '6014', 'FTDI FT232H'],
	['0403', '6015', 'FTDI FT230X/FT231X'],
	['0403', undefined, 'FTDI bridge'],
	['10c4', 'ea60', 'Silicon Labs CP2102/CP2104'],
	['10c4', 'ea70', 'Silicon Labs CP2105 (two ports)'],
	['10c4', 'ea71', 'Silicon Labs CP2108 (four ports)'],
	['1a86', '7523', 'WCH CH340'],
	['1a86', '5523', 'WCH CH341'],
	['1a86', '55d2', 'WCH CH342 (two ports)'],
	['1a86', '55d3', 'WCH CH343'],
	['1a86', '55d4', 'WCH CH9102'],
	['1a86', '55d8', 'WCH CH9101'],
	['1a86', undefined, 'WCH bridge'],
	['067b', '2303', 'Prolific PL2303'],
	['067b', '23a3', 'Prolific PL2303GC'],
	['067b', undefined, 'Prolific bridge'],
	['04d8', '000a', 'Microchip CDC (native USB)'],
	['04d8', '00dd', 'Microchip MCP2221'],
	['03eb', '2175', 'Microchip on-board debugger'],
	['2341', '0043', 'ATmega16U2 on an Uno'],
	['2341', '0001', 'ATmega8U2 on an Uno'],
	['2341', '0042', 'ATmega16U2 on a Mega 2560'],
	['2341', '8036', 'ATmega32U4 (native USB)'],
	['2341', '8037', 'ATmega32U4 (native USB)'],
	['2341', undefined, 'Arduino board (native USB or on-board bridge)'],
	['2a03', undefined, 'Arduino board (native USB or on-board bridge)'],
	['1b4f', undefined, 'ATmega32U4 or SAMD (native USB)'],
	['239a', undefined, 'native USB of a SAMD, nRF52 or RP2040 board'],
	['303a', '1001', 'ESP32-S3/C3/C6 (built-in USB serial and JTAG)'],
	['303a', undefined, 'ESP32-S2/S3 (native USB)'],
	['2e8a', '0005', 'RP2040 (native USB, MicroPython)'],
	['2e8a', '000c', 'RP2040 debug probe'],
	['2e8a', undefined, 'RP2040/RP2350 (native USB)'],
	['1915', undefined, 'nRF52840 (native USB)'],
	['1366', undefined, 'on-board debugger of an nRF or Arm kit'],
	['0d28', undefined, 'on-board Arm debugger'],
	['0483', '5740', 'STM32 (native USB)'],
	['0483', '374b', 'STM32 on-board debugger'],
	['16c0', '0483', 'Teensy (native USB)'],
	['0525', 'a4a7', 'Linux USB gadget'],
];

/**
 * @param vendorId Four hexadecimal digits, any case.
 * @returns null for ids that are not in the list.
 */
export function likelyBridgeChip(vendorId: string | null, productId: string | null): string | null {
	const vendor = vendorId?.toLowerCase();
	const product = productId?.toLowerCase();
	const exact = chips.find(chip => chip[0] === vendor && chip[1] === product);
	return (exact ?? chips.find(chip => chip[0] === vendor && chip[1] === undefined))?.[2] ?? null;
}
