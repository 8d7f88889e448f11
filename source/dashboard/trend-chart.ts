import asciichart from 'asciichart';
import {itemAt} from '../item-at.ts';
import type {Glyphs} from '../screen/look.ts';
import {type Row, row, type Tone} from '../screen/rows.ts';
import type {TrendBucket} from '../session/snapshot.ts';
import {fixedText} from '../text/number-text.ts';
import {formatTime} from './format-number.ts';

/** One channel's history for a chart: lowest and highest reading per bucket, oldest first. */
export type TrendSeries = {readonly name: string; readonly buckets: readonly TrendBucket[]};

/** Something that happened, to be marked on the time axis. */
export type TrendMark = {readonly t: number; readonly kind: 'finding' | 'note'};

export type TrendInput = {
	readonly series: readonly TrendSeries[];
	/** Stream seconds at the left and right edge. */
	readonly from: number;
	readonly to: number;
	readonly marks: readonly TrendMark[];
	/** Whole size in cells, axis and marks included. */
	readonly width: number;
	readonly height: number;
	readonly glyphs: Glyphs;
	/** Ends of the value axis; left out, the chart takes what it is given. */
	readonly scale?: {readonly low: number; readonly high: number};
};

/** Columns of the value axis: five digits and the axis line. */
export const trendAxisWidth = 6;

/** Buckets a chart of this width can show, one per column. */
export function trendBuckets(width: number): number {
	return Math.max(1, width - trendAxisWidth);
}

const tones: readonly Tone[] = ['strong', 'function-check', 'maintenance', 'plain'];

/**
 * A chart of one or several channels. The highest and the lowest reading of each column are drawn, so that a dip of
 * one frame shows however far the chart is zoomed out. Where nothing was received the line is interrupted. Series
 * differ in their line characters, not only in tone; the last rows are the time axis and what happened.
 */
export function drawTrend(input: TrendInput): Row[] {
	const {series, from, to, width, height, glyphs} = input;
	const plotHeight = Math.max(2, height - 2);
	const plotWidth = trendBuckets(width);
	const scale = input.scale ?? scaleOf(series);
	const cells = Array.from({length: plotHeight}, () => new Array<string>(plotWidth).fill(' '));
	const owner = Array.from({length: plotHeight}, () => new Array<number>(plotWidth).fill(-1));

	for (const [index, {buckets}] of series.entries()) {
		const symbols = itemAt(glyphs.lines, index % glyphs.lines.length);
		for (const run of finiteRuns(buckets)) {
			drawRun(run.buckets, scale, plotHeight, symbols).forEach((line, y) => {
				line.forEach((character, x) => {
					if (character === ' ' || run.start + x >= plotWidth) return;
					itemAt(cells, y)[run.start + x] = character;
					itemAt(owner, y)[run.start + x] = index;
				});
			});
		}
	}

	const chart = cells.map((line, y) => {
		const value = scale.high - (y / (plotHeight - 1)) * (scale.high - scale.low);
		const labelled = y === 0 || y === plotHeight - 1 || (plotHeight >= 7 && y === (plotHeight - 1) / 2);
		const label = labelled ? fixedText(value, 0).slice(0, 5).padStart(5) : '     ';
		return [{text: label}, {text: glyphs.wall, tone: 'faint' as const}, ...joinOwned(line, itemAt(owner, y))];
	});

	return [...chart, row(timeAxis(from, to, plotWidth, glyphs), 'faint'), markRow(input, plotWidth)];
}

/** Which line characters belong to which channel. */
export function trendLegend(names: readonly string[], glyphs: Glyphs): Row {
	return names.map((name, index) => {
		const stroke = itemAt(itemAt(glyphs.lines, index % glyphs.lines.length), horizontal);
		return {text: `${stroke.repeat(2)} ${name}  `, tone: itemAt(tones, index % tones.length)};
	});
}

/** Lowest and highest finite reading; a flat or empty chart gets some air around it. */
export function scaleOf(series: readonly TrendSeries[]): {low: number; high: number} {
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	for (const {buckets} of series) {
		for (const bucket of buckets) {
			if (bucket.low < low) low = bucket.low;
			if (bucket.high > high) high = bucket.high;
		}
	}

	if (low > high) return {low: 0, high: 1};
	// Fewer than eight counts would blow converter noise up to the chart's full height.
	const missing = Math.max(0, 8 - (high - low));
	// Ends on round numbers: they are easier to read, and stay where they are while readings creep.
	const step = niceStep((high - low + missing) / 4);
	return {low: Math.floor((low - missing / 2) / step) * step, high: Math.ceil((high + missing / 2) / step) * step};
}

/** The next of 1, 2, 5 times a power of ten. */
function niceStep(value: number): number {
	const power = 10 ** Math.floor(Math.log10(value));
	return ([1, 2, 5, 10].find(factor => factor * power >= value - 1e-9) ?? 10) * power;
}

