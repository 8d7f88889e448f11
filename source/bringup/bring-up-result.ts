import type {Features} from '../features/features.ts';
import {itemAt} from '../item-at.ts';
import type {Finding} from '../session/snapshot.ts';
import {weighs} from '../session/verdict.ts';
import type {Sheet} from '../sheet/sheet.ts';
import {type Acceptance, acceptButton, acceptReel, acceptStick, failWhereFound, notAsked} from './acceptance.ts';
import {asBuiltSheet} from './as-built.ts';
import {type Assignment, assignButtons, assignFingers} from './assign-channels.ts';
import {type BringUpFinding, bringUpFindings, mending} from './bring-up-findings.ts';
import {type ReelFigures, reelFigures} from './reel-figures.ts';
import type {StepRecord} from './step-record.ts';
import type {Step} from './steps.ts';
import {type StickFigures, stickFigures} from './stick-figures.ts';

/** What a routine has come to, finished or not. */
export type BringUpResult = {
	/** `pass`: everything was asked, answered and within its limits. `incomplete`: nothing failed, something is open. */
	readonly verdict: 'pass' | 'fail' | 'incomplete';
	/** Names of the columns as the stream was understood. */
	readonly columns: readonly string[];
	readonly fullScale: number;
	/** Why what was read is not whole, in a sentence; empty where it is. */
	readonly cut: string;
	readonly fingers: readonly Assignment[];
	readonly buttons: readonly Assignment[];
	readonly reels: readonly ReelFigures[];
	readonly stick: StickFigures | null;
	readonly acceptance: readonly Acceptance[];
	/** The routine's own findings first, then the session's, with channels named for what they really are. */
	readonly findings: readonly BringUpFinding[];
	readonly records: readonly StepRecord[];
	/** Ids of the steps that were not reached. */
	readonly missing: readonly string[];
	readonly asBuilt: Sheet;
};

/** Findings of the session that a guided routine brings about by itself, and which say nothing about the glove. */
const notTheGlove = new Set(['silent', 'port-lost', 'stray-text']);

/** Findings that drawing the prompts can bring about: frames wait meanwhile. `check` tells them of the glove alone. */
const notWhileDrawing = new Set(['uneven-frames', 'bursty-delivery']);

/**
 * Findings that a channel disproves by answering its prompts: it follows its own finger. While one reel after the
 * other is pulled the others lie still, which elsewhere would be odd.
 */
const disproved = new Set(['stuck-low', 'stuck-high', 'stuck-mid', 'floating-input']);

/**
 * Puts together what the steps have recorded. `sessionFindings` are the engine's over the same stream; `isPrompted` where
 * somebody read the prompts while it came; `cut` why the stream is not whole.
 */
