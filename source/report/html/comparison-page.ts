import type {ComparedFinding, ComparedFindings} from '../../compare/compare-findings.ts';
import {sideVerdict} from '../../compare/compare-text.ts';
import type {Comparison, Side} from '../../compare/comparison.ts';
import {channelTable, linkTable} from '../../compare/comparison-rows.ts';
import {findingName} from '../../faults/plain-name.ts';
import type {SessionRun} from '../../session/run-session.ts';
import {weighs} from '../../session/verdict.ts';
import {figureText, secondsText} from '../../text/number-text.ts';
import {tool} from '../../version.ts';
import {publicName} from '../public-name.ts';
import {shownCautions} from '../step-cautions.ts';
import {linkLines} from '../text-report.ts';
import {statusText} from '../verdict-text.ts';
import {channelFigure} from './channel-figure.ts';
import {eventsList} from './events-list.ts';
import {cautionsSection, findingArticle, measurementItems, nextSection, numbered} from './findings-section.ts';
import {histogramChart} from './histogram-chart.ts';
import {html, type Markup} from './markup.ts';
import {pageText, section, verdictHeading} from './page-shell.ts';
import {rangeChart} from './range-chart.ts';
import {rawBox} from './raw-lines.ts';
import {settingsPart} from './settings-part.ts';
import {stickFigure} from './stick-figure.ts';
import {textTable} from './text-table.ts';
import {timelineChart} from './timeline-chart.ts';
import type {NumberedFinding} from './trend-chart.ts';

/** How a comparison's word is shown: what is worse than before is red as a failure is. */
const looks = {better: 'pass', same: 'pass', mixed: 'attention', unknown: 'attention', worse: 'fail'} as const;

/**
 * Two sessions side by side as one self-contained page. What is still wrong is told in full, with the moments in which
 * it began in B. `a` and `b` are the finished sessions that `comparison` was made of.
 */
export function comparisonPage(comparison: Comparison, a: SessionRun, b: SessionRun): string {
	const {verdict, findings, changes, channels} = comparison;
	const word = verdict.word.toUpperCase();
	const left = numbered({findings: b.snapshot.findings.filter(weighs), channels: b.snapshot.channels});
	const before = numbered(a.snapshot);
	const waiting = [...new Set(findings.untested.map(({channel}) => channel ?? 'every finger'))];
	return pageText(
		`${word}: ${publicName(a.info.name)} and ${publicName(b.info.name)}`,
		html`<header>
${verdictHeading(looks[verdict.word], word, verdict.sentence)}
<dl>${sideRow('A', comparison.a)}${sideRow('B', comparison.b)}</dl>
<p class="soft">Compared with ${tool.name} ${tool.version}</p>
</header>
${nextSection([
	...measurementItems(left),
	...(waiting.length > 0
		? [html`<li>Move ${waiting.join(', ')} there and back in B, then compare again: not put to the test there.</li>`]
		: []),
])}
${section('Findings in A and in B', 'compared', findingTable(findings))}
${section('What else has changed', 'changes', changes.length > 0 ? html`<ul>${changes.map(text => html`<li>${text}</li>`)}</ul>` : null)}
${section('The hand at a glance', 'hand', handPart(comparison))}
${section(
	'What is wrong in B',
	'findings',
	left.length > 0 ? html`<figure>${timelineChart(left, b.snapshot.t)}</figure>` : null,
	...left.map(finding => findingArticle(b, finding)),
)}
${cautionsSection(
	shownCautions(
		left.map(({finding}) => finding),
		'all',
	),
)}
${section('Channels over time', 'channels', channelPairs(channels, a, b, before, left))}
${section('Thumb stick', 'stick', pair(stickFigure(a, 'A'), stickFigure(b, 'B')))}
${section('Link', 'link', textTable('Figures of both links', linkTable(comparison).heading, linkTable(comparison).rows), pair(linkPart('A', a, b), linkPart('B', b, a)))}
${section('Layout and settings', 'settings', html`<div class="grid2"><div><h3>A</h3>${settingsPart(a)}</div><div><h3>B</h3>${settingsPart(b)}</div></div>`)}
${section('Marks and events', 'events', pair(underLetter('A', eventsList(a.snapshot)), underLetter('B', eventsList(b.snapshot))))}
${section('The first lines as they came', 'raw', pair(underLetter('A', rawBox(a.sample)), underLetter('B', rawBox(b.sample))))}`,
	);
}

