import {scaleLinear} from 'd3-scale';
import type {ChannelFigures} from '../../compare/channel-figures.ts';
import type {ComparedChannel} from '../../compare/comparison.ts';
import {bottomAxis, chartWidth, svg, unit} from './axes.ts';
import {html, type Markup} from './markup.ts';

const rowHeight = 40;
const frame = {left: 62, right: chartWidth - 12, top: 4};

/**
 * The stretch of full scale that every channel used in both sessions: A dashed above, B solid below it, so that they are
 * told apart by place, line and letter. Nothing where no channel has travelled.
 */
export function rangeChart(channels: readonly ComparedChannel[]): Markup | null {
	const shown = channels.filter(({a, b}) => hasRange(a) || hasRange(b));
	if (shown.length === 0) return null;
	const bottom = frame.top + shown.length * rowHeight;
	const x = scaleLinear().domain([0, 100]).range([frame.left, frame.right]).clamp(true);
	const rows = shown.map(({name, a, b}, row) => {
		const y = frame.top + row * rowHeight;
		return html`<text class="strong" x="2" y="${y + 22}">${name.slice(0, 9)}</text>${bar(a, 'A', 'before', y + 5, x)}${bar(b, 'B', 'bar', y + 20, x)}`;
	});
	const labels = [0, 25, 50, 75, 100].map(percent => ({
		at: x(percent),
		text: percent === 100 ? '100 % FS' : String(percent),
	}));
	return svg(bottom + 22, 'Range of every channel in A and in B, percent of full scale', [
		...rows,
		bottomAxis(labels, {...frame, bottom}),
	]);
}

function hasRange(figures: ChannelFigures | null): boolean {
	return figures !== null && figures.lowPercentFs !== null && figures.highPercentFs !== null;
}

function bar(
	figures: ChannelFigures | null,
	letter: string,
	look: string,
	y: number,
	x: (percent: number) => number,
): Markup {
	const {lowPercentFs: low, highPercentFs: high} = figures ?? {lowPercentFs: null, highPercentFs: null};
	if (low === null || high === null) {
		return html`<text class="small" x="${frame.left}" y="${y + 9}">${letter}: no travel seen</text>`;
	}

	const right = x(high);
	// Inside the frame: beyond the bar's end, or before its beginning.
	const beside = right + 12 < chartWidth ? {x: right + 3, anchor: ''} : {x: x(low) - 3, anchor: 'end'};
	return html`<rect class="${look}" x="${unit(x(low))}" y="${y}" width="${unit(Math.max(2, right - x(low)))}" height="11"/><text class="small ${beside.anchor}" x="${unit(beside.x)}" y="${y + 9}">${letter}</text>`;
}
