import {itemAt} from '../item-at.ts';
import type {Glyphs} from '../screen/look.ts';
import {type Row, row} from '../screen/rows.ts';
import type {TrendBucket} from '../session/snapshot.ts';
import {escapeText} from '../text/escape-text.ts';
import {listedFindings, subject} from './finding-rows.ts';
import {formatSpan, formatTime} from './format-number.ts';
import type {FreezeFrame, GlovePicture, TrendPicture} from './glove-picture.ts';
import {drawTrend, type TrendMark, type TrendSeries, trendBuckets, trendLegend} from './trend-chart.ts';

/** The trend with its head: which channels, how wide, what lies where; `full` adds what the marks are. */
export function trendRows(picture: GlovePicture, width: number, height: number, glyphs: Glyphs, full: boolean): Row[] {
	const {trend, live} = picture;
	if (trend === null || trend.series.length === 0) return [row(' trend: nothing to draw yet', 'quiet')];
	const marks: TrendMark[] = [
		...live.findings.map(finding => ({t: finding.flaggedAt, kind: 'finding' as const})),
		...live.marks.map(mark => ({t: mark.t, kind: 'note' as const})),
	];
	const inside = listedFindings(live).filter(
		finding => finding.flaggedAt >= trend.from && finding.flaggedAt <= trend.to,
	);
	const head: Row = [
		{text: ` ${formatSpan(trend.to - trend.from)}  `, tone: 'quiet'},
		...trendLegend(
			trend.series.map(series => series.name),
			glyphs,
		),
	];
	const foot: Row[] = [];
	if (full) {
		const texts = inside
			.slice(0, 3)
			.map(finding => `${glyphs.findingMark} ${formatTime(finding.flaggedAt)} ${subject(finding)} ${finding.code}`);
		const notes = live.marks
			.filter(mark => mark.t >= trend.from && mark.t <= trend.to)
			.slice(-2)
			.map(mark => `${glyphs.noteMark} ${formatTime(mark.t)} ${escapeText(mark.mark)}`);
		foot.push(row(` ${[...texts, ...notes].join('  ')}`));
	}

	return [head, ...chartOf(trend, marks, width, height - 1 - foot.length, glyphs), ...foot];
}

/** The chart drawn last of each trend: between two fetches of history the screen is drawn several times. */
const drawn = new WeakMap<TrendPicture, {readonly asked: string; readonly chart: Row[]}>();

function chartOf(
	trend: TrendPicture,
	marks: readonly TrendMark[],
	width: number,
	height: number,
	glyphs: Glyphs,
): Row[] {
	const asked = [width, height, glyphs.axis, ...marks.map(mark => mark.kind + mark.t)].join(' ');
	const known = drawn.get(trend);
	if (known?.asked === asked) return known.chart;
	const chart = drawTrend({...trend, marks, width, height, glyphs});
	drawn.set(trend, {asked, chart});
	return chart;
}

/** A finding's kept second as a chart. */
export function freezeRows(
	frame: FreezeFrame,
	flaggedFrom: number,
	width: number,
	height: number,
	glyphs: Glyphs,
): Row[] {
	const from = frame.times[0] ?? 0;
	const to = frame.times.at(-1) ?? from;
	const columns = Math.max(1, trendBuckets(width));
	const series = frame.series
		.slice(0, 4)
		.map(each => ({name: each.name, buckets: intoColumns(frame.times, each.values, columns)}));
	return [
		[
			{text: ` the second it began, ${formatTime(from, 2)}${glyphs.dash}${formatTime(to, 2)}  `, tone: 'quiet'},
			...trendLegend(
				series.map(each => each.name),
				glyphs,
			),
		],
		...drawTrend({series, from, to, marks: [{t: flaggedFrom, kind: 'finding'}], width, height: height - 1, glyphs}),
	];
}

/**
 * Readings at times that need not be even, as lowest and highest per column. A column between two readings holds the
 * earlier one, as the board did.
 */
export function intoColumns(
	times: readonly number[],
	values: readonly number[],
	columns: number,
): TrendSeries['buckets'] {
	const from = times[0] ?? 0;
	const span = (times.at(-1) ?? from) - from || 1;
	const buckets = Array.from({length: columns}, () => ({low: Number.NaN, high: Number.NaN}));
	for (const [index, t] of times.entries()) {
		const bucket = itemAt(buckets, Math.min(columns - 1, Math.floor(((t - from) / span) * columns)));
		const value = itemAt(values, index);
		if (!(bucket.low <= value)) bucket.low = value;
		if (!(bucket.high >= value)) bucket.high = value;
	}

	let before: TrendBucket = {low: Number.NaN, high: Number.NaN};
	for (const bucket of buckets) {
		if (Number.isNaN(bucket.low)) Object.assign(bucket, before);
		before = bucket;
	}

	return buckets;
}
