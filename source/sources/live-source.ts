import {setTimeout as wait} from 'node:timers/promises';
import type {Source, SourceInfo} from '../stream/source.ts';
import type {ItemQueue} from './item-queue.ts';
import type {LiveClock} from './live-clock.ts';

export type LiveOptions = {
	readonly signal?: AbortSignal;
	/** Seconds after which the source ends by itself. */
	readonly forSeconds?: number;
};

/**
 * Looks for what had already reached this computer when the source was told to stop: under load that may be thousands
 * of bytes, which the system hands over as soon as it is asked. A look lasts one turn of the event loop and a pause;
 * three in a row that bring nothing are enough, and a stream that never pauses ends after thirty.
 */
const pauseMs = 4;
const emptyLooks = 3;
const mostLooks = 30;

/**
 * A live source around whatever pushes into the queue. It ends when the queue does, when the signal says so, or when
 * its time is up; `stop` is called once, whichever comes first. What had reached the computer by then still comes.
 */
export function liveSource(
	info: SourceInfo,
	queue: ItemQueue,
	clock: LiveClock,
	options: LiveOptions,
	stop: () => void | Promise<void>,
): Source {
	let stopping: Promise<void> | undefined;
	let timer: NodeJS.Timeout | undefined;
	const close = (): Promise<void> => {
		stopping ??= (async () => {
			clearTimeout(timer);
			options.signal?.removeEventListener('abort', onAbort);
			await drain(queue);
			queue.end();
			await stop();
		})();
		return stopping;
	};

	const onAbort = (): void => void close();
	if (options.signal?.aborted) void close();
	else options.signal?.addEventListener('abort', onAbort);
	// Counted from the start of the clock, which is when the source was opened.
	const {forSeconds} = options;
	// Longer than a timer can wait is as good as for ever.
	if (forSeconds !== undefined && forSeconds * 1000 < 2 ** 31 && !stopping) {
		timer = setTimeout(() => void close(), Math.max(0, (forSeconds - clock()) * 1000));
	}

	return {
		info,
		now: clock,
		close,
		async *batches() {
			try {
				yield* queue.batches();
			} finally {
				await close();
			}
		},
	};
}

async function drain(queue: ItemQueue): Promise<void> {
	let {pushed} = queue;
	let empty = 0;
	for (let look = 0; look < mostLooks && empty < emptyLooks && !queue.over; look++) {
		await wait(pauseMs);
		// After the input of the turn that the pause ended in.
		await new Promise(resolve => setImmediate(resolve));
		empty = queue.pushed === pushed ? empty + 1 : 0;
		pushed = queue.pushed;
	}
}
