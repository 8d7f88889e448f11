import {answerText} from '../../bringup/answer-text.ts';
import type {BringUpFinding} from '../../bringup/bring-up-findings.ts';
import type {BringUpResult} from '../../bringup/bring-up-result.ts';
import {clock, rulerSentence, verdictSentence} from '../../bringup/bring-up-text.ts';
import type {FinishedBringUp} from '../../bringup/finished-bring-up.ts';
import {limitsFor} from '../../bringup/reel-figures.ts';
import {promptOf, type Step} from '../../bringup/steps.ts';
import {cordCaution} from '../../faults/cautions.ts';
import {itemAt} from '../../item-at.ts';
import type {ChannelView} from '../../session/snapshot.ts';
import {writeSheet} from '../../sheet/write-sheet.ts';
import {figureText, secondsText} from '../../text/number-text.ts';
import {tool} from '../../version.ts';
import {saidOnce} from '../finding-text.ts';
import {publicName} from '../public-name.ts';
import {sourceKindText} from '../text-report.ts';
import {statusText} from '../verdict-text.ts';
import {channelFigure} from './channel-figure.ts';
import {cautionsSection, nextSection} from './findings-section.ts';
import {freezeFigure} from './freeze-chart.ts';
import {html, type Markup} from './markup.ts';
import {linkSection} from './page.ts';
import {pageText, section, verdictHeading} from './page-shell.ts';
import {rawBox} from './raw-lines.ts';
import {acceptanceSigns, reelChart} from './reel-chart.ts';
import {rulerChart} from './ruler-chart.ts';
import {settingsPart} from './settings-part.ts';
import {stickFigure} from './stick-figure.ts';

const looks = {pass: 'pass', incomplete: 'attention', fail: 'fail'} as const;

