import {textWidth} from './text-width.ts';

type TableShape = {
	/** Columns of the terminal. */
	readonly width: number;
	/** Put before every line, and counted. */
	readonly indent?: string;
	/** Cells that stay beside the one before them, by place: the second of a pair. */
	readonly paired?: readonly number[];
	/** Cells at the left of their column, by place, besides the first. */
	readonly left?: readonly number[];
};

const gap = '  ';

/**
 * Rows of cells under each other, the first at the left and the others at the right of their column. What is wider than
 * `width` goes on below, each part with the first column of every row again: a table is never broken within a line. The
 * first row is the heading. Rows must have as many cells as it.
 *
 * @example
 * foldTable([['', 'span', 'noise'], ['thumb', '42', '0.3']], {width: 12});
 * // => ['       span', 'thumb    42', '       noise', 'thumb    0.3']
 */
export function foldTable(rows: readonly (readonly string[])[], shape: TableShape): string[] {
	const {width, indent = '', paired = [], left = []} = shape;
	const widths = rows[0].map((_, place) => Math.max(...rows.map(row => textWidth(row[place]))));
	const parts: number[][] = [];
	let used = Number.POSITIVE_INFINITY;
	for (let place = 1; place < widths.length; ) {
		let end = place + 1;
		while (paired.includes(end)) end++;
		const group = Array.from({length: end - place}, (_, i) => place + i);
		const needed = group.reduce((sum, each) => sum + gap.length + widths[each], 0);
		if (used + needed > width) {
			parts.push([]);
			used = indent.length + widths[0];
		}

		parts[parts.length - 1].push(...group);
		used += needed;
		place = end;
	}

	const cellText = (text: string, place: number) => {
		const blanks = ' '.repeat(widths[place] - textWidth(text));
		return place === 0 || left.includes(place) ? text + blanks : blanks + text;
	};
	return parts.flatMap(places =>
		rows.map(row => (indent + [0, ...places].map(place => cellText(row[place], place)).join(gap)).trimEnd()),
	);
}
