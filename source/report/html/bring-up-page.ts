import type {Acceptance} from '../../bringup/acceptance.ts';
import {answerText} from '../../bringup/answer-text.ts';
import type {BringUpFinding} from '../../bringup/bring-up-findings.ts';
import type {BringUpResult} from '../../bringup/bring-up-result.ts';
import {clock, verdictSentence} from '../../bringup/bring-up-text.ts';
import {limitsFor, type ReelFigures} from '../../bringup/reel-figures.ts';
import type {BringUpRun} from '../../bringup/run-bring-up.ts';
import {promptOf, type Step} from '../../bringup/steps.ts';
import {cordCaution} from '../../faults/cautions.ts';
import {findFault} from '../../faults/registry.ts';
import type {ChannelView} from '../../session/snapshot.ts';
import {writeSheet} from '../../sheet/write-sheet.ts';
import {tool} from '../../version.ts';
import {figureText, secondsText} from '../figures-text.ts';
import {saidOnce} from '../finding-text.ts';
import {publicName} from '../public-name.ts';
import {sourceKindText} from '../text-report.ts';
import {statusText} from '../verdict-text.ts';
import {channelFigure} from './channel-figure.ts';
import {cautionsSection, nextSection} from './findings-section.ts';
import {freezeChart} from './freeze-chart.ts';
import {html, type Markup} from './markup.ts';
import {linkSection} from './page.ts';
import {pageText, section, verdictHeading} from './page-shell.ts';
import {rawBox} from './raw-lines.ts';
import {acceptanceSigns, reelChart} from './reel-chart.ts';
import {settingsPart} from './settings-part.ts';
import {stickFigure} from './stick-figure.ts';

const looks = {pass: 'pass', incomplete: 'attention', fail: 'fail'} as const;

/** A run that had frames in it. */
export type FinishedBringUp = BringUpRun & {
	readonly bringUp: NonNullable<BringUpRun['bringUp']>;
	readonly result: BringUpResult;
};

/** The pass/fail record of a guided routine as one self-contained page. */
export function bringUpPage(run: FinishedBringUp): string {
	const {result, bringUp, snapshot, info} = run;
	const {steps} = bringUp;
	const word = result.verdict.toUpperCase();
	const name = publicName(info.name);
	const charts = snapshot.channels.map(channel => answeredFigure(run, channel)).filter(figure => figure !== null);
	const warnings = result.findings.flatMap(({code}) => findFault(code)?.caution ?? []);
	return pageText(
		`${word}: bring-up of ${name}`,
		html`<header>
${verdictHeading(looks[result.verdict], word, verdictSentence(result))}
<p class="soft">Bring-up in ${secondsText(snapshot.t)} of ${name} (${sourceKindText(info)}), full scale ${figureText(result.fullScale)}, with ${tool.name} ${tool.version}</p>
</header>
${nextSection(nextItems(result, steps))}
${section('Acceptance', 'acceptance', acceptancePart(result))}
${section('Findings', 'findings', ...result.findings.map((finding, index) => findingPart(run, finding, index + 1)))}
${cautionsSection(saidOnce([cordCaution, ...warnings]))}
${section('What was asked, and what answered', 'steps', stepTable(run))}
${section('Channels over time', 'channels', charts.length > 0 ? html`<p class="soft">Named as they are sent. Dashed frames: steps in which the channel answered.</p><div class="grid2 charts">${charts}</div>` : null)}
${section('Thumb stick', 'stick', stickFigure(run))}
${linkSection(run)}
${section('The sheet as built', 'sheet', sheetBox(result))}
${section('Layout and settings', 'settings', settingsPart(run))}
${section('The first lines as they came', 'raw', rawBox(run.sample))}`,
	);
}

/** Findings first, then what failed or was left open without one, then the steps that were not reached. */
function nextItems({findings, acceptance, missing}: BringUpResult, steps: readonly Step[]): Markup[] {
	const hasFinding = (name: string) =>
		findings.some(({channel}) => channel === name || (name === 'stick' && channel?.startsWith('stick')));
	return [
		...findings.flatMap(({code, channel, advice}, index) =>
			advice ? [html`<li><a href="#finding-${index + 1}">${channel ?? 'link'}: ${code}</a>. ${advice}.</li>`] : [],
		),
		...acceptance
			.filter(({name, verdict}) => verdict === 'fail' && !hasFinding(name))
			.map(({name, reasons}) => html`<li>${name}: ${reasons.join('; ')}.</li>`),
		...acceptance
			.filter(({verdict}) => verdict === 'open')
			.map(({name, reasons}) => html`<li>Ask ${name} again: ${reasons.join('; ')}.</li>`),
		...(missing.length > 0
			? [
					html`<li>Go on with the routine: ${missing
						.map(id => steps.find(step => step.id === id)?.id ?? id)
						.join(', ')} not reached.</li>`,
				]
			: []),
	];
}

