import {createHash} from 'node:crypto';
import {escapeText} from '../../escape-text.ts';
import type {ChannelView, Finding} from '../../session/snapshot.ts';
import {tool} from '../../version.ts';
import {evidenceText, figureText, secondsText} from '../figures-text.ts';
import {cautions, endState, nextMeasurement, placeText, seenRange, whenText} from '../finding-text.ts';
import {publicName} from '../public-name.ts';
import type {SessionRun} from '../run-session.ts';
import {linkLines, sourceKindText} from '../text-report.ts';
import {statusText, unproven, verdictSentence, verdictWord, worstFirst} from '../verdict-text.ts';
import {freezeChart} from './freeze-chart.ts';
import {handCharts} from './hand-chart.ts';
import {histogramChart} from './histogram-chart.ts';
import {html, Markup} from './markup.ts';
import {stickChart} from './stick-chart.ts';
import {pageStyle} from './style.ts';
import {timelineChart} from './timeline-chart.ts';
import {type NumberedFinding, trendChart} from './trend-chart.ts';

/** Columns of a trend: one per unit of a chart's width. */
const mostBuckets = 320;

/** The stick's path is drawn from the finest history there is. */
const stickSeconds = 100;
const stickBuckets = 2000;

const sampleLines = 12;

const section = (title: string, id: string, ...content: (Markup | null)[]): Markup | null =>
	content.some(part => part !== null) ? html`<section><h2 id="${id}">${title}</h2>${content}</section>` : null;

function nextSteps(findings: readonly NumberedFinding[], waiting: readonly string[]): Markup | null {
	const steps = findings.flatMap(({number, finding}) => {
		const measure = nextMeasurement(finding);
		return measure
			? [html`<li><a href="#finding-${number}">${placeText(finding)}: ${finding.code}</a>. ${measure}.</li>`]
			: [];
	});
	const move =
		waiting.length > 0
			? html`<li>Move ${waiting.join(', ')} through the whole range and back a few times: not proven yet.</li>`
			: null;
	return section(
		'What to do next, in this order',
		'next',
		steps.length > 0 || move ? html`<ol>${steps}${move}</ol>` : null,
	);
}

function findingArticle({session}: SessionRun, {number, finding}: NumberedFinding): Markup {
	const {code, channel, status, summary, evidence, advice, confidence, flaggedAt, from} = finding;
	const frozen = session.freezeFrame(code, channel);
	const chart = frozen ? freezeChart(frozen, from) : null;
	return html`<article class="finding ${status}" id="finding-${number}">
<h3>${number}. ${placeText(finding)}: ${code} <span class="${status}">(${statusText(status)})</span></h3>
<p>${summary}</p>
<p class="soft">${capitalized(whenText(finding))}. Reported at ${secondsText(flaggedAt)}; ${Math.round(confidence * 100)} % sure.</p>
<div class="grid2"><div><strong>Evidence</strong>
<ul>${Object.entries(evidence).map(([name, value]) => html`<li>${evidenceText(name, value)}</li>`)}</ul>
<strong>Measure, in this order</strong>
<ol>${advice.filter(text => !text.startsWith('Caution: ')).map(text => html`<li>${text}</li>`)}</ol></div>
${chart && html`<figure>${chart}<figcaption>The second in which it began${channel === null ? ', all channels' : ''}; the dashed upright line is its beginning.</figcaption></figure>`}</div>
</article>`;
}

function channelFigure(run: SessionRun, channel: ChannelView, findings: readonly NumberedFinding[]): Markup | null {
	const {session, snapshot} = run;
	if (channel.role === 'counter' || channel.role === 'clock' || !(snapshot.t > 0)) return null;
	const buckets = Math.max(2, Math.min(mostBuckets, Math.floor(snapshot.link.frames / 2)));
	const trend = session.trend(channel.index, 0, snapshot.t, buckets);
	const seen = Math.max(1, ...trend.map(({high}) => high).filter(Number.isFinite));
	const highest = channel.fullScale === null ? seen : Math.max(channel.fullScale, channel.usableHigh ?? 0);
	const own = findings.filter(({finding}) => finding.channel === channel.name);
	const numbers = own.map(({number}) => number);
	const noise = channel.restNoise === null ? '' : `, noise at rest ${figureText(channel.restNoise)} rms`;
	const [low, high] = seenRange(channel);
	const range = Number.isNaN(low) ? 'no reading' : `${figureText(low)} to ${figureText(high)}`;
	return html`<figure><h3>${channel.name}: ${endState(channel)}</h3>${trendChart(
		channel.name,
		trend,
		highest,
		snapshot.t,
		own,
	)}<figcaption>${range}${noise}${numbers.length > 0 && `; hatched: finding ${numbers.join(', ')}`}</figcaption></figure>`;
}

