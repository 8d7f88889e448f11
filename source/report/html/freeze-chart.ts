import {scaleLinear} from 'd3-scale';
import {line} from 'd3-shape';
import {itemAt} from '../../item-at.ts';
import {fixedText} from '../../text/number-text.ts';
import {bottomAxis, chartWidth, leftAxis, svg, timeAxis, unit} from './axes.ts';
import {html, type Markup} from './markup.ts';

export type FreezeFrame = {
	readonly times: readonly number[];
	readonly series: readonly {readonly name: string; readonly values: readonly number[]}[];
};

const height = 140;
const frame = {left: 38, right: chartWidth - 46, top: 8, bottom: height - 30};

/** Dash patterns, so that lines differ without colour. */
const dashes = ['', '6 2', '2 2', '8 2 2 2', '1 3', '10 3', '4 1 1 1'];

/**
 * The second in which a finding began, reading by reading, with a mark at `at` where it lies inside. Several channels
 * are told apart by dashes and by their names at the right end. Nothing where no reading was kept.
 */
function freezeChart({times, series}: FreezeFrame, at: number): Markup | null {
	const readings = series.flatMap(({values}) => values).filter(value => Number.isFinite(value));
	const [first, last] = [times[0], times.at(-1)];
	if (first === undefined || last === undefined || times.length < 2 || readings.length === 0) return null;
	const {scale: x, labels} = timeAxis(first, last, frame, 4);
	const lowest = readings.reduce((a, b) => Math.min(a, b));
	const highest = readings.reduce((a, b) => Math.max(a, b));
	const y = scaleLinear()
		.domain(highest > lowest ? [lowest, highest] : [lowest - 1, highest + 1])
		.nice(3)
		.range([frame.bottom, frame.top]);
	const path = line<number>()
		.defined(value => Number.isFinite(value))
		.x((_, i) => x(itemAt(times, i)))
		.y(value => y(value))
		.digits(1);
	// Names at the right end must not lie on each other: each keeps a line's height from the one above.
	const ends = series
		.map(({name: label, values}) => ({label, y: y(values.findLast(Number.isFinite) ?? lowest)}))
		.sort((a, b) => a.y - b.y);
	let above = Number.NEGATIVE_INFINITY;
	for (const end of ends) {
		end.y = Math.max(end.y, above + 10);
		above = end.y;
	}

	return svg(height, `The second around ${fixedText(at, 2)} s`, [
		leftAxis(y, 3, frame),
		...(at >= first && at <= last
			? [html`<path class="moment" d="M${unit(x(at))},${frame.top}V${frame.bottom}"/>`]
			: []),
		...series.map(
			({values}, index) =>
				html`<path class="line" stroke-dasharray="${dashes[index % dashes.length]}" d="${path(values) ?? ''}"/>`,
		),
		...(series.length > 1
			? ends.map(
					({label, y: end}) =>
						html`<text class="small" x="${frame.right + 3}" y="${unit(end + 3)}">${label.slice(0, 8)}</text>`,
				)
			: []),
		bottomAxis(labels, frame),
	]);
}

/** Within this many seconds of the readings a beginning belongs to them. */
const nearSeconds = 2;

/** What the chart shows, truly: the beginning is not always among the readings that were kept. */
export function freezeCaption({times}: FreezeFrame, at: number, isAllChannels: boolean): string {
	const [first, last] = [itemAt(times, 0), itemAt(times, times.length - 1)];
	const whose = isAllChannels ? ', all channels' : '';
	if (at >= first && at <= last)
		return `The second in which it began${whose}; the dashed upright line is its beginning.`;
	if (at > last && at - last < nearSeconds) return `The readings just before it began${whose}.`;
	if (at < first && first - at < nearSeconds) return `The first readings after it began${whose}.`;
	return `The second in which it was clear enough to be reported${whose}.`;
}

/** A figure of the second in which a finding began, with what it shows; nothing where no reading was kept. */
export function freezeFigure(frozen: FreezeFrame | undefined, at: number, channel: string | null): Markup | null {
	const chart = frozen ? freezeChart(frozen, at) : null;
	if (!frozen || !chart) return null;
	return html`<figure>${chart}<figcaption>${freezeCaption(frozen, at, channel === null)}</figcaption></figure>`;
}
