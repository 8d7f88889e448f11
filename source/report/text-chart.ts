import type {TrendBucket} from '../session/snapshot.ts';

const levels = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
const asciiLevels = ['_', '.', '-', '=', '+', '*', '%', '#'];

/**
 * The stretch of full scale that was used, as a bar of `cells` characters: `··████████····`. At least one cell is
 * filled, so that a stuck channel shows where it sticks. Ends beyond the scale count as its ends.
 */
export function rangeBar(low: number, high: number, fullScale: number, cells: number, ascii: boolean): string {
	const [empty, filled] = ascii ? ['.', '#'] : ['·', '█'];
	const place = (counts: number) => Math.min(cells - 1, Math.max(0, Math.floor((counts / fullScale) * cells)));
	const first = place(low);
	const last = Math.max(first, place(high - fullScale / cells / 1000));
	return empty.repeat(first) + filled.repeat(last - first + 1) + empty.repeat(cells - 1 - last);
}

/**
 * A line of eight-level blocks, one per bucket, showing the middle of each bucket's range within 0…`fullScale`.
 * A bucket without frames is a space.
 */
export function sparkline(buckets: readonly TrendBucket[], fullScale: number, ascii = false): string {
	const signs = ascii ? asciiLevels : levels;
	return buckets
		.map(({low, high}) => {
			const share = (low + high) / 2 / fullScale;
			if (Number.isNaN(share)) return ' ';
			return signs[Math.min(signs.length - 1, Math.max(0, Math.floor(share * signs.length)))];
		})
		.join('');
}
