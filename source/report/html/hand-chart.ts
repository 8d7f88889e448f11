import {scaleLinear} from 'd3-scale';
import type {ChannelView} from '../../session/snapshot.ts';
import {figureText} from '../../text/number-text.ts';
import {seenRange} from '../finding-text.ts';
import {svg, unit} from './axes.ts';
import {html, type Markup} from './markup.ts';

const barTop = 22;
const barBottom = 122;
const height = 168;
const columnWidth = 62;

/** A word's sign, so that the state is seen before it is read. */
const signs: Readonly<Record<ChannelView['state'], string>> = {
	proven: '✓',
	waiting: '○',
	learning: '◐',
	open: '◌',
	lost: '✗',
	faulty: '✗',
	spare: '·',
};

function column(channel: ChannelView, left: number): Markup {
	const {name, fullScale, button, state} = channel;
	const [min, max] = seenRange(channel);
	const middle = left + columnWidth / 2;
	const y = scaleLinear()
		.domain([0, fullScale ?? Math.max(1, max)])
		.range([barBottom, barTop])
		.clamp(true);
	const range = Number.isNaN(min) ? 'no reading' : `${figureText(min)}–${figureText(max)}`;
	const bar =
		channel.role === 'button'
			? html`<circle class="field" cx="${middle}" cy="${(barTop + barBottom) / 2}" r="22"/><text class="mid" x="${middle}" y="${(barTop + barBottom) / 2 + 4}">${button?.presses ?? 0}×</text>`
			: html`<rect class="field" x="${middle - 14}" y="${barTop}" width="28" height="${barBottom - barTop}"/>${
					Number.isNaN(min)
						? null
						: html`<rect class="bar ${state}" x="${middle - 14}" y="${unit(y(max))}" width="28" height="${unit(Math.max(2, y(min) - y(max)))}"/>`
				}`;
	return html`<g><text class="mid strong" x="${middle}" y="14">${name.slice(0, 9)}</text>${bar}<text class="mid small" x="${middle}" y="${barBottom + 16}">${channel.role === 'button' ? 'presses' : range}</text><text class="mid" x="${middle}" y="${barBottom + 34}">${signs[state]} ${state}</text></g>`;
}

/** Columns that stand beside each other on a phone. */
const perRow = 6;

/**
 * Every finger, axis and button side by side: the stretch of full scale it used, and what it has shown. Fingers stand with
 * fingers, a hand of them to a row, and axes with their buttons.
 */
export function handCharts(channels: readonly ChannelView[]): Markup[] {
	const of = (role: ChannelView['role']) => channels.filter(channel => channel.role === role);
	const [fingers, sticks, buttons] = [of('finger'), of('stick'), of('button')];
	const rest = sticks.length + buttons.length <= perRow ? [[...sticks, ...buttons]] : [sticks, buttons];
	return [fingers, ...rest].flatMap(evenRows).map(row =>
		svg(
			height,
			row.map(channel => `${channel.name} ${channel.state}`).join(', '),
			row.map((channel, index) => column(channel, index * columnWidth)),
			perRow * columnWidth,
		),
	);
}

/** As few rows as will do, as long as each other: ten fingers are two hands of five. */
function evenRows<Item>(all: readonly Item[]): Item[][] {
	const rows = Math.ceil(all.length / perRow);
	const length = Math.ceil(all.length / rows);
	return Array.from({length: rows}, (_, row) => all.slice(row * length, (row + 1) * length));
}
