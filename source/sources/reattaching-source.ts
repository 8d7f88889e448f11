import {setTimeout as wait} from 'node:timers/promises';
import type {Source} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';

/** Seconds between attempts: a glove that restarts is back in two or three. */
const pauseSeconds = 1;

type ReattachOptions = {
	/** Opens the source anew; rejects while it is not back, and when the signal says so. */
	readonly reopen: (signal: AbortSignal) => Promise<Source>;
	/** Ends the waiting. */
	readonly signal?: AbortSignal;
	/** Seconds after which it ends, connected or not. */
	readonly forSeconds?: number;
	/** For tests. */
	readonly pause?: (seconds: number, signal: AbortSignal) => Promise<unknown>;
};

/**
 * A network connection that is taken up again when it breaks, as serial ports are: what comes after goes on in the same
 * stream, at the time it comes. The break and the return are events in it.
 */
export function reattachingSource(first: Source, options: ReattachOptions): Source {
	const {reopen, forSeconds, pause = (seconds, signal) => wait(seconds * 1000, undefined, {signal})} = options;
	const stop = new AbortController();
	const signal = options.signal ? AbortSignal.any([options.signal, stop.signal]) : stop.signal;
	const now = () => first.now?.() ?? 0;
	let current = first;
	let lastT = 0;

	/** Times never fall, also where the new connection's clock began a little before ours was read. */
	const at = (t: number) => {
		lastT = Math.max(lastT, t);
		return lastT;
	};

	async function back(): Promise<Source | undefined> {
		while (!signal.aborted) {
			try {
				await pause(pauseSeconds, signal);
				const source = await reopen(signal);
				if (!signal.aborted) return source;
				await source.close();
			} catch {
				// Not back yet, or told to stop.
			}
		}

		return undefined;
	}

	async function* batches(): AsyncGenerator<readonly SourceItem[]> {
		let offset = 0;
		for (;;) {
			let lost = false;
			for await (const batch of current.batches()) {
				const shifted = batch.map(item => ({...item, t: at(item.t + offset)}));
				lost ||= shifted.some(item => 'event' in item && item.event === 'port-lost');
				yield shifted;
			}

			if (signal.aborted) return clearTimeout(timer);
			if (!lost) yield [{t: at(now()), event: 'port-lost', detail: `The other side closed ${first.info.name}.`}];
			await current.close();
			const next = await back();
			if (next === undefined) return clearTimeout(timer);
			current = next;
			offset = now() - (next.now?.() ?? 0);
			yield [{t: at(now()), event: 'reattached', detail: `${first.info.name} is back.`}];
		}
	}

	let timer: NodeJS.Timeout | undefined;
	const close = async (): Promise<void> => {
		clearTimeout(timer);
		stop.abort();
		await current.close();
	};

	// Longer than a timer can wait is as good as for ever.
	if (forSeconds !== undefined && forSeconds * 1000 < 2 ** 31) {
		timer = setTimeout(() => void close(), Math.max(0, (forSeconds - now()) * 1000));
	}

	return {info: first.info, batches, now, close};
}
