import {findFault} from '../faults/registry.ts';
import {makeLook} from '../screen/look.ts';
import type {Session} from '../session/session.ts';
import type {Snapshot} from '../session/snapshot.ts';
import {handChannels} from './channel-rows.ts';
import {doFirst, doFirstHeights, doFirstParts} from './do-first.ts';
import type {TrendPicture} from './glove-picture.ts';
import {layoutOverview, layoutScreen, stickIsUsed} from './screen-layout.ts';
import {trendBuckets} from './trend-chart.ts';
import type {ViewState} from './view-state.ts';

export type ScreenSize = {readonly columns: number; readonly rows: number};

/** Rows are as many whatever they are drawn with. */
const {glyphs} = makeLook({ascii: false, colorDepth: 1});

/** More lines than this in one chart nobody can follow. */
const mostSeries = 4;

/**
 * The stretch of time a trend shows. It moves on by quarters of its width, so that the picture stands still while the
 * line grows into it.
 */
export function trendWindow(t: number, width: number, end: number | null): {from: number; to: number} {
	const step = width / 4;
	const to = Math.max(width, end ?? Math.ceil((t + 1e-9) / step) * step);
	return {from: to - width, to};
}

/** Columns of the chart on screen; 0 where the page draws none. */
export function trendColumns(snapshot: Snapshot, view: ViewState, size: ScreenSize): number {
	const screen = layoutScreen(size.columns, size.rows, view);
	if (screen.tooSmall) return 0;
	if (view.page === 'trend') return screen.gloveWidth;
	if (view.page !== 'overview') return 0;
	const parts = doFirstParts(doFirst(snapshot), findFault, screen.gloveWidth, glyphs);
	const heights = parts && doFirstHeights(parts);
	const overview = layoutOverview(screen.gloveWidth, screen.bodyHeight, snapshot, heights, stickIsUsed(snapshot));
	return overview.trendHeight === 0 ? 0 : overview.rightWidth;
}

/** The channel whose trend is drawn: the selected one, else one that a finding is open on, else the one that moved last. */
export function trendChannel(snapshot: Snapshot, selected: string | null, moved: string | null): string | null {
	if (selected !== null) return selected;
	const {first, rest} = doFirst(snapshot);
	const faulty = [...(first ? [first] : []), ...rest].find(({to, channel}) => to === null && channel !== null);
	if (faulty !== undefined) return faulty.channel;
	const analog = handChannels(snapshot).filter(({role}) => role !== 'button');
	return (analog.find(({name}) => name === moved) ?? analog[0])?.name ?? null;
}

/** The history the page on screen will draw, one bucket per column; null where it draws none. */
export function fetchTrend(
	session: Session,
	snapshot: Snapshot,
	view: ViewState,
	columns: number,
	channel: string | null,
): TrendPicture | null {
	if (columns === 0) return null;
	const names = view.page === 'trend' ? [...new Set([channel, ...view.pinned])] : [channel];
	const channels = names.flatMap(name => snapshot.channels.find(each => each.name === name) ?? []);
	const {from, to} = trendWindow(snapshot.t, view.trendSeconds, view.trendEnd);
	return {
		from,
		to,
		series: channels.slice(0, mostSeries).map(each => ({
			name: each.name,
			buckets: session.trend(each.index, from, to, trendBuckets(columns)),
		})),
	};
}
