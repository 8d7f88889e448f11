import type {SourceItem} from '../../source/stream/source-item.ts';

/**
 * What firmware that learns each finger's range makes of raw readings, done to a stream of comma-separated lines: in the
 * columns wanted every value becomes ⌊(value − lowest)·FS/(highest − lowest)⌋ of what that column has sent so far, and 0
 * while lowest and highest are one. Lines of another shape pass as they are and, where `restarts`, begin everything anew.
 */
export function learnRanges(
	items: readonly SourceItem[],
	{columns, fullScale, restarts = false}: {columns: readonly number[]; fullScale: number; restarts?: boolean},
): SourceItem[] {
	const decoder = new TextDecoder('latin1');
	const encoder = new TextEncoder();
	const low = new Map<number, number>();
	const high = new Map<number, number>();
	let pending = '';
	return items.map(item => {
		if (!('bytes' in item)) return item;
		const lines = (pending + decoder.decode(item.bytes)).split('\n');
		pending = lines.pop() ?? '';
		const sent = lines.map(line => {
			if (!/^\d+(,\d+)+\r?$/.test(line)) {
				if (restarts) for (const ends of [low, high]) ends.clear();
				return line;
			}
			const fields = line.split(',');
			for (const column of columns) {
				const value = Number(fields[column]);
				low.set(column, Math.min(value, low.get(column) ?? value));
				high.set(column, Math.max(value, high.get(column) ?? value));
				fields[column] = String(learned(value, low.get(column)!, high.get(column)!, fullScale));
			}
			return fields.join(',');
		});
		return {...item, bytes: encoder.encode(sent.map(line => `${line}\n`).join(''))};
	});
}

function learned(value: number, low: number, high: number, fullScale: number): number {
	return high === low ? 0 : Math.floor(((value - low) * fullScale) / (high - low));
}
