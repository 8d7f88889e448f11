import {scaleLinear} from 'd3-scale';
import {itemAt} from '../../item-at.ts';
import {bestLine, type RulerFigures} from '../../ruler/ruler-test.ts';
import {figureText} from '../../text/number-text.ts';
import {bottomAxis, chartWidth, leftAxis, svg, unit} from './axes.ts';
import {html, type Markup} from './markup.ts';

const height = 170;
const frame = {left: 44, right: chartWidth - 12, top: 8, bottom: height - 34};

/** The readings of a reel at the marks of a ruler, and the best line through them, dashed. */
export function rulerChart(name: string, {curve}: Pick<RulerFigures, 'curve'>): Markup {
	const mm = curve.map(point => point.mm);
	const levels = curve.map(({level}) => level);
	const [from, to] = [itemAt(mm, 0), itemAt(mm, mm.length - 1)];
	const x = scaleLinear().domain([from, to]).range([frame.left, frame.right]);
	const y = scaleLinear()
		.domain([Math.min(...levels), Math.max(...levels)])
		.nice()
		.range([frame.bottom, frame.top]);
	const {slope, intercept} = bestLine(mm, levels);
	const lineAt = (at: number): string =>
		`${unit(x(at))},${unit(Math.min(frame.bottom, Math.max(frame.top, y(intercept + slope * at))))}`;
	const points = curve.map(
		point =>
			html`<circle cx="${unit(x(point.mm))}" cy="${unit(y(point.level))}" r="2.5"><title>${point.mm} mm: ${figureText(point.level)}</title></circle>`,
	);
	const labels = x.ticks(5).map(at => ({at: x(at), text: String(at)}));
	return svg(height, `Readings of ${name} along the ruler`, [
		leftAxis(y, 4, frame),
		html`<path d="M${curve.map(point => `${unit(x(point.mm))},${unit(y(point.level))}`).join('L')}"/>`,
		html`<path class="grid" stroke-dasharray="4 3" d="M${lineAt(from)}L${lineAt(to)}"/>`,
		html`<g>${points}</g>`,
		bottomAxis(labels, frame, 'mm of cord'),
	]);
}
