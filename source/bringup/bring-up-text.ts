import {findingName, plainName} from '../faults/plain-name.ts';
import type {Channel} from '../framing/layout.ts';
import {itemAt} from '../item-at.ts';
import {saidOnce} from '../report/finding-text.ts';
import {sparkline} from '../report/text-chart.ts';
import {statusText} from '../report/verdict-text.ts';
import type {RulerFigures} from '../ruler/ruler-test.ts';
import {escapeText} from '../text/escape-text.ts';
import {foldTable} from '../text/fold-table.ts';
import {fullStop} from '../text/full-stop.ts';
import {listText} from '../text/list-text.ts';
import {countText, figureText, fixedText, measureText} from '../text/number-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import {type Acceptance, notAsked} from './acceptance.ts';
import {answerText} from './answer-text.ts';
import type {BringUpResult} from './bring-up-result.ts';
import type {ReelFigures} from './reel-figures.ts';
import type {StepRecord} from './step-record.ts';
import {promptOf, type Step} from './steps.ts';

/** Where the text goes to a file or a pipe. */
const usualColumns = 80;

/**
 * Every step with its prompt and what answered, a line each; steps that were not reached are named at the end. Records
 * that are among `earlier` were made before the routine was broken off: their times are of another session.
 */
export function transcriptText(
	result: BringUpResult,
	steps: readonly Step[],
	channels: readonly Channel[],
	earlier: readonly StepRecord[] = [],
	width = usualColumns,
): string {
	const lines = result.records.flatMap(record => {
		const step = steps.find(({id}) => id === record.id);
		if (step === undefined) return [];
		return [
			...wrapText(promptOf(step), width, `${earlier.includes(record) ? 'earlier' : clock(record.from)}  `),
			...wrapText(answerText(record, channels, result.fullScale), width, '         '),
		];
	});
	const open = result.missing.length > 0 ? wrapText(`Not reached: ${result.missing.join(', ')}.`, width) : [];
	return `${[...lines, ...open].map(line => escapeText(line)).join('\n')}\n`;
}

/** Verdict, acceptance table and findings, at most `width` columns wide. `name` is the source's. */
export function bringUpText(result: BringUpResult, name: string, width = usualColumns): string {
	const lines = [
		...wrapText(`${result.verdict.toUpperCase()}: ${verdictSentence(result)}`, width),
		...wrapText(`Bring-up of ${name}, full scale ${figureText(result.fullScale)}.`, width),
		...(result.cut === '' ? [] : wrapText(result.cut, width)),
		'',
		...reelTable(result, width),
		...rulerLines(result, width),
		...stickLines(result, width),
		...buttonLines(result),
		...reasonLines(result.acceptance, width),
		...findingLines(result, width),
	];
	return `${lines.map(line => escapeText(line)).join('\n')}\n`;
}

/** What the verdict rests on, in a sentence that goes on after a colon. */
export function verdictSentence({verdict, acceptance, findings, missing}: BringUpResult): string {
	const named = (wanted: Acceptance['verdict']) =>
		acceptance.filter(each => each.verdict === wanted).map(each => each.name);
	const failed = named('fail');
	const open = named('open');
	if (verdict === 'pass') return 'every channel answered in its place and keeps its limits.';
	const parts = [
		...(failed.length > 0 ? [`${listText(failed)} ${failed.length === 1 ? 'does' : 'do'} not pass`] : []),
		...foundParts(findings),
		...(open.length > 0 ? [`${listText(open)} ${open.length === 1 ? 'is' : 'are'} still open`] : []),
		...(open.length === 0 && missing.length > 0 ? [`${countText(missing.length, 'step')} not reached`] : []),
	];
	return `${parts.join('; ')}.`;
}

/** `found "another finger answered" on index and ring, "fewer frames than wanted"`. */
function foundParts(findings: BringUpResult['findings']): string[] {
	const serious = findings.filter(({status}) => status === 'failure' || status === 'out-of-spec');
	const codes = [...new Set(serious.map(({code}) => code))];
	if (codes.length === 0) return [];
	const texts = codes.map(code => {
		const on = serious.filter(each => each.code === code).flatMap(({channel}) => (channel === null ? [] : [channel]));
		return plainName(code, on.length === 0 ? null : listText(on));
	});
	return [`found ${texts.join(', ')}`];
}

const reelHeading = ['finger', 'sent as', 'travel', 'return', 'rough', 'drops', 'noise', 'range', 'bends', 'verdict'];

function reelTable({reels, fingers, columns, acceptance, fullScale}: BringUpResult, width: number): string[] {
	const hasWholeReadings = fullScale >= 100;
	const rows = reels.map(reel =>
		reelRow(reel, itemAt(columns, fingers.find(({name}) => name === reel.name)!.column), acceptance, hasWholeReadings),
	);
	return foldTable([reelHeading, ...rows], {width, left: [1, 9]});
}

