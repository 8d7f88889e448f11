import {overvoltageCaution} from '../faults/cautions.ts';
import {type Board, findPin, type Pin} from '../sheet/board.ts';
import {channelKind, isAnalog, type Sheet, type SheetChannel} from '../sheet/sheet.ts';
import type {PlanFinding} from './plan-finding.ts';

/** Everything about pins that cannot work, or not always, on this board. */
export function checkPins(sheet: Sheet, board: Board): PlanFinding[] {
	return [...sheet.channels.flatMap(channel => checkChannel(channel, sheet, board)), ...checkShared(sheet, board)];
}

function checkChannel(channel: SheetChannel, sheet: Sheet, board: Board): PlanFinding[] {
	const kind = channelKind(channel.name);
	const needsPin = isAnalog(channel) || kind === 'button';
	const find = finder(channel);
	if (channel.pin === undefined) {
		return needsPin
			? [
					find(
						'no-pin',
						'function-check',
						`${channel.name} has no pin yet`,
						`Give it a pin: ${alternatives(channel, sheet, board)}.`,
					),
				]
			: [];
	}
	const use = findPin(board, channel.pin);
	if (!use) {
		return [
			find(
				'unknown-pin',
				'failure',
				`${board.title} has no pin ${channel.pin}`,
				`Usable here: ${alternatives(channel, sheet, board)}.`,
			),
		];
	}
	const {pin, muxInput} = use;
	const elsewhere = `Move it to ${alternatives(channel, sheet, board)}.`;
	return [
		...(isAnalog(channel) ? checkAnalog(pin, find, elsewhere, sheet, board) : []),
		...(kind === 'button' && muxInput === null ? checkButton(pin, find, elsewhere) : []),
		...checkTaken(pin, find, elsewhere),
	];
}

type Finder = (code: string, status: PlanFinding['status'], summary: string, advice: string) => PlanFinding;

function finder({name, line}: SheetChannel): Finder {
	return (code, status, summary, advice) => ({code, status, channel: name, ...(line && {line}), summary, advice});
}

function checkAnalog(pin: Pin, find: Finder, elsewhere: string, sheet: Sheet, board: Board): PlanFinding[] {
	if (!pin.analog) return [find('no-converter', 'failure', `${pin.name} leads to no converter`, elsewhere)];
	const {converter} = pin.analog;
	if (converter === board.unreliableConverter) {
		return [
			find(
				'unreliable-converter',
				'out-of-spec',
				`${pin.name} belongs to converter ${converter}, whose readings the maker no longer vouches for`,
				elsewhere,
			),
		];
	}
	if (converter !== board.radioConverter?.converter) return [];
	const what = `${pin.name} belongs to converter ${converter}, which Wi-Fi takes`;
	return sheet.link?.kind === 'wifi'
		? [find('radio-converter', 'failure', `${what}: no readings while the radio is on`, elsewhere)]
		: [find('radio-converter', 'function-check', `${what}: it works only as long as Wi-Fi stays off`, elsewhere)];
}

function checkButton(pin: Pin, find: Finder, elsewhere: string): PlanFinding[] {
	if (!pin.digital)
		return [find('no-digital-input', 'failure', `${pin.name} is analog only: a button there is never read`, elsewhere)];
	if (!pin.pullUp) {
		const advice = `${elsewhere} Or 10 kΩ from the pin to the supply of the board.`;
		return [find('no-pull-up', 'failure', `${pin.name} has no pull-up: a button to ground floats there`, advice)];
	}
	return [];
}

function checkTaken({name, strapping, reserved}: Pin, find: Finder, elsewhere: string): PlanFinding[] {
	return [
		...(strapping
			? [
					find(
						'strapping-pin',
						'out-of-spec',
						`${name} is read at reset (${strapping}): a part there can stop the start`,
						elsewhere,
					),
				]
			: []),
		...(reserved?.firmly ? [find('taken-pin', 'failure', `${name} is taken by ${reserved.by}`, elsewhere)] : []),
		...(reserved && !reserved.firmly
			? [
					find(
						'taken-pin',
						'function-check',
						`${name} is often taken by ${reserved.by}`,
						`Look at your board's drawing. ${elsewhere}`,
					),
				]
			: []),
	];
}

