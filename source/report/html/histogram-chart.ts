import {scaleLinear, scaleLog} from 'd3-scale';
import {bottomAxis, chartWidth, svg, unit} from './axes.ts';
import {html, type Markup} from './markup.ts';

const height = 130;
const frame = {left: 12, right: chartWidth - 12, top: 8, bottom: height - 30};

/** Where bin `i` of `LinkView.intervalHistogram` begins, ms. */
function binStartMs(i: number): number {
	return 0.1 * 2 ** (i / 4);
}

/**
 * How many frame intervals had which length, on a scale by factors. Nothing without an interval. `others` are counts
 * that stand beside these: both get the same scale of time.
 */
export function histogramChart(counts: readonly number[], others: readonly number[] = []): Markup | null {
	if (!counts.some(count => count > 0)) return null;
	const all = counts.map((count, i) => count + (others[i] ?? 0));
	const first = all.findIndex(count => count > 0);
	const last = all.findLastIndex(count => count > 0);
	// A bin of air on both sides, and never so few that a lone bar fills the chart.
	const low = Math.max(0, Math.min(first - 1, Math.floor((first + last) / 2) - 6));
	const high = Math.max(last + 2, low + 12);
	const [from, to] = [binStartMs(low), binStartMs(high)];
	const x = scaleLog().domain([from, to]).range([frame.left, frame.right]);
	const most = counts.reduce((a, b) => Math.max(a, b));
	// Square root: one late frame in an hour must still be seen.
	const y = scaleLinear()
		.domain([0, Math.sqrt(most)])
		.range([frame.bottom, frame.top]);
	const bars = counts.map((count, i) => {
		if (count === 0) return null;
		const [left, right] = [x(binStartMs(i)), x(binStartMs(i + 1))];
		const top = Math.min(y(Math.sqrt(count)), frame.bottom - 1.5);
		return html`<rect class="bar" x="${unit(left)}" y="${unit(top)}" width="${unit(Math.max(1, right - left - 1))}" height="${unit(frame.bottom - top)}"><title>${count}</title></rect>`;
	});
	const labels = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000]
		.filter(ms => ms >= from && ms <= to)
		.map(ms => ({at: x(ms), text: String(ms)}));
	return svg(height, 'How often which time passed between two frames', [
		html`<g>${bars}</g>`,
		bottomAxis(labels, frame, 'ms between frames (bar height: square root of how often)'),
	]);
}