function reelRow(
	reel: ReelFigures,
	sentAs: string,
	acceptance: readonly Acceptance[],
	hasWholeReadings: boolean,
): string[] {
	const reading = (value: number) => (hasWholeReadings ? String(Math.round(value)) : figureText(value));
	const percent = (value: number | null) => measureText(value, value !== null && value < 9.95 ? 1 : 0, '%');
	return [
		reel.name,
		reel.from === 'nothing' ? '-' : sentAs === reel.name ? '' : sentAs,
		percent(reel.travelPercent),
		percent(reel.returnErrorPercent),
		percent(reel.roughnessPercent),
		reel.dropouts === null ? '-' : String(reel.dropouts),
		measureText(reel.noisePercent, 2, '%'),
		reel.low === null || reel.high === null ? '-' : `${reading(reel.low)}–${reading(reel.high)}`,
		reel.direction === 0 ? '-' : reel.direction > 0 ? 'rises' : 'falls',
		acceptance.find(({name}) => name === reel.name)?.verdict ?? 'open',
	];
}

/** What the ruler says of one reel: `straight, linearity 0.5 % of span, …`. */
export function rulerSentence(curve: RulerFigures): string {
	return [
		curve.taper,
		`linearity ${figureText(curve.linearityPercent)} % of span`,
		`last steps over first ${fixedText(curve.slopeRatio, 2)}`,
		`${figureText(curve.mmPerCount)} mm a count`,
		...(curve.hysteresisPercent === null ? [] : [`out and back differ by ${figureText(curve.hysteresisPercent)} %`]),
		...(curve.repeatabilityPercent === null ? [] : [`repeats within ${figureText(curve.repeatabilityPercent)} %`]),
		...(curve.spoolDiameterMm === null ? [] : [`spool ${figureText(curve.spoolDiameterMm)} mm`]),
		...(curve.leftOut > 0 ? [`${countText(curve.leftOut, 'mark')} at the end of the track left out`] : []),
	].join(', ');
}

/** What the ruler says of each reel, with its curve from the first mark to the last. */
function rulerLines({reels}: BringUpResult, width: number): string[] {
	const lines = reels.flatMap(({name, curve}) => {
		if (curve === null) return [];
		if ('reason' in curve) return wrapText(`${name}: ${curve.reason}`, width, '', '  ');
		const levels = curve.curve.map(({level}) => level);
		const [low, high] = [Math.min(...levels), Math.max(...levels)];
		const drawn = sparkline(
			levels.map(level => ({low: level - low, high: level - low})),
			high - low,
		);
		return [
			...wrapText(`${name}: ${drawn} ${rulerSentence(curve)}`, width, '', '  '),
			...wrapText(`table of 9: ${curve.ninePoints.map(level => figureText(level)).join(', ')}`, width, '  '),
		];
	});
	return lines.length === 0 ? [] : ['', 'Along the ruler', ...lines];
}

function stickLines({stick, acceptance}: BringUpResult, width: number): string[] {
	if (stick === null) return [];
	const verdict = acceptance.find(({name}) => name === 'stick')?.verdict ?? 'open';
	const figure = (value: number | null, before: string, after: string) =>
		value === null ? [] : [`${before} ${figureText(value, 2)} ${after}`];
	const figures = [
		...figure(stick.offCentrePercent, 'rests', '% FS off the middle'),
		...figure(stick.scatterPercent, 'returns within', '% FS'),
		...figure(stick.reachPercent, 'reaches', '% of half scale'),
	].join(', ');
	return ['', ...wrapText(`stick: ${verdict}${figures && `; ${figures}`}`, width)];
}

function buttonLines({buttons, columns, acceptance}: BringUpResult): string[] {
	return buttons.map(({name, column}) => {
		const verdict = acceptance.find(each => each.name === name)?.verdict ?? 'open';
		const sent = columns[column] === name ? '' : `, sent as ${columns[column]}`;
		return `${name}: ${verdict}${sent}`;
	});
}

function reasonLines(acceptance: readonly Acceptance[], width: number): string[] {
	const lines = acceptance
		.filter(({reasons}) => reasons.length > 0 && !(reasons.length === 1 && reasons[0] === notAsked))
		.flatMap(({name, reasons}) => wrapText(`${name}: ${reasons.join('; ')}`, width, '- '));
	return lines.length > 0 ? ['', ...lines] : [];
}

function findingLines({findings}: BringUpResult, width: number): string[] {
	if (findings.length === 0) return [];
	const said = new Set<string>();
	const once = (text: string) => {
		if (text === '' || said.has(text)) return [];
		said.add(text);
		return wrapText(text, width, '  ');
	};
	const codes = [...new Set(findings.map(({code}) => code))];
	return [
		'',
		'Findings',
		...findings.flatMap(({status, summary, advice, remedy, ...named}) => [
			...wrapText(`${findingName(named)} (${statusText(status)}): ${summary}`, width, '- '),
			...(advice ? once(`Measure next: ${fullStop(advice)}`) : []),
			...(remedy ? once(`Mend: ${remedy}`) : []),
		]),
		...saidOnce(findings.flatMap(({caution}) => caution ?? [])).flatMap(text => wrapText(`Caution: ${text}`, width)),
		`Causes and remedies: glovebench explain ${codes.length === 1 ? codes[0] : 'CODE'}`,
	];
}

/** Minutes and seconds of stream time, in seven columns. */
export function clock(seconds: number): string {
	const whole = Math.floor(seconds);
	return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`.padStart(7);
}
