import type {SessionRun} from '../../session/run-session.ts';
import type {Snapshot} from '../../session/snapshot.ts';
import {weighs} from '../../session/verdict.ts';
import {fullStop} from '../../text/full-stop.ts';
import {secondsText} from '../../text/number-text.ts';
import {evidenceText} from '../evidence-text.ts';
import {nextMeasurement, placeText, whenText} from '../finding-text.ts';
import {isFirst, mostPressingFirst, statusText} from '../verdict-text.ts';
import {freezeFigure} from './freeze-chart.ts';
import {html, type Markup} from './markup.ts';
import {capitalized, section} from './page-shell.ts';
import type {NumberedFinding} from './trend-chart.ts';

/** Findings with their numbers in the report, the most pressing first. */
export function numbered({findings, channels}: Pick<Snapshot, 'findings' | 'channels'>): NumberedFinding[] {
	return mostPressingFirst(findings, channels).map((finding, index) => ({number: index + 1, finding}));
}

/** The next measurement of each finding, as items of a list. */
export function measurementItems(findings: readonly NumberedFinding[]): Markup[] {
	return findings.flatMap(({number, finding}) => {
		const measure = nextMeasurement(finding);
		return measure
			? [
					html`<li>${isFirst(finding) && html`<strong>Do first:</strong> `}<a href="#finding-${number}">${placeText(finding)}: ${finding.code}</a>. ${fullStop(measure)}</li>`,
				]
			: [];
	});
}

/** What to do next, as a numbered list; nothing where there is nothing to do. */
export function nextSection(steps: readonly Markup[]): Markup | null {
	return section('What to do next, in this order', 'next', steps.length > 0 ? html`<ol>${steps}</ol>` : null);
}

/** One finding in full: measurement, evidence, advice, and the second in which it began. */
export function findingArticle({session}: SessionRun, {number, finding}: NumberedFinding): Markup {
	const {code, channel, status, summary, evidence, advice, confidence, flaggedAt, from} = finding;
	const toDo = weighs(finding) ? advice : [];
	const figure = freezeFigure(session.freezeFrame(code, channel), from, channel);
	return html`<article class="finding ${status}" id="finding-${number}">
<h3>${number}. ${isFirst(finding) && 'DO FIRST '}${placeText(finding)}: ${code} <span class="${status}">(${statusText(status)})</span></h3>
<p>${summary}</p>
<p class="soft">${capitalized(whenText(finding))}. Reported at ${secondsText(flaggedAt)}; ${Math.round(confidence * 100)} % sure.</p>
<div class="grid2"><div><strong>Evidence</strong>
<ul>${Object.entries(evidence).map(([name, value]) => html`<li>${evidenceText(name, value)}</li>`)}</ul>
${
	toDo.length > 0 &&
	html`<strong>Measure, in this order</strong>
<ol>${toDo.map(text => html`<li>${text}</li>`)}</ol>`
}</div>
${figure}</div>
</article>`;
}

/** What to beware of, and what goes before it. */
export function cautionsSection(texts: readonly string[]): Markup | null {
	return section(
		'Cautions',
		'cautions',
		texts.length > 0
			? html`<ul>${texts.map(text => html`<li>${text}</li>`)}</ul><p>The parts' data sheets and local rules go before this page.</p>`
			: null,
	);
}
