import {itemAt} from '../item-at.ts';
import {assignPins} from './assign-pins.ts';
import type {Board} from './board.ts';
import type {Sheet, SheetChannel} from './sheet.ts';

/** What has to be known for a first sheet. */
export type NewSheetAnswers = {
	readonly board: Board;
	readonly name?: string | undefined;
	/** Whether there is a thumb stick. */
	readonly stick: boolean;
	readonly buttons: number;
	readonly link: NonNullable<NonNullable<Sheet['link']>['kind']>;
	readonly baud?: number | undefined;
	readonly spoolDiameterMm: number;
	/** What is printed on the battery; undefined for a glove fed by its USB cable. */
	readonly batteryMah?: number | undefined;
};

/** Cord travel open to fist where nothing was measured yet: radii 10, 8, 6 mm over 90, 100, 80° (docs/plan.md). */
const usualTravelMm = 38;
/** A thumb bends two joints: about half. */
const thumbTravelMm = 21;

/** A sheet to start from: the usual frame, pins that nothing speaks against, usual reels. */
export function newSheet(answers: NewSheetAnswers): Sheet {
	const {board, name, stick, buttons, link, baud, spoolDiameterMm, batteryMah} = answers;
	const channels: SheetChannel[] = [
		{name: 'thumb', cordTravelMm: thumbTravelMm},
		...['index', 'middle', 'ring', 'little'].map(finger => ({name: finger})),
		...(stick ? [{name: 'stick-x'}, {name: 'stick-y'}] : []),
		...Array.from({length: buttons}, (_, index) => ({name: `button-${index + 1}`})),
	];
	return {
		...(name !== undefined && {name}),
		board: {family: board.family, fullScale: 2 ** itemAt(board.converter.bits, 0) - 1, supplyVolts: board.supplyVolts},
		channels: assignPins(board, channels, link === 'wifi'),
		reel: {spoolDiameterMm, electricalAngleDeg: 270, cordTravelMm: usualTravelMm, potOhms: 10_000},
		link: {kind: link, ...(link !== 'wifi' && {baud: baud ?? 115_200}), targetRate: 60},
		power: batteryMah === undefined ? {source: 'usb'} : {source: 'battery', batteryMah, batteryVolts: 3.7},
	};
}
