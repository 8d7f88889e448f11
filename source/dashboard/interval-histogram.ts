import {itemAt} from '../item-at.ts';
import {sumOf} from '../math/sums.ts';
import type {Glyphs} from '../screen/look.ts';
import {type Row, row} from '../screen/rows.ts';
import {formatMilliseconds} from './format-number.ts';

/** Lower edge of a bin in milliseconds: the bins are quarter octaves above 0.1 ms. */
export function binEdgeMs(bin: number): number {
	return 0.1 * 2 ** (bin / 4);
}

/**
 * Frame intervals as a histogram of `height` rows with a time axis under it. Only the stretch of bins that holds
 * anything is drawn, one bin of air at each side; where columns are fewer than bins, neighbours are added up. A bin
 * that holds anything is at least one step high, so that a rare long gap can't hide.
 */
export function drawHistogram(counts: readonly number[], width: number, height: number, glyphs: Glyphs): Row[] {
	const first = counts.findIndex(count => count > 0);
	if (first < 0) return [row('no intervals yet', 'quiet')];
	const last = counts.findLastIndex(count => count > 0);
	const start = Math.max(0, first - 1);
	const end = Math.min(counts.length, last + 2);
	const perColumn = Math.max(1, Math.ceil((end - start) / width));
	const repeat = Math.max(1, Math.min(4, Math.floor(width / Math.ceil((end - start) / perColumn))));
	const sums: number[] = [];
	for (let bin = start; bin < end; bin += perColumn) {
		sums.push(sumOf(counts.slice(bin, Math.min(end, bin + perColumn))));
	}

	const steps = glyphs.columns.length;
	const bars = Math.max(1, height - 1);
	const top = Math.max(...sums);
	const heights = sums.map(sum => (sum === 0 ? 0 : Math.max(1, Math.round((sum / top) * bars * steps))));
	const rows: Row[] = [];
	for (let line = bars - 1; line >= 0; line--) {
		const text = heights
			.map(tall => {
				const filled = tall - line * steps;
				return (filled <= 0 ? ' ' : itemAt(glyphs.columns, Math.min(steps, filled) - 1)).repeat(repeat);
			})
			.join('');
		rows.push(row(text));
	}

	const axis = new Array<string>(sums.length * repeat).fill(' ');
	let free = 0;
	for (let index = 0; index < sums.length; index++) {
		const label = formatMilliseconds(binEdgeMs(start + index * perColumn));
		const at = index * repeat;
		if (at < free || at + label.length > axis.length) continue;
		[...label].forEach((character, offset) => {
			axis[at + offset] = character;
		});
		free = at + label.length + 2;
	}

	rows.push(row(axis.join('').trimEnd(), 'quiet'));
	return rows;
}