/** The pass/fail record of a guided routine as one self-contained page. */
export function bringUpPage(run: FinishedBringUp): string {
	const {result, bringUp, snapshot, info} = run;
	const {steps} = bringUp;
	const word = result.verdict.toUpperCase();
	const name = publicName(info.name);
	const charts = snapshot.channels.map(channel => answeredFigure(run, channel)).filter(figure => figure !== null);
	const warnings = result.findings.flatMap(({caution}) => caution ?? []);
	return pageText(
		`${word}: bring-up of ${name}`,
		html`<header>
${verdictHeading(looks[result.verdict], word, verdictSentence(result))}
<p class="soft">Bring-up in ${secondsText(snapshot.t)} of ${name} (${sourceKindText(info)}), full scale ${figureText(result.fullScale)}, with ${tool.name} ${tool.version}</p>
${result.cut === '' ? null : html`<p>${result.cut}</p>`}
</header>
${nextSection(nextItems(result, steps))}
${section('Acceptance', 'acceptance', acceptancePart(result))}
${section('Along the ruler', 'ruler', rulerPart(result))}
${section('Findings', 'findings', ...result.findings.map((finding, index) => findingPart(run, finding, index + 1)))}
${cautionsSection(saidOnce([cordCaution, ...warnings]))}
${section('What was asked, and what answered', 'steps', stepList(run))}
${section('Channels over time', 'channels', charts.length > 0 ? html`<p class="soft">Named as they are sent. Dashed frames: steps in which the channel answered.</p><div class="grid2 charts">${charts}</div>` : null)}
<div class="grid2">${section('Thumb stick', 'stick', stickFigure(run))}
${linkSection(run)}</div>
${section('The sheet as built', 'sheet', sheetBox(result))}
<div class="grid2">${section('Layout and settings', 'settings', settingsPart(run))}
${section('The first lines as they came', 'raw', rawBox(run.sample))}</div>`,
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
	const {reels, stick, buttons, acceptance} = result;
	const chart = reelChart(result);
	const verdictOf = (name: string) => acceptance.find(each => each.name === name)?.verdict ?? 'open';
	const signed = (name: string) => `${acceptanceSigns[verdictOf(name)]} ${verdictOf(name)}`;
	const reasons = acceptance.filter(each => each.reasons.length > 0);
	return html`<div class="grid2">${chart && html`<figure>${chart}<figcaption>Range with the hand, in counts; the arrow runs from open hand to fist. The table: percent of full scale, with the limits.</figcaption></figure>`}
<div>${reels.length > 0 && reelTable(result, signed)}
${stick && html`<p>stick: ${signed('stick')}; rests ${percent(stick.offCentrePercent)} FS off the middle, returns within ${percent(stick.scatterPercent)} FS, reaches ${percent(stick.reachPercent)} of half scale</p>`}
${buttons.length > 0 && html`<p>${buttons.map(({name}) => `${name}: ${signed(name)}`).join(', ')}</p>`}</div></div>
${reasons.length > 0 && html`<ul>${reasons.map(each => html`<li>${each.name}: ${each.reasons.join('; ')}</li>`)}</ul>`}`;
}

/** The curve of every reel that was pulled along a ruler, or why there is none; null where none was. */
function rulerPart({reels}: BringUpResult): Markup | null {
	const parts = reels.flatMap(({name, curve}) => {
		if (curve === null) return [];
		if ('reason' in curve) return [html`<p>${name}: ${curve.reason}</p>`];
		return [
			html`<figure>${rulerChart(name, curve)}<figcaption>${name}: ${rulerSentence(curve)}.</figcaption></figure>`,
		];
	});
	return parts.length > 0
		? html`<p class="soft">Readings at the marks; dashed, the best line.</p><div class="grid2 charts">${parts}</div>`
		: null;
}

/** Measured figures; the limits of each in small print, once where they are those of the row above. */
function reelTable({reels, asBuilt}: BringUpResult, signed: (name: string) => string): Markup {
	let shown: readonly string[] = [];
	const rows = reels.map(reel => {
		const limits = limitsFor(reel.name, asBuilt);
		const texts = [
			`≥ ${limits.minTravelPercent}`,
			`≤ ${limits.maxReturnErrorPercent}`,
			`≤ ${limits.maxRoughnessPercent}`,
			`≤ ${limits.maxDropouts}`,
			`≤ ${limits.maxNoisePercent}`,
		];
		const isShown = texts.every((text, i) => text === shown[i]);
		shown = texts;
		const figures = [
			reel.travelPercent,
			reel.returnErrorPercent,
			reel.roughnessPercent,
			reel.dropouts,
			reel.noisePercent,
		];
		return html`<tr><td>${reel.name}</td><td>${signed(reel.name)}</td>${figures.map(
			(figure, i) =>
				html`<td class="n">${figure === null ? '–' : figureText(figure, 2)}${!isShown && html`<br><span class="soft">${texts[i]}</span>`}</td>`,
		)}</tr>`;
	});
	return html`<div class="wide" tabindex="0" role="group" aria-label="The reels"><table><tr><th>Reel</th><th>Verdict</th>${[
		'Travel',
		'Return',
		'Rough',
		'Drops',
		'Noise',
	].map(word => html`<th class="n">${word}</th>`)}</tr>${rows}</table></div>`;
}

function percent(value: number | null): string {
	return value === null ? '–' : `${figureText(value, 2)} %`;
}

function findingPart(run: FinishedBringUp, finding: BringUpFinding, number: number): Markup {
	const {code, channel, status, summary, advice, remedy, confidence} = finding;
	const sent = columnName(run.result, channel);
	const found = run.snapshot.findings.find(each => each.code === code && each.channel === sent);
	const figure = found && freezeFigure(run.session.freezeFrame(code, sent), found.from, sent);
	return html`<article class="finding ${status}" id="finding-${number}">
<h3>${number}. ${channel ?? 'link'}: ${code} <span class="${status}">(${statusText(status)})</span></h3>
<div class="grid2"><div><p>${summary} <span class="soft">${Math.round(100 * confidence)} % sure.</span></p>
${advice && html`<p><strong>Measure next:</strong> ${advice}.</p>`}
${remedy && html`<p><strong>Mend:</strong> ${remedy}</p>`}</div>
${figure}</div>
</article>`;
}

/** What the channel of a finding is called in the stream. */
function columnName({fingers, buttons, columns}: BringUpResult, name: string | null): string | null {
	const place = [...fingers, ...buttons].find(each => each.isKnown && each.name === name)?.column;
	return place === undefined ? name : itemAt(columns, place);
}

function stepList({result, bringUp}: FinishedBringUp): Markup | null {
	const {channels} = bringUp.features.layout;
	const items = result.records.flatMap(record => {
		const step = bringUp.steps.find(({id}) => id === record.id);
		return step === undefined
			? []
			: [
					html`<p><span class="soft">${clock(record.from).trim()}</span> ${promptOf(step)}<br><strong>${record.outcome === 'done' ? '' : '? '}${answerText(record, channels, result.fullScale)}</strong></p>`,
				];
	});
	return items.length > 0 ? html`<div class="columns">${items}</div>` : null;
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
	return html`<pre class="columns" tabindex="0" role="group" aria-label="The sheet as built">${lines.map(line => html`${line}\n`)}</pre>`;
}
