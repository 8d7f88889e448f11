import {placeText} from '../finding-text.ts';
import {statusText} from '../verdict-text.ts';
import {bottomAxis, svg, timeAxis, unit} from './axes.ts';
import {drawnSpans} from './drawn-spans.ts';
import {html, type Markup} from './markup.ts';
import type {NumberedFinding} from './trend-chart.ts';

const rowHeight = 26;

/** When each finding was there: a row each, its name above its bars. */
export function timelineChart(findings: readonly NumberedFinding[], seconds: number): Markup {
	const width = 360;
	const bottom = findings.length * rowHeight + 4;
	const frame = {left: 6, right: width - 6, top: 0, bottom};
	const {scale: x, labels} = timeAxis(0, seconds, frame);
	const rows = findings.map(({number, finding}, row) => {
		const y = row * rowHeight;
		const bars = drawnSpans(finding.spans, seconds, x).map(
			([left, barWidth]) =>
				html`<rect class="bar ${finding.status}" x="${unit(left)}" y="${y + 16}" width="${unit(barWidth)}" height="8"/>`,
		);
		return html`<text x="${frame.left}" y="${y + 12}">${number}. ${placeText(finding)}: ${finding.code} (${statusText(finding.status)})</text>${bars}`;
	});
	return svg(bottom + 30, 'When each finding was there', [...rows, bottomAxis(labels, frame)]);
}