function stickFigure({session, snapshot}: SessionRun): Markup | null {
	const {stick, channels, t} = snapshot;
	const x = channels.find(({name}) => name === stick?.x);
	const y = channels.find(({name}) => name === stick?.y);
	if (!stick || !x || !y || !(t > 0)) return null;
	const from = Math.max(0, t - stickSeconds);
	const trend = ({index}: ChannelView) => session.trend(index, from, t, stickBuckets);
	const rest =
		stick.restX === null || stick.restY === null
			? 'no rest seen'
			: `rests at ${figureText(stick.restX)}, ${figureText(stick.restY)} (dashed cross)`;
	const reach = Math.min(...stick.reach);
	return section(
		'Thumb stick',
		'stick',
		html`<figure>${stickChart(stick, trend(x), trend(y), x.fullScale ?? Math.max(x.max, y.max))}<figcaption>Path of the last ${secondsText(t - from)}; ${rest}. Dashed outline: farthest reach in eight directions over the whole session, shortest ${Math.round(100 * reach)} % of half scale${stick.deadZone !== null && `; dead zone that covers every release: ${figureText(stick.deadZone)} counts`}.</figcaption></figure>`,
	);
}

function linkSection({snapshot, info}: SessionRun): Markup | null {
	const histogram = histogramChart(snapshot.link.intervalHistogram);
	return section(
		'Link',
		'link',
		html`<ul>${linkLines(snapshot.link, info).map(line => html`<li>${line}</li>`)}</ul>`,
		histogram && html`<figure>${histogram}<figcaption>Time between two frames.</figcaption></figure>`,
	);
}

function settingsSection({snapshot, session, info}: SessionRun): Markup | null {
	const {layout} = snapshot;
	const {options} = session;
	const rows: readonly (readonly [string, string])[] = [
		['Source', `${publicName(info.name)} (${sourceKindText(info)})`],
		...(info.startedAt ? [['Recorded', info.startedAt] as const] : []),
		...(info.note ? [['Note', info.note] as const] : []),
		['Line', info.baud === null ? 'speed not known' : `${info.baud} baud`],
		[
			'Frames',
			layout
				? `${layout.framing}${layout.separator === null ? '' : `, separated by ${JSON.stringify(layout.separator)}`}${layout.labelled ? ', with labels' : ''}${layout.checksum ? `, ${layout.checksum}` : ''}`
				: 'no layout was found',
		],
		['Declared', declared(options)],
	];
	return section(
		'Layout and settings',
		'settings',
		html`<dl>${rows.map(([name, value]) => html`<dt>${name}</dt><dd>${value}</dd>`)}</dl>`,
		snapshot.channels.length > 0
			? html`<div class="wide"><table><tr><th class="n">#</th><th>Channel</th><th>Role</th><th class="n">Full scale</th><th class="n">Low</th><th class="n">High</th><th class="n">Mean</th></tr>${snapshot.channels.map(
					({index, name, role, fullScale, min, max, mean}) =>
						html`<tr><td class="n">${index}</td><td>${name}</td><td>${role}</td><td class="n">${fullScale ?? '–'}</td><td class="n">${figureText(min)}</td><td class="n">${figureText(max)}</td><td class="n">${figureText(mean, 4)}</td></tr>`,
				)}</table></div>`
			: null,
	);
}

function declared({fullScale, layout, targetRate, baud}: SessionRun['session']['options']): string {
	const parts = [
		baud ? `${baud} baud` : '',
		fullScale ? `full scale ${fullScale}` : '',
		layout ? `layout ${layout}` : '',
		targetRate ? `${targetRate} frames/s` : '',
	].filter(Boolean);
	return parts.length > 0 ? parts.join(', ') : 'nothing; found out from the stream';
}

function withoutEnd(line: Uint8Array): Uint8Array {
	let end = line.length;
	while (end > 0 && (line[end - 1] === 0x0a || line[end - 1] === 0x0d)) end--;
	return line.subarray(0, end);
}

