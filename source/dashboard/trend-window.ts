import type {Session} from '../session/session.ts';
import type {Snapshot} from '../session/snapshot.ts';
import type {TrendPicture} from './glove-picture.ts';
import {layoutOverview, layoutScreen} from './screen-layout.ts';
import {trendBuckets} from './trend-chart.ts';
import type {ViewState} from './view-state.ts';

export type ScreenSize = {readonly columns: number; readonly rows: number};

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

/** The history the page on screen will draw, one bucket per column; null where it draws none. */
export function fetchTrend(
	session: Session,
	snapshot: Snapshot,
	view: ViewState,
	size: ScreenSize,
): TrendPicture | null {
	const screen = layoutScreen(size.columns, size.rows, view);
	const onPage = view.page === 'trend';
	if (screen.tooSmall || (!onPage && view.page !== 'overview')) return null;
	const overview = layoutOverview(screen.gloveWidth, screen.bodyHeight, snapshot);
	if (!onPage && overview.trendHeight === 0) return null;
	const buckets = trendBuckets(onPage ? screen.gloveWidth : overview.rightWidth);
	const names = onPage ? [...new Set([view.channel, ...view.pinned])] : [view.channel];
	const channels = names.flatMap(name => snapshot.channels.find(channel => channel.name === name) ?? []);
	const {from, to} = trendWindow(snapshot.t, view.trendSeconds, view.trendEnd);
	return {
		from,
		to,
		series: channels.slice(0, mostSeries).map(channel => ({
			name: channel.name,
			buckets: session.trend(channel.index, from, to, buckets),
		})),
	};
}
