import {styleText} from 'node:util';
import {cutText} from '../session/cut-text.ts';
import {leftToProveText} from '../session/left-to-prove.ts';
import type {ReadInfo} from '../session/run-session.ts';
import type {ChannelView, Finding, LinkView, Snapshot} from '../session/snapshot.ts';
import type {SourceInfo} from '../stream/source.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {fullStop} from '../text/full-stop.ts';
import {countText, figureText, secondsText} from '../text/number-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import {evidenceLine, findingHeading, nextMeasurement, seenRange} from './finding-text.ts';
import {intakeOf} from './intake-text.ts';
import {notJudgedText} from './not-judged-text.ts';
import {shownCautions} from './step-cautions.ts';
import {rangeBar} from './text-chart.ts';
import {isFirst, mostPressingFirst, verdictSentence, verdictWord} from './verdict-text.ts';

type TextReportOptions = {
	readonly color: boolean;
	readonly ascii: boolean;
	/** Width, 60 to 120 columns; 80 where left out. */
	readonly columns?: number | undefined;
};

/** Where a report goes to a file or a pipe. */
const usualColumns = 80;

type Style = Parameters<typeof styleText>[0];

/** A line of the report before it is escaped and coloured. */
type Line = {readonly text: string; readonly style?: Style};

const plain = (text: string): Line => ({text});
const heading = (text: string): Line => ({text, style: 'underline'});

/** Wraps prose to the width that was asked for. */
type Prose = (text: string, first?: string, rest?: string) => Line[];

const verdictStyles: Readonly<Record<Snapshot['verdict'], Style>> = {
	pass: ['bold', 'green'],
	unproven: ['bold', 'blue'],
	attention: ['bold', 'yellow'],
	fail: ['bold', 'red'],
};

/** The kind of source in a reader's words. */
export function sourceKindText({kind, timing}: SourceInfo): string {
	const times = {measured: '', column: ', times from its time column', assumed: ', times assumed'}[timing];
	return `${kind}${times}`;
}

function findingBlock(finding: Finding, place: number, prose: Prose): Line[] {
	const indent = '   ';
	const measure = nextMeasurement(finding);
	return [
		...prose(`${isFirst(finding) ? 'DO FIRST ' : ''}${findingHeading(finding)}`, `${place}. `).map(
			({text}) => ({text, style: 'bold'}) as const,
		),
		...prose(finding.summary, indent),
		...(finding.mended ? [] : prose(`Evidence: ${evidenceLine(finding)}.`, indent, `${indent}  `)),
		...(measure ? prose(`Measure next: ${fullStop(measure)}`, indent, `${indent}  `) : []),
	];
}

function findingsSection({findings, channels}: Snapshot, prose: Prose): Line[] {
	if (findings.length === 0) return [];
	const codes = [...new Set(findings.map(({code}) => code))];
	const sorted = mostPressingFirst(findings, channels);
	const cautions = shownCautions(sorted, 'next');
	return [
		plain(''),
		heading('Findings, the most pressing first'),
		...sorted.flatMap((finding, index) => findingBlock(finding, index + 1, prose)),
		...(cautions.length > 0 ? prose(`Caution: ${cautions.join(' ')}`, '', '  ') : []),
		...prose(`Causes and remedies: glovebench explain ${codes.length === 1 ? codes[0] : 'CODE'}`),
	];
}

/** Columns of the table of channels beside its bar: with fewer than a few cells more there is none. */
const besideBar = 64;
const fewestCells = 8;
const mostCells = 40;

/** Cells of the bar that shows the range used, in a report of so many columns; 0 for none. */
function barCells(columns: number): number {
	const left = columns - besideBar;
	return left < fewestCells ? 0 : Math.min(mostCells, left);
}

/** Counts for the table: whole ones above 100, else three figures. */
const counts = (value: number | null) => (value === null ? '-' : figureText(value));

function channelRow(channel: ChannelView, ascii: boolean, cells: number): string {
	const {name, role, span, fullScale, restNoise, button, state} = channel;
	const [min, max] = seenRange(channel);
	const shown = name.padEnd(10).slice(0, 24);
	if (role === 'button') {
		const shortest = button?.shortestPressMs ? `, shortest ${figureText(button.shortestPressMs)} ms` : '';
		const seen = button ? `${countText(button.presses, 'press', 'presses')}${shortest}` : '';
		return `${shown}  ${seen.padEnd(cells === 0 ? 33 : 34 + cells)} ${state}`.trimEnd();
	}

	if (role !== 'finger' && role !== 'stick') return `${shown}  ${role}`;
	const range = Number.isNaN(min) ? '-' : `${figureText(min)}${ascii ? '..' : '…'}${figureText(max)}`;
	const share = span !== null && fullScale ? `${Math.round((100 * span) / fullScale)} %` : '-';
	const bar = cells > 0 && fullScale && !Number.isNaN(min) ? rangeBar(min, max, fullScale, cells, ascii) : '';
	return [
		shown,
		...(cells > 0 ? [bar.padEnd(cells)] : []),
		range.padStart(11),
		counts(span).padStart(6),
		share.padStart(6),
		counts(restNoise).padStart(7),
		` ${state}`,
	]
		.join(' ')
		.trimEnd();
}

