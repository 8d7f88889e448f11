import {CannotError} from '../cannot-error.ts';
import type {Channel, Layout} from '../framing/layout.ts';
import {escapeText} from '../text/escape-text.ts';
import {listText} from '../text/list-text.ts';

/** What the column of times is called: seconds from the start of the source. */
export const timeHeading = 'seconds';

/** A column that is written: its heading, and the channel whose readings stand under it. */
export type FrameColumn = {readonly heading: string; readonly channel: Channel};

/** What a channel is called where two hands may share one table: `left-index`; with one hand its name. */
export function headingOf({name, hand}: Channel): string {
	return hand === undefined ? name : `${hand}-${name}`;
}

/**
 * Whether a channel is nothing but the time of arrival, written into the frames by whoever kept them: it is the first
 * column of what is written in any case.
 */
function isArrival({index, role, label}: Channel): boolean {
	return index === 0 && role === 'clock' && label === timeHeading;
}

/**
 * The columns to write, in order. `wanted` is a list of headings such as `thumb,index`; without it all channels, in the
 * order of the frame. Throws `CannotError` for a heading that no channel has, or that is named twice.
 */
export function frameColumns(layout: Layout, wanted?: string): FrameColumn[] {
	const all = layout.channels
		.filter(channel => !isArrival(channel))
		.map(channel => ({heading: headingOf(channel), channel}));
	if (wanted === undefined) return all;
	const names = wanted
		.split(',')
		.map(name => name.trim())
		.filter(name => name !== timeHeading);
	return names.map((name, place) => {
		const column = all.find(({heading}) => heading === name);
		if (column === undefined)
			throw new CannotError(
				`--columns: no channel is called ${escapeText(JSON.stringify(name), 40)}; there are ${listText(all.map(({heading}) => heading))}.`,
			);
		if (names.indexOf(name) !== place) throw new CannotError(`--columns names ${name} twice: once is enough.`);
		return column;
	});
}

/**
 * Where in a frame of the layout `now` the readings of the columns stand, −1 for none. Columns that were settled under
 * another layout are found by their label, else by their place where the frames are as long as they were, else by name.
 */
export function placesIn(now: Layout, settled: Layout, columns: readonly FrameColumn[]): Int32Array {
	const isByLabel = now.labelled && settled.labelled;
	return Int32Array.from(columns, ({heading, channel}) => {
		if (isByLabel && channel.label !== undefined) {
			const same = now.channels.find(({label}) => label === channel.label);
			if (same !== undefined) return same.index;
		} else if (!isByLabel && now.channels.length === settled.channels.length) return channel.index;
		return now.channels.find(other => headingOf(other) === heading)?.index ?? -1;
	});
}
