import type {ProgressBar} from '../report/progress-bar.ts';
import type {Source} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';

type ReadAgainOptions = {
	/** Items after this time, stream seconds, are left alone. */
	readonly until?: number;
	/** Shows the second half of the way. */
	readonly bar: Pick<ProgressBar, 'show'>;
	/** Asked after each batch, and waited for: true ends the reading. */
	readonly isOver: () => boolean | Promise<boolean>;
};

/** Hands on the items of a file that was read once before, to see what its columns and sessions are; closes it. */
export async function readAgain(
	source: Source,
	take: (item: SourceItem) => void,
	{until = Number.POSITIVE_INFINITY, bar, isOver}: ReadAgainOptions,
): Promise<void> {
	let received = 0;
	try {
		for await (const batch of source.batches()) {
			for (const item of batch) {
				if (item.t > until) return;
				take(item);
				if ('bytes' in item) received += item.bytes.length;
			}

			if (source.totalBytes) bar.show(0.5 + Math.min(0.5, received / source.totalBytes / 2));
			if (await isOver()) return;
		}
	} finally {
		await source.close();
	}
}
