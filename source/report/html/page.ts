import {cutText} from '../../session/cut-text.ts';
import {leftToProveText} from '../../session/left-to-prove.ts';
import type {SessionRun} from '../../session/run-session.ts';
import type {Snapshot} from '../../session/snapshot.ts';
import {secondsText} from '../../text/number-text.ts';
import {tool} from '../../version.ts';
import {intakeOf} from '../intake-text.ts';
import {notJudgedText} from '../not-judged-text.ts';
import {publicName} from '../public-name.ts';
import {shownCautions} from '../step-cautions.ts';
import {linkLines, sourceKindText} from '../text-report.ts';
import {verdictSentence, verdictWord} from '../verdict-text.ts';
import {channelFigure} from './channel-figure.ts';
import {eventsList} from './events-list.ts';
import {cautionsSection, findingArticle, measurementItems, nextSection, numbered} from './findings-section.ts';
import {handCharts} from './hand-chart.ts';
import {histogramChart} from './histogram-chart.ts';
import {html, type Markup} from './markup.ts';
import {pageText, section, verdictHeading} from './page-shell.ts';
import {rawBox} from './raw-lines.ts';
import {settingsPart} from './settings-part.ts';
import {stickFigure} from './stick-figure.ts';
import {timelineChart} from './timeline-chart.ts';

/** Every finger, axis and button side by side. */
function handSection({snapshot}: SessionRun): Markup | null {
	const charts = handCharts(snapshot.channels);
	return section(
		'The hand at a glance',
		'hand',
		charts.length > 0 ? html`<div class="grid2">${charts.map(chart => html`<figure>${chart}</figure>`)}</div>` : null,
	);
}

/** The link's figures, and how its frames were spaced. */
export function linkSection({snapshot, info}: SessionRun): Markup | null {
	const histogram = histogramChart(snapshot.link.intervalHistogram);
	return section(
		'Link',
		'link',
		html`<ul>${linkLines(snapshot.link, info).map(line => html`<li>${line}</li>`)}</ul>`,
		histogram && html`<figure>${histogram}<figcaption>Time between two frames.</figcaption></figure>`,
	);
}

/** How to prove what has not been proven. */
function provingItems({channels}: Snapshot): Markup[] {
	const left = leftToProveText(channels);
	return left === '' ? [] : [html`<li>Not yet proven: ${left}.</li>`];
}

/**
 * The report on one session as one self-contained page. Text from the device is escaped. Charts are drawn from
 * decimated history that keeps every extreme, so the size does not grow with the length of the recording.
 */
export function htmlReport(run: SessionRun): string {
	const {snapshot, info} = run;
	const findings = numbered(snapshot);
	const word = verdictWord(snapshot.verdict);
	const name = publicName(info.name);
	const notJudged = notJudgedText(snapshot);
	const cut = cutText(snapshot.events, info.name);
	const intake = intakeOf(snapshot, info);
	const charts = snapshot.channels
		.map(channel => channelFigure(run, channel, findings))
		.filter(figure => figure !== null);
	return pageText(
		`${word}: ${name}`,
		html`<header>
${verdictHeading(snapshot.verdict, word, verdictSentence(snapshot))}
<p class="soft">${secondsText(snapshot.t)} of ${name} (${sourceKindText(info)}), checked with ${tool.name} ${tool.version}</p>
${cut !== '' && html`<p>${cut}</p>`}
${[...intake.lines, ...intake.odd].map(line => html`<p class="soft">${line}</p>`)}
${snapshot.notes.map(note => html`<p>${note}.</p>`)}</header>
${nextSection([...measurementItems(findings), ...provingItems(snapshot)])}
${handSection(run)}
${section(
	'Findings',
	'findings',
	findings.length > 0 ? html`<figure>${timelineChart(findings, snapshot.t)}</figure>` : null,
	...findings.map(finding => findingArticle(run, finding)),
)}
${section('Not judged yet', 'waiting', notJudged === '' ? null : html`<p>${notJudged}</p>`)}
${cautionsSection(
	shownCautions(
		findings.map(({finding}) => finding),
		'all',
	),
)}
${section('Channels over time', 'channels', charts.length > 0 ? html`<p class="soft">The band runs from the lowest to the highest reading.</p><div class="grid2 charts">${charts}</div>` : null)}
<div class="grid2">${section('Thumb stick', 'stick', stickFigure(run))}
${linkSection(run)}</div>
${section('Marks and events', 'events', eventsList(snapshot))}
<div class="grid2">${section('Layout and settings', 'settings', settingsPart(run))}
${section('The first lines as they came', 'raw', rawBox(run.sample))}</div>`,
	);
}
