import {escapeText} from '../escape-text.ts';
import type {Channel} from '../framing/layout.ts';
import {figureText} from '../report/figures-text.ts';
import {statusText} from '../report/verdict-text.ts';
import {wrapText} from '../wrap-text.ts';
import type {Acceptance} from './acceptance.ts';
import {answerText} from './answer-text.ts';
import type {BringUpResult} from './bring-up-result.ts';
import type {ReelFigures} from './reel-figures.ts';
import {promptOf, type Step} from './steps.ts';

const widthColumns = 80;

/** Every step with its prompt and what answered, a line each; steps that were not reached are named at the end. */
export function transcriptText(result: BringUpResult, steps: readonly Step[], channels: readonly Channel[]): string {
	const lines = result.records.flatMap(record => {
		const step = steps.find(({id}) => id === record.id);
		if (step === undefined) return [];
		return [
			...wrapText(promptOf(step), widthColumns, `${clock(record.from)}  `),
			...wrapText(answerText(record, channels, result.fullScale), widthColumns, '         '),
		];
	});
	const open = result.missing.length > 0 ? wrapText(`Not reached: ${result.missing.join(', ')}.`, widthColumns) : [];
	return `${[...lines, ...open].map(line => escapeText(line)).join('\n')}\n`;
}

/** Verdict, acceptance table and findings, at most 80 columns wide. `name` is the source's. */
export function bringUpText(result: BringUpResult, name: string): string {
	const lines = [
		...wrapText(`${result.verdict.toUpperCase()}: ${verdictSentence(result)}`, widthColumns),
		...wrapText(`Bring-up of ${name}, full scale ${figureText(result.fullScale)}.`, widthColumns),
		'',
		...reelTable(result),
		...stickLines(result),
		...buttonLines(result),
		...reasonLines(result.acceptance),
		...findingLines(result),
	];
	return `${lines.map(line => escapeText(line)).join('\n')}\n`;
}

/** What the verdict rests on, in a sentence that goes on after a colon. */
export function verdictSentence({verdict, acceptance, findings, missing}: BringUpResult): string {
	const named = (wanted: Acceptance['verdict']) =>
		acceptance.filter(each => each.verdict === wanted).map(each => each.name);
	const failed = named('fail');
	const open = named('open');
	const codes = findings
		.filter(({status}) => status === 'failure' || status === 'out-of-spec')
		.map(({code, channel}) => (channel === null ? code : `${code} on ${channel}`));
	if (verdict === 'pass') return 'every channel answered in its place and keeps its limits.';
	const parts = [
		...(failed.length > 0 ? [`${failed.join(', ')} ${failed.length === 1 ? 'is' : 'are'} out of limits`] : []),
		...(codes.length > 0 ? [`found ${codes.join(', ')}`] : []),
		...(open.length > 0 ? [`${open.join(', ')} ${open.length === 1 ? 'is' : 'are'} still open`] : []),
		...(open.length === 0 && missing.length > 0 ? [`${missing.length} steps were not reached`] : []),
	];
	return `${parts.join('; ')}.`;
}

function reelTable({reels, fingers, columns, acceptance}: BringUpResult): string[] {
	return [
		'finger    sent as travel return  rough drops  noise       range bends',
		...reels.map(reel => reelRow(reel, columns[fingers.find(({name}) => name === reel.name)!.column], acceptance)),
	];
}

function reelRow(reel: ReelFigures, sentAs: string, acceptance: readonly Acceptance[]): string {
	const percent = (value: number | null) => (value === null ? '-' : `${value.toFixed(value < 9.95 ? 1 : 0)} %`);
	const verdict = acceptance.find(({name}) => name === reel.name)?.verdict ?? 'open';
	const range = reel.low === null || reel.high === null ? '-' : `${figureText(reel.low)}–${figureText(reel.high)}`;
	const bending = reel.direction === 0 ? '-' : reel.direction > 0 ? 'rises' : 'falls';
	return [
		reel.name.padEnd(9),
		(reel.from === 'nothing' ? '-' : sentAs === reel.name ? '' : sentAs).padEnd(7),
		percent(reel.travelPercent).padStart(6),
		percent(reel.returnErrorPercent).padStart(6),
		percent(reel.roughnessPercent).padStart(6),
		(reel.dropouts === null ? '-' : String(reel.dropouts)).padStart(5),
		(reel.noisePercent === null ? '-' : `${reel.noisePercent.toFixed(2)} %`).padStart(6),
		range.padStart(11),
		bending.padEnd(5),
		verdict,
	].join(' ');
}

function stickLines({stick, acceptance}: BringUpResult): string[] {
	if (stick === null) return [];
	const verdict = acceptance.find(({name}) => name === 'stick')?.verdict ?? 'open';
	const figure = (value: number | null, unit: string) => (value === null ? 'not seen' : `${figureText(value)} ${unit}`);
	return [
		'',
		...wrapText(
			`stick: ${verdict}; rests ${figure(stick.offCentrePercent, '% FS')} off the middle, returns within ` +
				`${figure(stick.scatterPercent, '% FS')}, reaches ${figure(stick.reachPercent, '% of half scale')}`,
			widthColumns,
		),
	];
}

function buttonLines({buttons, columns, acceptance}: BringUpResult): string[] {
	return buttons.map(({name, column}) => {
		const verdict = acceptance.find(each => each.name === name)?.verdict ?? 'open';
		const sent = columns[column] === name ? '' : `, sent as ${columns[column]}`;
		return `${name}: ${verdict}${sent}`;
	});
}

function reasonLines(acceptance: readonly Acceptance[]): string[] {
	const lines = acceptance
		.filter(({reasons}) => reasons.length > 0)
		.flatMap(({name, reasons}) => wrapText(`${name}: ${reasons.join('; ')}`, widthColumns, '- '));
	return lines.length > 0 ? ['', ...lines] : [];
}

function findingLines({findings}: BringUpResult): string[] {
	if (findings.length === 0) return [];
	return [
		'',
		'Findings',
		...findings.flatMap(({code, channel, status, summary, advice}) => [
			...wrapText(
				`${channel === null ? code : `${code} on ${channel}`} (${statusText(status)}): ${summary}`,
				widthColumns,
				'- ',
			),
			...(advice ? wrapText(`Measure next: ${advice}.`, widthColumns, '  ') : []),
		]),
	];
}

/** Minutes and seconds of stream time, in seven columns. */
export function clock(seconds: number): string {
	const whole = Math.floor(seconds);
	return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`.padStart(7);
}
