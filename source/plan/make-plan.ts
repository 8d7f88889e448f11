import type {Status} from '../faults/fault-code.ts';
import {findBoard} from '../sheet/boards/all.ts';
import {isAnalog, type Sheet} from '../sheet/sheet.ts';
import {checkFeed, checkPins} from './check-pins.ts';
import {type ConverterPlan, planConverter} from './plan-converter.ts';
import type {PlanFinding} from './plan-finding.ts';
import {type LinkPlan, planLink} from './plan-link.ts';
import {type PowerPlan, planPower, type ServoPlan} from './plan-power.ts';
import {planReels, type ReelPlan} from './plan-reels.ts';

/** Everything that can be said about a glove before it is built. */
export type Plan = {
	/** Title of the board; null where the sheet names none that is known. */
	readonly board: string | null;
	readonly boardNotes: readonly string[];
	/** Gravest first, then by line. */
	readonly findings: readonly PlanFinding[];
	readonly reels: readonly ReelPlan[];
	readonly converter: ConverterPlan | null;
	readonly link: LinkPlan;
	readonly power: PowerPlan;
	readonly servos: ServoPlan | null;
};

const gravity: readonly Status[] = ['failure', 'out-of-spec', 'maintenance', 'function-check'];

/** Digits of a frame are estimated with this where neither sheet nor board gives a full scale. */
const assumedFullScale = 4095;

/** Computes the plan of a sheet. Pure; docs/plan.md has every formula with its source. */
export function makePlan(sheet: Sheet): Plan {
	const board = sheet.board?.family === undefined ? undefined : findBoard(sheet.board.family);
	const fullScale = sheet.board?.fullScale ?? (board ? 2 ** board.converter.bits[0] - 1 : null);
	const {reels, findings: reelFindings} = planReels(sheet, fullScale);
	const converter = board && sheet.channels.some(isAnalog) ? planConverter(sheet, board) : undefined;
	const {link, findings: linkFindings} = planLink(sheet, board, fullScale ?? assumedFullScale);
	const {power, servos, findings: powerFindings} = planPower(sheet, board);
	const findings = [
		...missing(sheet, board !== undefined),
		...(board ? [...checkPins(sheet, board), ...checkFeed(sheet, board)] : []),
		...reelFindings,
		...(converter?.findings ?? []),
		...linkFindings,
		...powerFindings,
	];
	return {
		board: board?.title ?? null,
		boardNotes: board?.notes ?? [],
		findings: findings.sort(
			(a, b) => gravity.indexOf(a.status) - gravity.indexOf(b.status) || (a.line ?? 0) - (b.line ?? 0),
		),
		reels,
		converter: converter?.converter ?? null,
		link,
		power,
		servos,
	};
}

function missing(sheet: Sheet, hasBoard: boolean): PlanFinding[] {
	const base = {status: 'function-check', channel: null} as const;
	return [
		...(hasBoard
			? []
			: [
					{
						...base,
						code: 'no-board',
						summary: 'Pins, voltages and the converter were not checked: the sheet names no board that is known',
						advice: 'Give [board] family.',
					},
				]),
		...(sheet.channels.length > 0
			? []
			: [
					{
						...base,
						code: 'no-channels',
						summary: 'The sheet has no channels',
						advice: 'Write a [[channel]] for each value of the frame.',
					},
				]),
	];
}