/** asciichart cannot draw gaps, so each stretch of readings is a chart of its own. */
function finiteRuns(buckets: readonly TrendBucket[]): {start: number; buckets: TrendBucket[]}[] {
	const runs: {start: number; buckets: TrendBucket[]}[] = [];
	let open = false;
	for (const [index, bucket] of buckets.entries()) {
		if (!Number.isFinite(bucket.low)) {
			open = false;
			continue;
		}

		if (!open) runs.push({start: index, buckets: []});
		runs.at(-1)!.buckets.push(bucket);
		open = true;
	}

	return runs;
}

/** Column of asciichart's own axis, which is not wanted. */
const offset = 1;

/** Positions of the level and of the vertical line in asciichart's list of symbols. */
const horizontal = 4;
const vertical = 9;

/**
 * One line on a grid of `height` rows: through the middle of each bucket, and upright strokes where a bucket's extremes
 * lie more than a row off the line, which is what a dropout of one frame or noise looks like.
 */
function drawRun(
	buckets: readonly TrendBucket[],
	scale: {readonly low: number; readonly high: number},
	height: number,
	symbols: readonly string[],
): string[][] {
	const range = scale.high - scale.low || 1;
	// asciichart rounds min and max to rows by itself; in units of rows there is nothing left to round.
	const rowOf = (value: number) =>
		Math.max(0, Math.min(height - 1, Math.round(((value - scale.low) / range) * (height - 1))));
	const middles = buckets.map(({low, high}) => rowOf((low + high) / 2));
	// It draws the stretches between points, one column each: n points need n + 1.
	const drawn = asciichart.plot([...middles, middles.at(-1)!], {
		min: 0,
		max: height - 1,
		height: height - 1,
		offset,
		// An empty label would take the first column's place.
		format: () => ' ',
		symbols: [...symbols],
	});
	const grid = drawn.split('\n').map(line => [...line].slice(offset));
	for (const [x, {low, high}] of buckets.entries()) {
		const middle = itemAt(middles, x);
		const around = [middles[x - 1] ?? middle, middle, middles[x + 1] ?? middle];
		const top = rowOf(high);
		const bottom = rowOf(low);
		if (top <= Math.max(...around) + 1 && bottom >= Math.min(...around) - 1) continue;
		for (let up = bottom; up <= top; up++) {
			const line = itemAt(grid, height - 1 - up);
			if ((line[x] ?? ' ') === ' ') line[x] = itemAt(symbols, vertical);
		}
	}

	return grid;
}

function joinOwned(line: readonly string[], owner: readonly number[]): Row {
	const pieces: {text: string; tone?: Tone}[] = [];
	let last: number | undefined;
	for (const [index, character] of line.entries()) {
		// A blank belongs to whatever stands before it.
		const now = character === ' ' ? last : owner[index];
		if (now === last && pieces.length > 0) pieces.at(-1)!.text += character;
		else pieces.push({text: character, ...(now !== undefined && now >= 0 && {tone: tones[now % tones.length]})});
		last = now;
	}

	return pieces;
}

/** Seconds between labels, so that they don't run into each other. */
const tickSteps = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600];

function timeAxis(from: number, to: number, width: number, glyphs: Glyphs): string {
	const span = to - from || 1;
	const step = tickSteps.find(seconds => (seconds / span) * width >= 12) ?? 7200;
	const decimals = step < 0.1 ? 2 : step < 1 ? 1 : 0;
	const cells = new Array<string>(width).fill(glyphs.axis);
	for (let tick = Math.ceil(from / step); tick * step <= to; tick++) {
		const column = Math.round(((tick * step - from) / span) * (width - 1));
		const label = `${glyphs.tick}${formatTime(tick * step, decimals)}`;
		if (column < 0 || column + label.length > width) continue;
		[...label].forEach((character, index) => {
			cells[column + index] = character;
		});
	}

	return ' '.repeat(trendAxisWidth) + cells.join('');
}

function markRow({marks, from, to, glyphs}: TrendInput, width: number): Row {
	const cells = new Array<string>(width).fill(' ');
	const span = to - from || 1;
	// Findings last: where both fall into a column, the finding is what matters.
	for (const kind of ['note', 'finding'] as const) {
		for (const mark of marks) {
			if (mark.kind !== kind || mark.t < from || mark.t > to) continue;
			const column = Math.min(width - 1, Math.round(((mark.t - from) / span) * (width - 1)));
			cells[column] = kind === 'finding' ? glyphs.findingMark : glyphs.noteMark;
		}
	}

	return [{text: ' '.repeat(trendAxisWidth)}, {text: cells.join(''), tone: 'strong'}];
}
