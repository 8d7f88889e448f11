import {scaleLinear} from 'd3-scale';
import {area} from 'd3-shape';
import type {Finding, TrendBucket} from '../../session/snapshot.ts';
import {bottomAxis, chartWidth, leftAxis, svg, timeAxis, unit} from './axes.ts';
import {drawnSpans} from './drawn-spans.ts';
import {html, type Markup} from './markup.ts';

const height = 130;
const frame = {left: 38, right: chartWidth - 6, top: 16, bottom: height - 30};

/** A finding and its number in the report; null where the report does not tell of it. */
export type NumberedFinding = {readonly number: number | null; readonly finding: Finding};

/**
 * History of one channel as a band from the lowest to the highest reading of each bucket, so that no extreme is lost,
 * with the stretches of its findings hatched and numbered, and `framed` ones in dashed frames.
 */
export function trendChart(
	name: string,
	trend: readonly TrendBucket[],
	highest: number,
	seconds: number,
	findings: readonly NumberedFinding[],
	framed: readonly {readonly from: number; readonly to: number}[] = [],
): Markup {
	const {scale: x, labels} = timeAxis(0, seconds, frame);
	// A digit eaten by the line makes a reading that no scale could hold.
	const y = scaleLinear().domain([0, highest]).range([frame.bottom, frame.top]).clamp(true);
	const step = seconds / trend.length;
	const band = area<TrendBucket>()
		.defined(({low}) => !Number.isNaN(low))
		.x((_, i) => unit(x((i + 0.5) * step)))
		// At least a hair's breadth, or a steady reading would not be seen.
		.y0(({low}) => unit(y(low) + 0.4))
		.y1(({high}) => unit(y(high) - 0.4))
		.digits(1);
	// Numbers of findings that begin together stand beside each other.
	let nextNumberAt = 0;
	const numberMark = (number: number | null, left: number) => {
		if (number === null) return null;
		const at = Math.max(left + 1, nextNumberAt);
		nextNumberAt = at + 6 * String(number).length + 5;
		return html`<text class="number" x="${unit(at)}" y="${frame.top - 4}">${number}</text>`;
	};

	const marks = findings
		.flatMap(({number, finding}) => {
			const spans = drawnSpans(finding.spans, seconds, x);
			const [first] = spans;
			return first === undefined ? [] : [{number, spans, left: first[0]}];
		})
		.sort((a, b) => a.left - b.left)
		.map(
			({number, spans, left: start}) =>
				html`${spans.map(
					([left, width]) =>
						html`<rect class="mark" x="${unit(left)}" y="${frame.top}" width="${unit(width)}" height="${frame.bottom - frame.top}"/>`,
				)}${numberMark(number, start)}`,
		);
	return svg(height, `${name} over time`, [
		leftAxis(y, highest > 1 ? 3 : 1, frame),
		...marks,
		...framed.map(
			({from, to}) =>
				html`<rect class="open" x="${unit(x(from))}" y="${frame.top - 6}" width="${unit(Math.max(2, x(to) - x(from)))}" height="${frame.bottom - frame.top + 6}"/>`,
		),
		html`<path class="band" d="${band(trend) ?? ''}"/>`,
		bottomAxis(labels, frame),
	]);
}