export function bringUpResult(
	features: Features,
	steps: readonly Step[],
	records: readonly StepRecord[],
	sessionFindings: readonly Finding[],
	sheet: Sheet | undefined,
	isPrompted = false,
	cut = '',
	rulerMm?: number,
): BringUpResult {
	const {layout, scale} = features;
	const {channels} = layout;
	const fingers = assignFingers(channels, records);
	const buttons = assignButtons(channels, records);
	const isCounts = layout.unit === null && !scale.foreign && scale.fullScale >= 100;
	const ruler =
		rulerMm === undefined
			? undefined
			: {
					stepMm: rulerMm,
					...(isCounts && {fullScale: scale.fullScale}),
					angleOf: (name: string) =>
						sheet?.channels.find(channel => channel.name === name)?.electricalAngleDeg ??
						sheet?.reel?.electricalAngleDeg,
				};
	const reels = reelFigures(fingers, records, scale.fullScale, ruler);
	const stick = stickFigures(channels, records, scale.lowOf(features.stick?.x ?? 0), scale.fullScale);
	const own = bringUpFindings(channels, fingers, buttons, reels, stick, sheet);
	const axes = stick ? [stick.x, stick.y] : [];
	const others = engineFindings(
		sessionFindings.filter(finding => weighs(finding) && !(isPrompted && notWhileDrawing.has(finding.code))),
		own,
		[...fingers, ...buttons, ...axes],
		channels,
		reels,
		sheet,
	);
	const findings = [...own, ...others];
	const missing = steps.filter(({id}) => !records.some(record => record.id === id)).map(({id}) => id);
	const acceptance = [
		...reels.map(reel => acceptReel(reel, itemAt(channels, reel.column).name, sheet)),
		...(stick ? [acceptStick(stick)] : []),
		...buttons.map(button => acceptButton(button, itemAt(channels, button.column).name, records)),
	]
		.map(each => (each.verdict === 'open' ? {...each, reasons: openReasons(each, steps, records)} : each))
		.map(each => failWhereFound(each, findings))
		.map(each => failWhereBent(each, reels));
	const isFailed =
		acceptance.some(({verdict}) => verdict === 'fail') ||
		findings.some(({status}) => status === 'failure' || status === 'out-of-spec');
	const isOpen = missing.length > 0 || acceptance.some(({verdict}) => verdict === 'open');
	const hasCounts = layout.unit === null && scale.fullScale >= 100;
	return {
		verdict: isFailed ? 'fail' : isOpen ? 'incomplete' : 'pass',
		columns: channels.map(({name}) => name),
		fullScale: scale.fullScale,
		cut,
		fingers,
		buttons,
		reels,
		stick,
		acceptance,
		findings,
		records,
		missing,
		asBuilt: asBuiltSheet(sheet, channels, {
			assignments: [...fingers, ...buttons],
			reels,
			stick,
			fullScale: hasCounts && scale.sure ? scale.fullScale : null,
			hasCounts,
		}),
	};
}

/** A pot that is not straight is to be exchanged: no setting makes up for a wrong taper. */
function failWhereBent(acceptance: Acceptance, reels: readonly ReelFigures[]): Acceptance {
	const curve = reels.find(({name}) => name === acceptance.name)?.curve;
	if (curve === undefined || curve === null || 'reason' in curve || !curve.taper.endsWith('audio taper'))
		return acceptance;
	return {
		...acceptance,
		verdict: 'fail',
		reasons: [...acceptance.reasons, `${curve.taper} along the ruler: exchange the pot for a linear one`],
	};
}

/** Why one is open: the routine was broken off before any step that asks for it, all were skipped, or what it says itself. */
function openReasons(
	{name, reasons}: Acceptance,
	steps: readonly Step[],
	records: readonly StepRecord[],
): readonly string[] {
	const isOwn = (step: Step) =>
		'channel' in step ? step.channel === name : name === 'stick' && step.kind.startsWith('stick-');
	const own = new Set(steps.filter(isOwn).map(({id}) => id));
	const outcomes = records.filter(({id}) => own.has(id)).map(({outcome}) => outcome);
	if (outcomes.length === 0) return [notAsked];
	return outcomes.every(outcome => outcome === 'skipped') ? ['skipped'] : reasons;
}

function engineFindings(
	findings: readonly Finding[],
	own: readonly BringUpFinding[],
	assignments: readonly Assignment[],
	channels: Features['layout']['channels'],
	reels: readonly ReelFigures[],
	sheet: Sheet | undefined,
): BringUpFinding[] {
	const found: BringUpFinding[] = [];
	for (const {code, channel, status, confidence, summary, advice} of findings) {
		if (notTheGlove.has(code)) continue;
		const answered = assignments.some(each => each.isKnown && itemAt(channels, each.column).name === channel);
		if (answered && disproved.has(code)) continue;
		const column = channels.findIndex(({name}) => name === channel);
		const name = assignments.find(each => each.isKnown && each.column === column)?.name ?? channel;
		if (own.some(each => each.code === code && each.channel === name)) continue;
		// The sheet says that it is mounted like that.
		const isDeclared = sheet?.channels.find(each => each.name === name)?.inverted !== undefined;
		if (code === 'reversed-sensor' && isDeclared && reels.some(reel => reel.name === name && reel.direction !== 0))
			continue;
		const sent = name === channel ? '' : ` (${name} is sent as ${channel}.)`;
		found.push({
			code,
			channel: name,
			status,
			confidence,
			summary: summary + sent,
			advice: advice[0] ?? '',
			...mending(code),
		});
	}

	return found;
}
