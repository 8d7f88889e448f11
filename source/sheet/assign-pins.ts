import type {Board} from './board.ts';
import {channelKind, type SheetChannel} from './sheet.ts';

/** Inputs of the usual multiplexer. */
const muxInputs = 8;

/**
 * Gives each finger, stick axis and button a pin of the board that nothing speaks against: no strapping pin, none that
 * something else uses. A converter that Wi-Fi takes is the second choice, and none at all with `wifi`. Analog channels
 * go behind multiplexers where the board has too few inputs. Channels that are left without a pin have none in the
 * result.
 */
export function assignPins(board: Board, channels: readonly SheetChannel[], wifi: boolean): SheetChannel[] {
	const free = board.pins.filter(pin => !pin.reserved && !pin.strapping);
	const measured = [
		...free.filter(pin => pin.analog && isSafeConverter(board, pin.analog.converter)),
		...free.filter(pin => !wifi && pin.analog && isLentConverter(board, pin.analog.converter)),
	];
	const analogNames = channels.filter(({name}) => ['finger', 'stick'].includes(channelKind(name) ?? ''));
	const analogPins =
		measured.length >= analogNames.length
			? measured.slice(0, analogNames.length).map(pin => pin.name)
			: measured
					.filter(pin => pin.analog && isSafeConverter(board, pin.analog.converter))
					.flatMap(pin => Array.from({length: muxInputs}, (_, input) => `${pin.name}/${input}`));
	const taken = new Set(analogPins.map(name => name.split('/')[0]));
	const buttonPins = free
		.filter(pin => pin.digital && pin.pullUp && !taken.has(pin.name))
		.sort((a, b) => Number(a.analog !== undefined) - Number(b.analog !== undefined))
		.map(pin => pin.name);
	return channels.map(channel => {
		const kind = channelKind(channel.name);
		const pin =
			kind === 'button' ? buttonPins.shift() : kind === 'finger' || kind === 'stick' ? analogPins.shift() : undefined;
		return pin === undefined ? channel : {...channel, pin};
	});
}

/** Whether readings of a converter can be had whatever the radio does. */
function isSafeConverter(board: Board, converter: number): boolean {
	return converter !== board.radioConverter?.converter && converter !== board.unreliableConverter;
}

/** Whether readings can be had as long as Wi-Fi stays off. */
function isLentConverter(board: Board, converter: number): boolean {
	return converter === board.radioConverter?.converter && converter !== board.unreliableConverter;
}
