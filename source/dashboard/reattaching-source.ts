import {setTimeout as wait} from 'node:timers/promises';
import type {Source, SourceItem} from '../sources/source.ts';

/** Seconds between attempts: a glove that restarts is back in two or three. */
const pauseSeconds = 1;

export type ReattachOptions = {
	/** Opens the source anew; rejects while it is not back. */
	readonly reopen: () => Promise<Source>;
	/** Ends the waiting. */
	readonly signal: AbortSignal;
	/** For tests. */
	readonly pause?: (seconds: number, signal: AbortSignal) => Promise<unknown>;
};

/**
 * A network connection that is taken up again when it breaks, as serial ports are: what comes after goes on in the same
 * stream, at the time it comes. The break and the return are events in it.
 */
export function reattachingSource(first: Source, options: ReattachOptions): Source {
	const {reopen, pause = (seconds, signal) => wait(seconds * 1000, undefined, {signal})} = options;
	const stop = new AbortController();
	const signal = AbortSignal.any([options.signal, stop.signal]);
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
				return await reopen();
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

			if (signal.aborted) return;
			if (!lost) yield [{t: at(now()), event: 'port-lost', detail: `The other side closed ${first.info.name}.`}];
			await current.close();
			const next = await back();
			if (next === undefined) return;
			current = next;
			offset = now() - (next.now?.() ?? 0);
			yield [{t: at(now()), event: 'reattached', detail: `${first.info.name} is back.`}];
		}
	}

	return {
		info: first.info,
		batches,
		now,
		async close() {
			stop.abort();
			await current.close();
		},
	};
}
