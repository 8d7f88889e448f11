import {cutText} from '../session/cut-text.ts';
import {leftToProveText} from '../session/left-to-prove.ts';
import type {SessionRun} from '../session/run-session.ts';
import type {ChannelView, Finding, TrendBucket} from '../session/snapshot.ts';
import {weighs} from '../session/verdict.ts';
import {asciiText} from '../text/ascii-text.ts';
import {fullStop} from '../text/full-stop.ts';
import {codeText, literal} from '../text/markdown-text.ts';
import {countText, figureText, secondsText} from '../text/number-text.ts';
import {evidenceLine, nextMeasurement, placeText, seenRange, whenText} from './finding-text.ts';
import {intakeOf} from './intake-text.ts';
import {notJudgedText} from './not-judged-text.ts';
import {publicName} from './public-name.ts';
import {shownCautions} from './step-cautions.ts';
import {sparkline} from './text-chart.ts';
import {linkLines, sourceKindText} from './text-report.ts';
import {isFirst, mostPressingFirst, statusText, verdictSentence, verdictWord} from './verdict-text.ts';

type MarkdownOptions = {
	/** Everything, however long; else at most `mostCharacters`. */
	readonly full: boolean;
	readonly ascii?: boolean | undefined;
};

/** What the strictest chats take in one message (common practice, no source). */
export const mostCharacters = 2000;

/** How much is told: steps that are taken one after the other until the report is short enough. */
type Detail = {
	readonly findings: number;
	readonly evidence: boolean;
	readonly advice: 'all' | 'next' | 'none';
	/** Cautions of the steps told, or the first of them alone. */
	readonly cautions: 'all' | 'first';
	/** Whether the whole intake is told, or its first line. */
	readonly intake: boolean;
	readonly chartCells: number;
};

const fullDetail: Detail = {
	findings: Number.POSITIVE_INFINITY,
	evidence: true,
	advice: 'all',
	cautions: 'all',
	intake: true,
	chartCells: 48,
};

const shorterDetails: readonly Detail[] = [
	{findings: 12, evidence: true, advice: 'next', cautions: 'all', intake: true, chartCells: 32},
	{findings: 12, evidence: true, advice: 'next', cautions: 'first', intake: true, chartCells: 32},
	{findings: 12, evidence: false, advice: 'next', cautions: 'first', intake: true, chartCells: 24},
	{findings: 8, evidence: false, advice: 'next', cautions: 'first', intake: false, chartCells: 16},
	{findings: 6, evidence: false, advice: 'next', cautions: 'first', intake: false, chartCells: 0},
	{findings: 8, evidence: false, advice: 'none', cautions: 'first', intake: false, chartCells: 0},
	{findings: 4, evidence: false, advice: 'none', cautions: 'first', intake: false, chartCells: 0},
	{findings: 2, evidence: false, advice: 'none', cautions: 'first', intake: false, chartCells: 0},
];

function code(text: string): string {
	return `\`${codeText(text)}\``;
}

function findingItem(finding: Finding, place: number, {evidence, advice}: Detail): string[] {
	const next = nextMeasurement(finding);
	return [
		`${place}. ${isFirst(finding) ? 'DO FIRST ' : ''}**${literal(placeText(finding))}: ${finding.code}** (${statusText(finding.status)}), ${whenText(finding)}`,
		`   ${literal(finding.summary)}`,
		...(evidence && !finding.mended ? [`   Evidence: ${literal(evidenceLine(finding))}.`] : []),
		...(advice === 'next' && next ? [`   Measure next: ${literal(fullStop(next))}`] : []),
		...(advice === 'all' && weighs(finding) ? finding.advice.map(text => `   - ${literal(text)}`) : []),
	];
}

function channelLine(channel: ChannelView, trend: readonly TrendBucket[], ascii: boolean): string {
	const {name, role, restNoise, fullScale, button, state} = channel;
	const [min, max] = seenRange(channel);
	const shown = name.padEnd(9);
	if (role === 'button') return `${shown} ${countText(button?.presses ?? 0, 'press', 'presses')}, ${state}`;
	if (Number.isNaN(min)) return `${shown} no reading`;
	const noise = restNoise === null ? '' : `, noise ${figureText(restNoise)}`;
	const chart = trend.length > 0 && fullScale ? `${sparkline(trend, fullScale, ascii)} ` : '';
	return `${shown} ${chart}${figureText(min)}…${figureText(max)}${noise}, ${state}`;
}

function charts({session, snapshot}: SessionRun, cells: number, ascii: boolean): string[] {
	const channels = snapshot.channels.filter(({role}) => role === 'finger' || role === 'stick' || role === 'button');
	if (cells === 0 || channels.length === 0) return [];
	return [
		'```',
		...channels.map(channel => {
			const trend = channel.role === 'button' ? [] : session.trend(channel.index, 0, snapshot.t, cells);
			return codeText(channelLine(channel, trend, ascii));
		}),
		'```',
	];
}

/** Cautions of the steps that are told. */
function cautionLines(findings: readonly Finding[], {advice, cautions}: Detail): string[] {
	if (advice === 'none') return [];
	const texts = shownCautions(findings, advice);
	const told = cautions === 'all' ? texts : texts.slice(0, 1);
	return told.length === 0 ? [] : ['', `Caution: ${literal(told.join(' '))}`];
}

function compose(run: SessionRun, detail: Detail, ascii: boolean): string {
	const {snapshot, info} = run;
	const findings = mostPressingFirst(snapshot.findings, snapshot.channels);
	const shown = findings.slice(0, detail.findings);
	const unshown = findings.length - shown.length;
	const left = snapshot.verdict === 'unproven' ? '' : leftToProveText(snapshot.channels);
	const notJudged = notJudgedText(snapshot);
	const cut = cutText(snapshot.events, info.name);
	const {lines: read, odd} = intakeOf(snapshot, info);
	const intake = detail.intake ? [...read, ...odd] : read.slice(0, 1);
	const lines = [
		`**${verdictWord(snapshot.verdict)}**: ${verdictSentence(snapshot)} ` +
			`${secondsText(snapshot.t)} of ${code(publicName(info.name))} (${sourceKindText(info)})`,
		...(cut === '' ? [] : [literal(cut)]),
		...intake.map(line => literal(line)),
		...snapshot.notes.map(note => `${literal(note)}.`),
		'',
		...shown.flatMap((finding, index) => findingItem(finding, index + 1, detail)),
		...(unshown > 0 ? [`…and ${countText(unshown, 'more finding')}.`] : []),
		...(shown.length > 0 ? [''] : []),
		...charts(run, detail.chartCells, ascii),
		...(left === '' ? [] : [`Not yet proven: ${literal(left)}.`, '']),
		...(notJudged === '' ? [] : [literal(notJudged), '']),
		...linkLines(snapshot.link, info).map((line, index) => literal(index === 0 ? `Link: ${line}` : line)),
		...cautionLines(shown, detail),
	];
	const text = `${lines.join('\n')}\n`;
	return ascii ? asciiText(text) : text;
}

/**
 * The report for a chat message or a forum post. Unless `full`, at most `mostCharacters`: what matters less is left
 * out in steps, and the number of findings left out is told. Device text cannot become markup or a mention.
 */
export function markdownReport(run: SessionRun, {full, ascii = false}: MarkdownOptions): string {
	if (full) return compose(run, fullDetail, ascii);
	let text = '';
	for (const detail of shorterDetails) {
		text = compose(run, detail, ascii);
		if (text.length <= mostCharacters) return text;
	}

	const end = '…\n';
	return text.slice(0, mostCharacters - end.length) + end;
}
