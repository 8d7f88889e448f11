import {CannotError} from '../cannot-error.ts';
import type {SourceIntake} from '../stream/intake.ts';
import type {Source, SourceInfo} from '../stream/source.ts';
import {latestSeconds, type SourceItem} from '../stream/source-item.ts';
import {escapeText} from '../text/escape-text.ts';
import {Session} from './session.ts';
import type {SessionOptions} from './session-options.ts';
import type {Snapshot, Verdict} from './snapshot.ts';
import {firstTickAfter, tickAfter} from './tick-after.ts';

export type RunOptions = {
	/** What is declared about the glove; timing and, unless given, baud are the source's. */
	readonly session?: Omit<Partial<SessionOptions>, 'timing'> | undefined;
	/** Stops at this stream time; without it the source is read to its end. */
	readonly forSeconds?: number | undefined;
	/** Which of the sessions that a log holds is wanted, from 1. Default: the last. */
	readonly part?: number | undefined;
	/** False: what a log holds is one session, and where another one begins is an interruption. */
	readonly split?: boolean;
	/** Stops the source; what was read until then is settled and returned. */
	readonly signal?: AbortSignal | undefined;
	/** Called every tenth of a second of stream time, at the same stream times however the bytes were cut. */
	readonly watch?: ((session: Session) => void) | undefined;
	/** Called after each batch with the share of a file that is read, 0…1, estimated. */
	readonly progress?: ((share: number) => void) | undefined;
};

/** One of the sessions that a source holds: seconds of the source, what came of it, and why it ended. */
export type SessionPart = {
	readonly index: number;
	readonly from: number;
	readonly to: number;
	readonly verdict: Verdict;
	readonly findings: number;
	readonly frames: number;
	/** Why another one begins behind it; empty for the last. */
	readonly endedBy: string;
};

/** A source, how it was read, and what it holds. */
export type ReadInfo = SourceInfo & {
	readonly intake?: SourceIntake;
	/** All sessions in it, where it was looked for them. */
	readonly sessions?: readonly SessionPart[];
	/** The one that is told, from 1. */
	readonly part?: number;
	/** Length of the whole source. */
	readonly wholeSeconds?: number;
};

/** A session that is over, and what it was run on. Its times count from its own start. */
export type SessionRun = {
	readonly session: Session;
	readonly snapshot: Snapshot;
	readonly info: ReadInfo;
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
	const {forSeconds = Number.POSITIVE_INFINITY, signal, watch, progress, part: wanted, split = true} = options;
	// Only what is no longer coming can hold several sessions, and only a log's items are lines.
	const splits = split && source.now === undefined;
	const isLog = info.timing !== 'measured';
	const makeSession = (): Session =>
		new Session({baud: info.baud, ...options.session, timing: info.timing, endsAtNewColumns: splits && isLog});
	let session = makeSession();
	let sample: Uint8Array[] = [];
	let sampled = 0;
	let received = 0;
	let items = 0;
	/** Where in the source the session began. */
	let start = 0;
	const parts: SessionPart[] = [];
	let chosen: Omit<SessionRun, 'info'> | undefined;
	const recent = new RecentItems();
	// What a file holds per item besides the bytes received; a recording writes a time and quotes around them.
	const itemBytes = info.kind === 'recording' ? 26 : 0;
	let nextWatch = watch ? watchSeconds : Number.POSITIVE_INFINITY;
	let lastItemAt = 0;

	/** The session is over at `t` of the source. */
	const finish = (t: number | undefined, endedBy: string): void => {
		session.end(t === undefined ? undefined : since(t, start));
		watch?.(session);
		const snapshot = session.snapshot();
		const {verdict, findings, link} = snapshot;
		const index = parts.length + 1;
		const to = endedBy !== '' && t !== undefined ? t : Math.round((start + snapshot.t) * 1e6) / 1e6;
		parts.push({index, from: start, to, verdict, findings: findings.length, frames: link.frames, endedBy});
		if (wanted === undefined || wanted === index)
			chosen = {session, snapshot, sample: Buffer.concat(sample).subarray(0, sampleBytes)};
	};

	const begin = (t: number): void => {
		start = t;
		session = makeSession();
		sample = [];
		sampled = 0;
		nextWatch = watch ? watchSeconds : Number.POSITIVE_INFINITY;
		lastItemAt = 0;
	};

	const take = (item: SourceItem): void => {
		const own = start === 0 ? item : {...item, t: since(item.t, start)};
		if (own.t >= nextWatch) watchUpTo(own.t);
		session.push(own);
		lastItemAt = session.t;
		// A long silence is over.
		if (watch && nextWatch - lastItemAt > watchSeconds + 1e-6) nextWatch = firstTickAfter(lastItemAt, watchSeconds);
		if ('bytes' in own && sampled < sampleBytes) {
			sample.push(own.bytes.slice());
			sampled += own.bytes.length;
		}
	};

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

				if (splits && 'event' in item && item.event === 'session') {
					if (session.link.bytes === 0) continue;
					finish(lastItemAt + start, item.detail ?? '');
					begin(item.t);
					continue;
				}

				if (splits && isLog) recent.push(item);
				take(item);
				if (session.newColumnsAt !== null) {
					const at = session.newColumnsAt + start;
					finish(at, 'the columns change');
					const again = recent.since(at);
					begin(at);
					for (const one of again) take(one);
				}

				if ('bytes' in item) received += item.bytes.length;
			}

			items += batch.length;

			if (progress && source.totalBytes) progress(Math.min(1, (received + items * itemBytes) / source.totalBytes));
		}
	} finally {
		for (const timer of timers) clearInterval(timer);
		signal?.removeEventListener('abort', stop);
		await source.close();
	}

	finish(source.now ? now() : isCut ? forSeconds : source.endedAt?.(), '');
	const last = parts[parts.length - 1];
	if (chosen === undefined)
		throw new CannotError(
			`--session ${wanted}: ${escapeText(info.name, 60)} holds ${parts.length === 1 ? 'one session' : `${parts.length} sessions, the first is 1`}. Leave it out for the last.`,
		);
	const intake = source.intake?.();
	return {
		...chosen,
		info: {
			...info,
			...(intake !== undefined && {intake}),
			sessions: parts,
			part: wanted ?? last.index,
			wholeSeconds: last.to,
		},
	};
}

/** Seconds since the session's start, whole microseconds as the source's are. */
function since(t: number, start: number): number {
	return start === 0 ? t : Math.max(0, Math.round((t - start) * 1e6) / 1e6);
}

/** More lines than it takes to see that the columns have changed. */
const itemsKept = 256;

/** The latest items of a log: where its columns change that shows some lines late, and those belong to the next session. */
class RecentItems {
	private readonly items: SourceItem[] = [];
	private next = 0;

	push(item: SourceItem): void {
		this.items[this.next] = item;
		this.next = (this.next + 1) % itemsKept;
	}

	/** The items at or after a time, oldest first. */
	since(t: number): SourceItem[] {
		const inOrder = [...this.items.slice(this.next), ...this.items.slice(0, this.next)];
		return inOrder.filter(item => item.t >= t - 1e-9);
	}
}
