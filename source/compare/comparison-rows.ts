import {figureText, fixedText} from '../text/number-text.ts';
import type {ChannelFigures} from './channel-figures.ts';
import type {Comparison, Side} from './comparison.ts';

/** Heading and cells of the tables that every form of the comparison shows. */
export type Table = {readonly heading: readonly string[]; readonly rows: readonly (readonly string[])[]};

/** Channels in both sessions; percent of full scale. */
export function channelTable({channels}: Comparison): Table {
	return {
		heading: ['channel', 'span A', 'B', 'range A', 'B', 'noise A', 'B', 'reversals A', 'B'],
		rows: channels.map(({name, a, b}) => [
			name,
			fixedText(a?.spanPercentFs, 1),
			fixedText(b?.spanPercentFs, 1),
			rangeText(a),
			rangeText(b),
			fixedText(a?.noisePercentFs, 2),
			fixedText(b?.noisePercentFs, 2),
			a === null ? '-' : String(a.reversals),
			b === null ? '-' : String(b.reversals),
		]),
	};
}

/** The links of both sessions. */
export function linkTable({a, b}: Comparison): Table {
	const row = (name: string, text: (side: Side) => string) => [name, text(a), text(b)];
	return {
		heading: ['link', 'A', 'B'],
		rows: [
			row('frames/s', side => figure(side.framesPerSecond)),
			row('jitter (ms)', side => figure(side.jitterMs)),
			row('longest gap (ms)', side => figure(side.longestGapMs)),
			row('bad lines (%)', side => figure(100 * side.badLineShare)),
		],
	};
}

function rangeText(figures: ChannelFigures | null): string {
	if (!figures || figures.lowPercentFs === null || figures.highPercentFs === null) return '-';
	return `${fixedText(figures.lowPercentFs, 0)}–${fixedText(figures.highPercentFs, 0)}`;
}

function figure(value: number | null): string {
	return figureText(value, 3, '-');
}