/** The first lines as they came, without their ends, each escaped and cut. */
export function rawLines(sample: Uint8Array, most = sampleLines): string[] {
	const lines: string[] = [];
	let start = 0;
	while (start < sample.length && lines.length < most) {
		const end = sample.indexOf(0x0a, start);
		const next = end === -1 ? sample.length : end + 1;
		lines.push(escapeText(withoutEnd(sample.subarray(start, next)), 160));
		start = next;
	}

	return lines;
}

function eventsSection({snapshot}: SessionRun): Markup | null {
	const rows = [
		...snapshot.events.map(({t, event, detail}) => ({t, text: detail ? `${event}: ${detail}` : event})),
		...snapshot.marks.map(({t, mark}) => ({t, text: `mark: ${mark}`})),
	].sort((a, b) => a.t - b.t);
	return section(
		'Marks and events',
		'events',
		rows.length > 0 ? html`<ul>${rows.map(({t, text}) => html`<li>${secondsText(t)}: ${text}</li>`)}</ul>` : null,
	);
}

const capitalized = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

const numbered = (findings: readonly Finding[]): NumberedFinding[] =>
	worstFirst(findings).map((finding, index) => ({number: index + 1, finding}));

/** Both values that a style sheet's own element needs: its text, and the hash by which the policy lets it in. */
const styleHash = createHash('sha256').update(pageStyle).digest('base64');
const policy = `default-src 'none'; style-src 'sha256-${styleHash}'; base-uri 'none'; form-action 'none'`;

/**
 * The report as one self-contained page: no scripts, nothing loaded from elsewhere, and a Content-Security-Policy that
 * would stop both. Text from the device is escaped. Charts are drawn from decimated history that keeps every extreme,
 * so the size does not grow with the length of the recording.
 */
export function htmlReport(run: SessionRun): string {
	const {snapshot, info} = run;
	const findings = numbered(snapshot.findings);
	const waiting = unproven(snapshot);
	const word = verdictWord(snapshot.verdict);
	const sign = {pass: '✓', attention: '!', fail: '✗'}[snapshot.verdict];
	const warnings = cautions(worstFirst(snapshot.findings));
	const hand = handCharts(snapshot.channels);
	const charts = snapshot.channels
		.map(channel => channelFigure(run, channel, findings))
		.filter(figure => figure !== null);
	const raw = rawLines(run.sample);
	const body = html`<header>
<h1><span class="verdict ${snapshot.verdict}">${sign} ${word}</span> ${capitalized(verdictSentence(snapshot))}</h1>
<p class="soft">${secondsText(snapshot.t)} of ${publicName(info.name)} (${sourceKindText(info)}), checked with ${tool.name} ${tool.version}</p>
</header>
${nextSteps(findings, waiting)}
${section('The hand at a glance', 'hand', hand.length > 0 ? html`<div class="grid2">${hand.map(chart => html`<figure>${chart}</figure>`)}</div>` : null)}
${section(
	'Findings',
	'findings',
	findings.length > 0 ? html`<figure>${timelineChart(findings, snapshot.t)}</figure>` : null,
	...findings.map(finding => findingArticle(run, finding)),
)}
${section('Cautions', 'cautions', warnings.length > 0 ? html`<ul>${warnings.map(text => html`<li>${text}</li>`)}</ul><p>The parts' data sheets and local rules go before this page.</p>` : null)}
${section('Channels over time', 'channels', charts.length > 0 ? html`<p class="soft">The band runs from the lowest to the highest reading.</p><div class="grid2">${charts}</div>` : null)}
${stickFigure(run)}
${linkSection(run)}
${settingsSection(run)}
${eventsSection(run)}
${section('The first lines as they came', 'raw', raw.length > 0 ? html`<pre>${raw.map(line => html`${line}\n`)}</pre>` : null)}`;
	return html`${new Markup('<!doctype html>')}
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${word}: ${publicName(info.name)}</title>
<style>${new Markup(pageStyle)}</style>
</head>
<body>
<svg class="hidden" aria-hidden="true"><defs><pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse"><path class="hatch" d="M-1,1l2,-2M0,6l6,-6M5,7l2,-2"/></pattern></defs></svg>
${body}
</body>
</html>
`.text;
}
