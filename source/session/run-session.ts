import type {Source, SourceInfo} from '../stream/source.ts';
import {latestSeconds} from '../stream/source-item.ts';
import {Session} from './session.ts';
import type {SessionOptions} from './session-options.ts';
import type {Snapshot} from './snapshot.ts';
import {firstTickAfter, tickAfter} from './tick-after.ts';

export type RunOptions = {
	/** What is declared about the glove; timing and, unless given, baud are the source's. */
	readonly session?: Omit<Partial<SessionOptions>, 'timing'>;
	/** Stops at this stream time; without it the source is read to its end. */
	readonly forSeconds?: number;
	/** Stops the source; what was read until then is settled and returned. */
	readonly signal?: AbortSignal;
	/** Called every tenth of a second of stream time, at the same stream times however the bytes were cut. */
	readonly watch?: (session: Session) => void;
	/** Called after each batch with the share of a file that is read, 0…1, estimated. */
	readonly progress?: (share: number) => void;
};

/** A session that is over, and what it was run on. */
export type SessionRun = {
	readonly session: Session;
	readonly snapshot: Snapshot;
	readonly info: SourceInfo;
	/** The first bytes that came, for people who want to see what the stream looks like. */
	readonly sample: Uint8Array;
};

const watchSeconds = 0.1;

/** How often a live session is told that time passes, so that silence is noticed. */
const advanceMs = 200;

const sampleBytes = 4096;

/**
 * Runs one session over one source: to its end, for `forSeconds`, or until the signal. Closes the source in any case.
 * Throws what the source throws (`CannotError` for what the user can act on).
 */
export async function runSession(source: Source, options: RunOptions = {}): Promise<SessionRun> {
	const {info} = source;
	const {forSeconds = Number.POSITIVE_INFINITY, signal, watch, progress} = options;
	const session = new Session({baud: info.baud, ...options.session, timing: info.timing});
	const sample: Uint8Array[] = [];
	let received = 0;
	let items = 0;
	// What a file holds per item besides the bytes received; a recording writes a time and quotes around them.
	const itemBytes = info.kind === 'recording' ? 26 : 0;
	let nextWatch = watch ? watchSeconds : Number.POSITIVE_INFINITY;
	let lastItemAt = 0;

	const watchUpTo = (t: number) => {
		while (nextWatch <= Math.min(t, latestSeconds)) {
			session.advance(nextWatch);
			watch?.(session);
			nextWatch = tickAfter(nextWatch, watchSeconds, lastItemAt);
		}
	};

	const stop = () => {
		void source.close();
	};

	const now = () => Math.min(source.now?.() ?? 0, forSeconds);
	const timers: NodeJS.Timeout[] = [];
	if (source.now) {
		timers.push(
			setInterval(() => {
				const t = now();
				watchUpTo(t);
				session.advance(t);
			}, advanceMs),
		);
		if (Number.isFinite(forSeconds)) timers.push(setTimeout(stop, (forSeconds - source.now()) * 1000));
	}

	signal?.addEventListener('abort', stop, {once: true});
	if (signal?.aborted) stop();
	let isCut = false;
	try {
		reading: for await (const batch of source.batches()) {
			for (const item of batch) {
				if (item.t > forSeconds) {
					isCut = true;
					break reading;
				}

				if (item.t >= nextWatch) watchUpTo(item.t);
				session.push(item);
				lastItemAt = session.t;
				// A long silence is over.
				if (watch && nextWatch - lastItemAt > watchSeconds + 1e-6) nextWatch = firstTickAfter(lastItemAt, watchSeconds);
				if ('bytes' in item) {
					if (received < sampleBytes) sample.push(item.bytes.slice());
					received += item.bytes.length;
				}
			}

			items += batch.length;

			if (progress && source.totalBytes) progress(Math.min(1, (received + items * itemBytes) / source.totalBytes));
		}
	} finally {
		for (const timer of timers) clearInterval(timer);
		signal?.removeEventListener('abort', stop);
		await source.close();
	}

	session.end(source.now ? now() : isCut ? forSeconds : source.endedAt?.());
	watch?.(session);
	return {session, snapshot: session.snapshot(), info, sample: Buffer.concat(sample).subarray(0, sampleBytes)};
}
