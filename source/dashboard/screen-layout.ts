import type {Snapshot} from '../session/snapshot.ts';
import {barChannels} from './channel-rows.ts';
import {fieldColumns} from './stick-field.ts';
import type {ViewState} from './view-state.ts';

/** Below this the dashboard only says that it needs more. */
export const smallestScreen = {columns: 60, rows: 16} as const;

/** Two gloves stand side by side where each gets about the width of a small terminal. */
const sideBySideColumns = 134;

/** Source line, link line, alert line. */
export const headRows = 3;

/** How the screen is shared out, in cells. */
export type ScreenLayout = {
	readonly tooSmall: boolean;
	/** One column and one row less than the terminal: a full line or screen would make it wrap or scroll. */
	readonly width: number;
	readonly height: number;
	/** Gloves shown, by index. */
	readonly shown: readonly number[];
	readonly gloveWidth: number;
	/** Rows of a page, under the head and over the foot. */
	readonly bodyHeight: number;
};

export function layoutScreen(columns: number, rows: number, view: ViewState): ScreenLayout {
	const width = columns - 1;
	const height = rows - 1;
	const both = view.gloves.length > 1 && columns >= sideBySideColumns;
	const shown = both ? view.gloves.map((_, index) => index) : [view.focus];
	const foot = view.mode === 'replay' ? 2 : 1;
	return {
		tooSmall: columns < smallestScreen.columns || rows < smallestScreen.rows,
		width,
		height,
		shown,
		gloveWidth: both ? Math.floor((width - (shown.length - 1)) / shown.length) : width,
		bodyHeight: height - headRows - foot,
	};
}

/** The overview's parts, in cells; 0 for what there is no room or no need for. */
export type OverviewLayout = {
	readonly barRows: 1 | 2;
	readonly channelRows: number;
	readonly stickHeight: number;
	readonly leftWidth: number;
	readonly rightWidth: number;
	readonly lowerHeight: number;
	readonly buttonRows: number;
	readonly findingsHeight: number;
	readonly trendHeight: number;
	/** Stick and buttons share one line instead of a panel. */
	readonly compact: boolean;
};

export function layoutOverview(width: number, height: number, snapshot: Snapshot): OverviewLayout {
	const channels = barChannels(snapshot).length;
	const buttons = snapshot.channels.filter(channel => channel.role === 'button').length;
	const hasLeft = snapshot.stick !== null || buttons > 0;
	const barRows = height >= 1 + 2 * channels + 20 ? 2 : 1;
	const channelRows = Math.min(channels * barRows, height - 4);
	const lowerHeight = Math.max(0, height - 1 - channelRows);
	if (lowerHeight < 9 || width < 56) {
		return {
			barRows,
			channelRows,
			lowerHeight,
			stickHeight: 0,
			leftWidth: 0,
			rightWidth: width,
			buttonRows: 0,
			findingsHeight: Math.max(0, lowerHeight - (hasLeft ? 1 : 0)),
			trendHeight: 0,
			compact: hasLeft,
		};
	}

	const buttonRows = buttons === 0 ? 0 : Math.min(buttons + 1, Math.max(2, lowerHeight - 8));
	const widest = Math.floor(width / 3);
	const stickHeight =
		snapshot.stick === null ? 0 : Math.max(7, Math.min(lowerHeight - buttonRows, 17, Math.floor((widest + 1) / 2)));
	const leftWidth = hasLeft ? Math.max(snapshot.stick === null ? 0 : fieldColumns(stickHeight), 20) + 2 : 0;
	const trendHeight = lowerHeight >= 11 ? Math.max(6, Math.min(18, Math.floor(lowerHeight / 2))) : 0;
	return {
		barRows,
		channelRows,
		lowerHeight,
		stickHeight,
		leftWidth,
		rightWidth: width - leftWidth,
		buttonRows,
		findingsHeight: lowerHeight - trendHeight,
		trendHeight,
		compact: false,
	};
}