/** Two channels on one pin, unless both go through a multiplexer there, by inputs of their own. */
function checkShared(sheet: Sheet, board: Board): PlanFinding[] {
	const first = new Map<string, SheetChannel>();
	const findings: PlanFinding[] = [];
	for (const channel of sheet.channels) {
		const use = channel.pin === undefined ? undefined : findPin(board, channel.pin);
		if (!use) continue;
		const direct = first.get(use.pin.name);
		const place = use.muxInput === null ? use.pin.name : `${use.pin.name}/${use.muxInput}`;
		const muxed = [...first].find(([key]) => use.muxInput === null && key.startsWith(`${use.pin.name}/`))?.[1];
		const other = first.get(place) ?? direct ?? muxed;
		if (other) {
			findings.push(
				finder(channel)(
					'shared-pin',
					'failure',
					`${channel.name} and ${other.name} are both on ${place}`,
					`Move one of them to ${alternatives(channel, sheet, board)}.`,
				),
			);
		} else first.set(place, channel);
	}
	return findings;
}

/** Up to three pins nothing speaks against and no channel uses yet, in words. */
function alternatives(channel: SheetChannel, sheet: Sheet, board: Board): string {
	const used = new Set(sheet.channels.map(({pin}) => (pin === undefined ? undefined : findPin(board, pin)?.pin.name)));
	const isAnalogChannel = isAnalog(channel);
	const names = board.pins
		.filter(pin => !used.has(pin.name) && !pin.strapping && !pin.reserved)
		.filter(pin => (isAnalogChannel ? isReadable(pin, board) : pin.digital && pin.pullUp))
		.sort((a, b) => (isAnalogChannel ? 0 : Number(a.analog !== undefined) - Number(b.analog !== undefined)))
		.slice(0, 3)
		.map(pin => pin.name);
	if (names.length > 0) return names.join(', ').replace(/, ([^,]+)$/, ' or $1');
	return isAnalogChannel
		? 'an input of a multiplexer (all inputs of the converter are in use)'
		: 'a pin that becomes free';
}

function isReadable({analog}: Pin, board: Board): boolean {
	return (
		analog !== undefined &&
		analog.converter !== board.radioConverter?.converter &&
		analog.converter !== board.unreliableConverter
	);
}

/** Parts fed from another voltage than the board's converter measures against. */
export function checkFeed(sheet: Sheet, board: Board): PlanFinding[] {
	const common = sheet.board?.supplyVolts ?? board.supplyVolts;
	const parts = sheet.channels.filter(channel => isAnalog(channel) || channelKind(channel.name) === 'button');
	const own = parts.filter(({supplyVolts}) => supplyVolts !== undefined && supplyVolts !== common);
	return [
		...checkVolts(common, null, undefined, board, parts.some(isAnalog)),
		...own.flatMap(channel =>
			checkVolts(channel.supplyVolts as number, channel.name, channel.line, board, isAnalog(channel)),
		),
	];
}

function checkVolts(
	volts: number,
	channel: string | null,
	line: number | undefined,
	board: Board,
	analog: boolean,
): PlanFinding[] {
	const {converter, pinVoltsMost} = board;
	const base = {channel, ...(line && {line})};
	const who = channel ?? 'The parts';
	const reference = converter.referenceVolts;
	if (volts > pinVoltsMost) {
		return [
			{
				...base,
				code: 'overvoltage',
				status: 'failure',
				summary: `${who} would put ${volts} V on pins that stand ${pinVoltsMost} V at most`,
				advice: `Feed from the board's ${board.supplyVolts} V pin; where a part needs ${volts} V, divide or shift its signal.`,
				caution: overvoltageCaution,
			},
		];
	}
	// A regulator's tolerance of 5 % is no mistake of the builder.
	if (!analog || Math.abs(volts - reference) <= 0.05 * reference) return [];
	const share = Math.round((volts / reference) * 100);
	return [
		volts < reference
			? {
					...base,
					code: 'low-feed',
					status: 'out-of-spec',
					summary: `${who} on ${volts} V end at ${share} % of a converter that measures against ${reference} V`,
					advice: `Feed from ${reference} V, or make ${volts} V the converter's reference.`,
				}
			: {
					...base,
					code: 'high-feed',
					status: 'out-of-spec',
					summary: `${who} on ${volts} V run into the end of a converter that measures against ${reference} V`,
					advice: `Feed from ${reference} V.`,
				},
	];
}
