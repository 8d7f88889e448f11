import {type ScaleLinear, scaleLinear} from 'd3-scale';
import {trimmedText} from '../../text/number-text.ts';
import {html, type Markup} from './markup.ts';

/** Size of a chart in user units. About the width of a phone, so that its text is readable there at one to one. */
export const chartWidth = 360;

type Frame = {
	readonly left: number;
	readonly right: number;
	readonly top: number;
	readonly bottom: number;
};

/** A coordinate with a tenth of a unit: finer is invisible and costs bytes. */
export function unit(value: number): number {
	return Math.round(value * 10) / 10;
}

/** A scale of stream time, and the labels of its ticks in seconds, minutes beyond two of them, hours beyond three. The last says the unit. */
export function timeAxis(from: number, to: number, frame: Frame, ticks = 5) {
	const length = to - from;
	const [name, seconds] = length > 3 * 3600 ? ['h', 3600] : length > 120 ? ['min', 60] : ['s', 1];
	const scale = scaleLinear()
		.domain([from, to > from ? to : from + 1])
		.range([frame.left, frame.right]);
	const inUnits = scaleLinear().domain(scale.domain().map(t => t / seconds));
	const values = inUnits.ticks(ticks);
	const labels = values.map((value, index) => ({
		at: scale(value * seconds),
		text: `${trimmedText(value, 3)}${index === values.length - 1 ? ` ${name}` : ''}`,
	}));
	return {scale, labels};
}

/** Ticks below a chart, and what they mean where they do not say it themselves. */
export function bottomAxis(
	labels: readonly {readonly at: number; readonly text: string}[],
	frame: Frame,
	meaning?: string,
): Markup {
	const y = frame.bottom;
	const ticks = labels.map(({at, text}) => {
		// A label in the middle of the last tick would be cut off at the chart's edge.
		const anchor = at > frame.right - 10 ? 'end' : 'mid';
		return html`<path d="M${unit(at)},${y}v4"/><text x="${unit(at)}" y="${y + 15}" class="${anchor}">${text}</text>`;
	});
	return html`<g class="axis"><path d="M${frame.left},${y}H${frame.right}"/>${ticks}${
		meaning && html`<text x="${frame.right}" y="${y + 27}" class="end">${meaning}</text>`
	}</g>`;
}

/** Ticks at the left of a chart. */
export function leftAxis(scale: ScaleLinear<number, number>, count: number, frame: Frame): Markup {
	return html`<g class="axis">${scale
		.ticks(count)
		.map(
			value =>
				html`<path class="grid" d="M${frame.left},${unit(scale(value))}H${frame.right}"/><text x="${frame.left - 4}" y="${unit(scale(value) + 4)}" class="end">${value}</text>`,
		)}</g>`;
}

/** On a wide screen a chart is drawn up to this much larger than on a phone, and no larger: its text would shout. */
const mostEnlarged = 1.4;

/** The SVG element around a chart. `label` is what a screen reader says. */
export function svg(height: number, label: string, content: Markup | readonly Markup[], width = chartWidth): Markup {
	const look = width === height ? html` class="square"` : null;
	return html`<svg${look} viewBox="0 0 ${width} ${height}" width="${Math.round(width * mostEnlarged)}" role="img" aria-label="${label}">${content}</svg>`;
}
