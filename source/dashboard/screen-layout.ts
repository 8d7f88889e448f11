import type {Snapshot} from '../session/snapshot.ts';
import {barChannels} from './channel-rows.ts';
import {fieldColumns} from './stick-field.ts';
import type {ViewState} from './view-state.ts';

/** Below this the dashboard only says that it needs more. */
export const smallestScreen = {columns: 60, rows: 16} as const;

/** Two gloves stand side by side where each gets about the width of a small terminal. */
const sideBySideColumns = 134;

/** Status line, verdict line. */
export const headRows = 2;

/** How the screen is shared out, in cells. */
type ScreenLayout = {
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
type OverviewLayout = {
	readonly barRows: 1 | 2;
	readonly channelRows: number;
	/** Stick and buttons in a line each, where they have no panel. */
	readonly stickLines: number;
	/** DO FIRST with the rule above it. */
	readonly doFirstHeight: number;
	readonly ruleHeight: number;
	/** Stick and buttons at the left, the trend at the right. */
	readonly lowerHeight: number;
	readonly stickHeight: number;
	readonly buttonRows: number;
	readonly leftWidth: number;
	readonly rightWidth: number;
	readonly trendHeight: number;
};

/** A trend in fewer rows shows nothing. */
const leastTrend = 6;

/** A stick's field in fewer rows shows nothing. */
const leastField = 6;

/** A stick's field in more rows shows nothing more. */
const mostField = 17;

/** Columns of the buttons beside it. */
const buttonColumns = 20;

/** A screen with so much room left has a place for stick and buttons, used or not. */
const roomyHeight = 16;
const roomyWidth = 100;

/** So long after it was used the stick keeps its field, seconds. */
const usedSeconds = 5;

/** The stick grows into its field when it is used. */
export function stickIsUsed({channels, t}: Snapshot): boolean {
	return channels.some(
		({role, lastMovedAt}) => role === 'stick' && lastMovedAt !== null && t - lastMovedAt <= usedSeconds,
	);
}

/**
 * Shares out the overview. DO FIRST gets what it needs, then the trend, then what else DO FIRST may say; rows of a part
 * with nothing to say go to the others. `doFirst`: rows it takes at least and at most; undefined where nothing was found.
 */
export function layoutOverview(
	width: number,
	height: number,
	snapshot: Snapshot,
	doFirst: {readonly least: number; readonly most: number} | undefined,
	stickUsed: boolean,
): OverviewLayout {
	const channels = barChannels(snapshot).length;
	const buttons = snapshot.channels.filter(channel => channel.role === 'button').length;
	const hasStick = snapshot.stick !== null;
	const barRows = height >= 1 + 2 * channels + 22 ? 2 : 1;
	const channelRows = Math.max(0, Math.min(channels * barRows, height - 1));
	const lines = (hasStick ? 1 : 0) + (buttons > 0 ? 1 : 0);
	const open = height - 1 - channelRows;
	const roomy = width >= roomyWidth && open - (doFirst?.least ?? 0) >= roomyHeight && lines > 0;
	const stickLines = roomy ? 0 : Math.min(lines, Math.max(0, open - 1));
	const rest = Math.max(0, open - stickLines);
	const doFirstHeight = doFirst === undefined ? 0 : doFirstRows(rest, doFirst);
	const lower = rest - doFirstHeight;
	const hasLower = fitsTrend(lower);
	const lowerHeight = hasLower ? lower - 1 : 0;
	const buttonRows = roomy && buttons > 0 ? Math.min(buttons + 1, Math.max(2, lowerHeight - 9)) : 0;
	const mayGrow = hasStick && hasLower && (roomy || stickUsed);
	const stickHeight = mayGrow ? fieldHeight(width, lowerHeight - buttonRows) : 0;
	const widest = Math.max(stickHeight > 0 ? fieldColumns(stickHeight) : 0, buttonRows > 0 ? buttonColumns : 0);
	const leftWidth = widest > 0 ? widest + 2 : 0;
	return {
		barRows,
		channelRows,
		stickLines,
		doFirstHeight,
		ruleHeight: hasLower ? 1 : lower,
		lowerHeight,
		stickHeight,
		buttonRows,
		leftWidth,
		rightWidth: width - leftWidth,
		trendHeight: lowerHeight,
	};
}

/** Whether a trend and the rule above it fit. */
function fitsTrend(rows: number): boolean {
	return rows - 1 >= leastTrend;
}

/** Rows of DO FIRST among those that it shares with the trend: too few for a trend, they are all of use to it. */
function doFirstRows(rows: number, {least, most}: {readonly least: number; readonly most: number}): number {
	const spare = rows - 2 - leastTrend;
	const wanted = spare >= least ? Math.min(most, spare) : most;
	const height = Math.min(rows, 1 + wanted);
	return fitsTrend(rows - height) ? height : rows;
}

/** Rows of the stick's field, about as high as it looks wide; 0 where it would show nothing. */
function fieldHeight(width: number, rows: number): number {
	const widest = Math.floor((Math.floor(width / 3) + 1) / 2);
	const tallest = Math.min(rows, mostField, Math.max(leastField, widest));
	return tallest >= leastField ? tallest : 0;
}