function channelsSection(snapshot: Snapshot, ascii: boolean, cells: number, prose: Prose): Line[] {
	if (snapshot.channels.length === 0) return [];
	const left = snapshot.verdict === 'unproven' ? '' : leftToProveText(snapshot.channels);
	const analog = snapshot.channels.some(({role}) => role === 'finger' || role === 'stick');
	const scale = `0 ${ascii ? '-' : '–'} full scale`.slice(0, cells).padEnd(cells === 0 ? 0 : cells + 1);
	const columns = `channel    ${scale}       seen   span  of FS   noise  state`;
	return [
		plain(''),
		heading(`Channels (${snapshot.layout?.unit ?? 'counts'}, noise is rms at rest)`),
		...(analog ? [plain(columns)] : []),
		...snapshot.channels.map(channel => plain(channelRow(channel, ascii, cells))),
		...(left === '' ? [] : prose(`Not yet proven: ${left}.`)),
	];
}

/** The link's figures, one fact to a line. */
export function linkLines(link: LinkView, info: SourceInfo): string[] {
	const {intervalMs, bytesPerSecond, lineLoad, jitterMs} = link;
	const rate = link.framesPerSecond === null ? '' : ` at ${figureText(link.framesPerSecond)} frames/s`;
	const load = lineLoad === null ? '' : `, ${Math.round(lineLoad * 100)} % of what ${info.baud} baud can carry`;
	return [
		`${countText(link.frames, 'frame')}${rate}`,
		`${countText(link.badLines, 'damaged line')}${link.lastBadLine === null ? '' : `, the last one ${link.lastBadLine}`}`,
		`${countText(link.strayLines, 'line')} of other text`,
		...(intervalMs
			? [
					`from frame to frame ${figureText(intervalMs.median)} ms in the median, ${figureText(intervalMs.p95)} ms at the 95th percentile, ${figureText(intervalMs.p99)} ms at the 99th, ${figureText(intervalMs.max)} ms at most`,
				]
			: []),
		...lossLines(link),
		...(intervalMs && jitterMs !== null ? [`jitter ${figureText(jitterMs)} ms (RFC 3550)`] : []),
		countText(link.bytes, 'byte'),
		...(bytesPerSecond === null ? [] : [`${figureText(bytesPerSecond)} bytes/s${load}`]),
		...(info.timing === 'assumed'
			? ['The log has no times, or none fine enough: the timing of the link is not judged.']
			: []),
	];
}

/** What did not come: frames by the board's counter, with the worst stretch, and times in which nothing came. */
function lossLines({lost, lostPercent, worstWindow, frames, outages, longestOutageMs}: LinkView): string[] {
	return [
		...(lost === null || lostPercent === null
			? []
			: [`${lost} of ${countText(frames + lost, 'frame')} lost (${figureText(lostPercent)} %)`]),
		...(worstWindow === null
			? []
			: [
					`${figureText(worstWindow.lostPercent)} % lost in the worst ${secondsText(worstWindow.to - worstWindow.from)}, from ${secondsText(worstWindow.from)} on`,
				]),
		...(outages > 0
			? [
					`${countText(outages, 'outage')} (nothing for 200 ms and five intervals), the longest ${figureText(longestOutageMs)} ms`,
				]
			: []),
	];
}

/** What happened to the source besides frames: cut files, lost ports, marks. */
function eventLines(snapshot: Snapshot): string[] {
	return [
		...snapshot.events.map(({t, event, detail}) => `${secondsText(t)}: ${event}${detail ? ` (${detail})` : ''}`),
		...snapshot.marks.map(({t, mark}) => `${secondsText(t)}: mark "${mark}"`),
	];
}

/**
 * The report for a terminal: verdict, findings with evidence and next measurement, channels, link. At most `columns` wide
 * but for words that are longer; says the same without colour. Text from the device is escaped. Ends with a line end.
 */
export function textReport(snapshot: Snapshot, info: ReadInfo, options: TextReportOptions): string {
	const {color, ascii, columns = usualColumns} = options;
	const prose: Prose = (text, first, rest) => wrapText(text, columns, first, rest).map(plain);
	const verdict = `${verdictWord(snapshot.verdict)}: ${verdictSentence(snapshot)}`;
	const events = eventLines(snapshot);
	const intake = intakeOf(snapshot, info);
	const notJudged = notJudgedText(snapshot);
	const lines: Line[] = [
		...wrapText(verdict, columns).map(text => ({text, style: verdictStyles[snapshot.verdict]})),
		...prose(`${secondsText(snapshot.t)} of ${info.name} (${sourceKindText(info)})`),
		...[cutText(snapshot.events, info.name), ...intake.lines, ...intake.odd]
			.filter(Boolean)
			.flatMap(line => prose(line)),
		...snapshot.notes.flatMap(note => prose(`${note}.`)),
		...findingsSection(snapshot, prose),
		...channelsSection(snapshot, ascii, barCells(columns), prose),
		...(notJudged === '' ? [] : prose(notJudged)),
		plain(''),
		heading('Link'),
		...linkLines(snapshot.link, info).flatMap(line => prose(line, '', '  ')),
		...(events.length > 0 ? [plain(''), heading('Events')] : []),
		...events.flatMap(line => prose(line, '', '  ')),
	];
	return lines.map(line => `${finished(line, color, ascii)}\n`).join('');
}

function finished({text, style}: Line, color: boolean, ascii: boolean): string {
	const safe = ascii ? asciiText(escapeText(text)) : escapeText(text);
	return color && style ? styleText(style, safe) : safe;
}
