import {lithiumCaution, servoCaution} from '../faults/cautions.ts';
import type {Board} from '../sheet/board.ts';
import {isAnalog, type Sheet} from '../sheet/sheet.ts';
import {fixedText} from '../text/number-text.ts';
import type {PlanFinding} from './plan-finding.ts';
import {batteryHours, potsMilliamperes, powerBankHours} from './power-budget.ts';

/** What a USB 2.0 port gives after configuration. Source: USB 2.0, 7.2.1. */
const usbMilliamperesMost = 500;

/** Loads below which power banks switch off: surely, and perhaps. Source: hobby electronics notes ("a few dozen mA"). */
const bankOffMa = 50;
const bankDoubtMa = 100;

/** A small (9 g) servo where the sheet gives no figures, mA. Source: two servo guides (150–600 working, 600–1200 stalled). */
const usualServo = {workingMa: 300, stallMa: 800} as const;

export type PowerPlan = {
	readonly source: string;
	readonly potsMa: number;
	/** Board, radio and pots. */
	readonly currentMa: number;
	readonly currentFrom: 'sheet' | 'estimate';
	/** Short peaks, where the board is known. */
	readonly peakMa: number | null;
	readonly batteryHours: number | null;
	readonly cautions: readonly string[];
};

export type ServoPlan = {
	readonly count: number;
	readonly supply: string;
	readonly workingMa: number;
	/** All of them held fast: what their supply has to stand. */
	readonly stallMa: number;
	readonly caution: string;
};

/** Current, battery time, and whether the source bears it. */
export function planPower(
	sheet: Sheet,
	board: Board | undefined,
): {power: PowerPlan; servos: ServoPlan | null; findings: PlanFinding[]} {
	const {source = 'usb', batteryMah, currentMa: measured} = sheet.power ?? {};
	const volts = sheet.board?.supplyVolts ?? board?.supplyVolts ?? 5;
	const potsMa = potsMilliamperes(
		volts,
		sheet.channels.filter(isAnalog).map(channel => channel.potOhms ?? sheet.reel?.potOhms ?? 10_000),
	);
	const isRadioOn = board?.radios.some(radio => radio === sheet.link?.kind) ?? false;
	const boardMa = board === undefined ? 0 : isRadioOn ? board.currentMa.radio : board.currentMa.quiet;
	const currentMa = measured ?? boardMa + potsMa;
	const hours = source === 'power-bank' ? powerBankHours : batteryHours;
	const power: PowerPlan = {
		source,
		potsMa,
		currentMa,
		currentFrom: measured === undefined ? 'estimate' : 'sheet',
		peakMa: board ? Math.max(currentMa, isRadioOn ? board.currentMa.peak : 0) : null,
		batteryHours: batteryMah === undefined || source === 'usb' ? null : hours(batteryMah, currentMa),
		cautions: source === 'usb' ? [] : [lithiumCaution],
	};
	const servos = planServos(sheet);
	return {power, servos, findings: [...checkSupply(sheet, power, board), ...checkServos(servos)]};
}

function checkSupply(sheet: Sheet, power: PowerPlan, board: Board | undefined): PlanFinding[] {
	const {source, currentMa, currentFrom} = power;
	const findings: PlanFinding[] = [];
	const base = {channel: null} as const;
	const about = `${currentFrom === 'estimate' ? 'about ' : ''}${Math.round(currentMa)} mA`;
	if (source === 'usb' && currentMa > usbMilliamperesMost) {
		findings.push({
			...base,
			code: 'usb-current',
			status: 'out-of-spec',
			summary: `The glove takes ${about}; a USB 2.0 port gives ${usbMilliamperesMost} mA`,
			advice: 'Use a supply of its own, or find what takes so much.',
		});
	}
	if (source === 'power-bank' && currentMa < bankDoubtMa) {
		findings.push({
			...base,
			code: 'power-bank-off',
			status: currentMa < bankOffMa ? 'out-of-spec' : 'function-check',
			summary: `The glove takes ${about}; power banks switch off after 30–60 s below a few dozen mA`,
			advice: 'Choose one with a low-current mode, or a bare cell with a protection circuit.',
			caution: lithiumCaution,
		});
	}
	const {batteryVolts} = sheet.power ?? {};
	if (source === 'battery' && board && batteryVolts !== undefined && batteryVolts < board.supplyVolts) {
		findings.push({
			...base,
			code: 'low-battery-voltage',
			status: 'function-check',
			summary: `${batteryVolts} V are less than the ${board.supplyVolts} V of the board`,
			advice: 'It needs a step-up converter, whose losses shorten the battery time.',
			caution: lithiumCaution,
		});
	}
	return findings;
}

function planServos({servos}: Sheet): ServoPlan | null {
	const count = servos?.count ?? (servos === undefined ? 0 : 1);
	if (count === 0) return null;
	return {
		count,
		supply: servos?.supply ?? 'separate',
		workingMa: count * (servos?.workingMa ?? usualServo.workingMa),
		stallMa: count * (servos?.stallMa ?? usualServo.stallMa),
		caution: servoCaution,
	};
}

function checkServos(servos: ServoPlan | null): PlanFinding[] {
	if (!servos || servos.supply === 'separate') return [];
	const from = servos.supply === 'usb' ? `a USB port (${usbMilliamperesMost} mA)` : "the board's regulator";
	return [
		{
			code: 'servo-supply',
			status: 'failure',
			channel: null,
			summary: `${servos.count} servos take up to ${fixedText(servos.stallMa / 1000, 1)} A when held fast, from ${from}: the board will restart`,
			advice: `Give them a 5–6 V supply for ${fixedText(servos.stallMa / 1000, 1)} A, grounds joined.`,
			caution: servos.caution,
		},
	];
}