function acceptancePart(result: BringUpResult): Markup {
	const {reels, stick, buttons, columns, acceptance} = result;
	const chart = reelChart(result);
	const verdictOf = (name: string) => acceptance.find(each => each.name === name);
	const sentAs = (name: string, column: number) => (columns[column] === name ? '' : `sent as ${columns[column]}`);
	return html`${chart && html`<figure>${chart}<figcaption>Range with the hand, in counts; the arrow runs from open hand to fist.</figcaption></figure>`}
${
	reels.length > 0 &&
	html`<div class="wide"><table><tr><th>Reel</th><th class="n">Travel</th><th class="n">Return</th><th class="n">Rough</th><th class="n">Dropouts</th><th class="n">Noise</th><th></th></tr>${reels.map(
		reel => reelRows(reel, sentAs(reel.name, reel.column), verdictOf(reel.name), result),
	)}</table></div>`
}
<ul>${stick && html`<li>${verdictText(verdictOf('stick'), 'stick')}: rests ${percent(stick.offCentrePercent)} FS off the middle, returns within ${percent(stick.scatterPercent)} FS, reaches ${percent(stick.reachPercent)} of half scale</li>`}${buttons.map(
		({name, column}) => html`<li>${verdictText(verdictOf(name), name)} ${sentAs(name, column)}</li>`,
	)}</ul>`;
}

function verdictText(acceptance: Acceptance | undefined, name: string): string {
	const {verdict, reasons} = acceptance ?? {verdict: 'open' as const, reasons: []};
	return `${acceptanceSigns[verdict]} ${name} ${verdict}${reasons.length > 0 ? ` (${reasons.join('; ')})` : ''}`;
}

/** Figures with their limits in small print under them, and why, where it did not pass. */
function reelRows(
	{name, travelPercent, returnErrorPercent, roughnessPercent, dropouts, noisePercent}: ReelFigures,
	sentAs: string,
	acceptance: Acceptance | undefined,
	{asBuilt}: BringUpResult,
): Markup {
	const limits = limitsFor(name, asBuilt);
	const cell = (shown: string, limit: string) =>
		html`<td class="n">${shown}<br><span class="soft">${limit}</span></td>`;
	const verdict = acceptance?.verdict ?? 'open';
	const remarks = [sentAs, ...(acceptance?.reasons ?? [])].filter(Boolean).join('; ');
	return html`<tr><th>${name}</th>${cell(percent(travelPercent), `≥ ${limits.minTravelPercent} %`)}${cell(
		percent(returnErrorPercent),
		`≤ ${limits.maxReturnErrorPercent} %`,
	)}${cell(percent(roughnessPercent), `≤ ${limits.maxRoughnessPercent} %`)}${cell(
		dropouts === null ? '–' : String(dropouts),
		`≤ ${limits.maxDropouts}`,
	)}${cell(percent(noisePercent), `≤ ${limits.maxNoisePercent} %`)}<td class="prose"><strong>${acceptanceSigns[verdict]} ${verdict}</strong>${remarks && html`<br>${remarks}`}</td></tr>`;
}

function percent(value: number | null): string {
	return value === null ? '–' : `${figureText(value, 2)} %`;
}

function findingPart(run: FinishedBringUp, finding: BringUpFinding, number: number): Markup {
	const {code, channel, status, summary, advice, confidence} = finding;
	const sent = columnName(run.result, channel);
	const found = run.snapshot.findings.find(each => each.code === code && each.channel === sent);
	const frozen = found && run.session.freezeFrame(code, sent);
	const chart = frozen ? freezeChart(frozen, found.from) : null;
	return html`<article class="finding ${status}" id="finding-${number}">
<h3>${number}. ${channel ?? 'link'}: ${code} <span class="${status}">(${statusText(status)})</span></h3>
<p>${summary} <span class="soft">${Math.round(100 * confidence)} % sure.</span></p>
${advice && html`<p><strong>Measure next:</strong> ${advice}.</p>`}
${chart && html`<figure>${chart}<figcaption>The second in which it began; the dashed upright line is its beginning.</figcaption></figure>`}
</article>`;
}

/** What the channel of a finding is called in the stream. */
function columnName({fingers, buttons, columns}: BringUpResult, name: string | null): string | null {
	const place = [...fingers, ...buttons].find(each => each.isKnown && each.name === name)?.column;
	return place === undefined ? name : columns[place];
}

function stepTable({result, bringUp}: FinishedBringUp): Markup | null {
	const {channels} = bringUp.features.layout;
	const rows = result.records.flatMap(record => {
		const step = bringUp.steps.find(({id}) => id === record.id);
		return step === undefined
			? []
			: [
					html`<tr><td class="n">${clock(record.from)}</td><td class="prose">${promptOf(step)}<br><strong>${record.outcome === 'done' ? '' : '? '}${answerText(record, channels, result.fullScale)}</strong></td></tr>`,
				];
	});
	return rows.length > 0 ? html`<div class="wide"><table>${rows}</table></div>` : null;
}

function answeredFigure(run: FinishedBringUp, channel: ChannelView): Markup | null {
	const {fingers, buttons, records} = run.result;
	const answered = records.filter(({column, outcome}) => outcome === 'done' && column === channel.index);
	const part = [...fingers, ...buttons].find(({column, isKnown}) => isKnown && column === channel.index)?.name;
	const title = part === undefined || part === channel.name ? channel.name : `${channel.name}: really ${part}`;
	return channelFigure(run, channel, [], title, answered);
}

/** What was measured of the sheet; its explanations stay with the file that `bringup -o` writes. */
function sheetBox({asBuilt}: BringUpResult): Markup {
	const lines = writeSheet(asBuilt)
		.split('\n')
		.filter(line => line.trim() !== '' && !line.startsWith('#'))
		.map(line => line.replace(/ {2,}#.*$/, ''));
	return html`<pre>${lines.map(line => html`${line}\n`)}</pre>`;
}