function sideRow(letter: string, side: Side): Markup {
	return html`<dt>${letter}</dt><dd>${publicName(side.name)}: ${secondsText(side.seconds)}, ${figureText(side.frames)} frames, ${sideVerdict(side)}${side.notJudged === '' ? '' : html`<br><span class="soft">${side.notJudged}</span>`}</dd>`;
}

function findingTable({gone, appeared, remaining, untested}: ComparedFindings): Markup | null {
	const rows = (sign: string, findings: readonly ComparedFinding[]) =>
		findings.map(
			finding =>
				html`<tr><td>${sign}</td><td class="prose">${findingName(finding)} (${statusText(finding.status)})<br>${finding.summary}</td></tr>`,
		);
	const all = [
		...rows('✗ new', appeared),
		...rows('= remains', remaining),
		...rows('? not tested', untested),
		...rows('✓ gone', gone),
	];
	return all.length > 0
		? html`<div class="wide" tabindex="0" role="group" aria-label="Findings in A and in B"><table>${all}</table></div>`
		: null;
}

function handPart(comparison: Comparison): Markup | null {
	if (comparison.channels.length === 0) return null;
	const chart = rangeChart(comparison.channels);
	const {heading, rows} = channelTable(comparison);
	return html`<div class="grid2">${chart && html`<figure>${chart}<figcaption>Dashed: A. Solid: B.</figcaption></figure>`}<div>${textTable('Channels of A and B', heading, rows)}<p class="soft">Percent of full scale; noise is rms at rest.</p></div></div>`;
}

/** A and B of one kind beside each other; nothing where there is neither. */
function pair(a: Markup | null, b: Markup | null): Markup | null {
	return a || b ? html`<div class="grid2">${a}${b}</div>` : null;
}

function underLetter(letter: string, content: Markup | null): Markup | null {
	return content && html`<div><h3>${letter}</h3>${content}</div>`;
}

function channelPairs(
	channels: Comparison['channels'],
	a: SessionRun,
	b: SessionRun,
	findingsA: readonly NumberedFinding[],
	findingsB: readonly NumberedFinding[],
): Markup | null {
	const figure = (letter: string, run: SessionRun, name: string, findings: readonly NumberedFinding[]) => {
		const channel = run.snapshot.channels.find(each => each.name === name);
		if (!channel) return html`<figure><h3>${name} in ${letter}: not there</h3></figure>`;
		return channelFigure(run, channel, findings, `${name} in ${letter}: ${channel.state}`);
	};

	const pairs = channels.map(({name}) =>
		pair(figure('A', a, name, unnumbered(findingsA)), figure('B', b, name, findingsB)),
	);
	return pairs.length > 0
		? html`<p class="soft">The band runs from the lowest to the highest reading. Hatched: a finding; the numbers are those above.</p>${pairs}`
		: null;
}

/** Findings of A have no number on the page: it tells what is wrong in B. */
function unnumbered(findings: readonly NumberedFinding[]): NumberedFinding[] {
	return findings.map(({finding}) => ({finding, number: null}));
}

function linkPart(letter: string, run: SessionRun, other: SessionRun): Markup {
	const {link} = run.snapshot;
	const histogram = histogramChart(link.intervalHistogram, other.snapshot.link.intervalHistogram);
	return html`<div><h3>${letter}</h3><ul>${linkLines(link, run.info).map(line => html`<li>${line}</li>`)}</ul>${histogram && html`<figure>${histogram}<figcaption>Time between two frames in ${letter}.</figcaption></figure>`}</div>`;
}
