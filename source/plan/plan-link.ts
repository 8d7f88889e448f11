import type {Board} from '../sheet/board.ts';
import type {Sheet} from '../sheet/sheet.ts';
import {signedText} from '../text/number-text.ts';
import {baudErrorPercent, frameBytes, framesPerSecondMost, lineLoad, wireMs} from './link-budget.ts';
import type {PlanFinding} from './plan-finding.ts';

/** Loads from which a line is tight and full (common practice: no room for late bytes or boot text above). */
const tightLoad = 0.7;
const fullLoad = 0.9;

/** Recommended and total largest error of the sender's rate, percent. Source: ATmega328P data sheet, receiver tolerance. */
const baudErrorAdvised = 2;
const baudErrorMost = 4.5;

/** Frames per second where the sheet names no target. */
const usualRate = 30;

export type LinkPlan = {
	readonly kind: string;
	/** Null where no serial line has a rate: native USB, Wi-Fi. */
	readonly baud: number | null;
	readonly frameBytes: number;
	readonly frameBytesFrom: 'sheet' | 'estimate';
	readonly targetRate: number;
	readonly framesPerSecondMost: number | null;
	readonly load: number | null;
	readonly wireMs: number | null;
	/** Error of the rate at 16 and at 8 samples a bit, percent, where the board's divider makes one. */
	readonly baudErrorPercent: readonly [number, number] | null;
	readonly notes: readonly string[];
};

/** Whether frames fit through the link, and how they will arrive. */
export function planLink(
	sheet: Sheet,
	board: Board | undefined,
	fullScale: number,
): {link: LinkPlan; findings: PlanFinding[]} {
	const kind = sheet.link?.kind ?? 'usb';
	const isLine =
		kind === 'serial' ||
		(kind === 'usb' && !board?.nativeUsb) ||
		(kind === 'bluetooth' && sheet.link?.baud !== undefined);
	const baud = isLine ? (sheet.link?.baud ?? 115_200) : null;
	const bytes = sheet.link?.frameBytes ?? frameBytes(sheet, fullScale);
	const targetRate = sheet.link?.targetRate ?? usualRate;
	const errors: LinkPlan['baudErrorPercent'] =
		baud && board?.uartClockHz
			? [baudErrorPercent(baud, board.uartClockHz, 16), baudErrorPercent(baud, board.uartClockHz, 8)]
			: null;
	const link: LinkPlan = {
		kind,
		baud,
		frameBytes: bytes,
		frameBytesFrom: sheet.link?.frameBytes === undefined ? 'estimate' : 'sheet',
		targetRate,
		framesPerSecondMost: baud && framesPerSecondMost(baud, bytes),
		load: baud && lineLoad(baud, bytes, targetRate),
		wireMs: baud && wireMs(baud, bytes),
		baudErrorPercent: errors,
		notes: [...notesOn(kind, baud), ...baudNotes(baud, errors)],
	};
	return {link, findings: [...checkLoad(link), ...checkBaud(link)]};
}

function notesOn(kind: string, baud: number | null): string[] {
	switch (kind) {
		case 'usb':
			return baud === null
				? ['The chip has a USB port of its own: the baud rate means nothing there.']
				: ['The USB bridge delivers in steps of up to 16 ms until its latency timer is set lower.'];
		case 'bluetooth':
			return [
				'Bluetooth serial delivers several lines at once, with gaps of 10–60 ms and now and then 100–300 ms (common practice).',
				'The radio itself carries 723 kbit/s one way (basic rate, from memory): it is not the bottleneck.',
			];
		case 'wifi':
			return ["Wi-Fi delivers unevenly: send a counter and the board's clock in each frame."];
		default:
			return [];
	}
}

function checkLoad({load, baud, targetRate, frameBytes: bytes, framesPerSecondMost: most}: LinkPlan): PlanFinding[] {
	if (load === null || load < tightLoad) return [];
	const percent = Math.round(load * 100);
	return [
		{
			code: 'line-load',
			status: load > 1 ? 'failure' : load >= fullLoad ? 'out-of-spec' : 'function-check',
			channel: null,
			summary: `${targetRate} frames/s of ${bytes} bytes take ${percent} % of ${baud} baud; ${Math.floor(most ?? 0)} frames/s are the most`,
			advice: 'Raise the baud rate, send shorter lines, or aim at a lower rate.',
		},
	];
}

function checkBaud({baud, baudErrorPercent: errors}: LinkPlan): PlanFinding[] {
	if (!errors || Math.min(...errors.map(Math.abs)) <= baudErrorMost) return [];
	return [
		{
			code: 'impossible-baud',
			status: 'out-of-spec',
			channel: null,
			summary: `${baud} baud come out at ${inWords(errors)} on this board; a receiver stands ${baudErrorMost} % at most`,
			advice: 'Choose 250000 or 500000, which are exact from 16 MHz, or 57600.',
		},
	];
}

/** Rates that work but leave an inexact partner little margin are worth a note, not a finding. */
function baudNotes(baud: number | null, errors: LinkPlan['baudErrorPercent']): string[] {
	const least = errors === null ? 0 : Math.min(...errors.map(Math.abs));
	if (errors === null || least <= baudErrorAdvised || least > baudErrorMost) return [];
	return [
		`${baud} baud come out at ${inWords(errors)} on this board, beyond the recommended ±${baudErrorAdvised} %: it works with an exact partner. 250000 and 500000 are exact.`,
	];
}

function inWords([normal, double]: readonly [number, number]): string {
	const percent = (error: number) => `${signedText(error, 1)} %`;
	return `${percent(normal)} or ${percent(double)} (16 or 8 samples a bit)`;
}
