import type {Source, SourceInfo} from '../../source/stream/source.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';

/**
 * A source that hands out what it was given. Items come in batches of
 * `batchSize`, in the order given; their times are passed on as they are.
 */
export function memorySource(
	items: readonly SourceItem[],
	info: Partial<SourceInfo> = {},
	batchSize = 4096,
): Source & {readonly closed: boolean} {
	let closed = false;
	return {
		info: {kind: 'simulator', name: 'memory', timing: 'measured', baud: null, ...info},
		get closed() {
			return closed;
		},
		async *batches() {
			for (let from = 0; from < items.length && !closed; from += batchSize) yield items.slice(from, from + batchSize);
		},
		async close() {
			closed = true;
		},
	};
}
