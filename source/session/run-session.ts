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
	const {forSeconds = Number.POSITIVE_INFINITY, signal} = options;
	const sessions = new SessionsInTurn(source, options);
	const stop = () => {
		void source.close();
	};
	const now = () => Math.min(source.now?.() ?? 0, forSeconds);
	const timers: NodeJS.Timeout[] = [];
	if (source.now) {
		timers.push(setInterval(() => sessions.advance(now()), advanceMs));
		if (Number.isFinite(forSeconds)) timers.push(setTimeout(stop, (forSeconds - source.now()) * 1000));
	}

	signal?.addEventListener('abort', stop, {once: true});
	if (signal?.aborted) stop();
	let isCut = false;
	try {
		isCut = await readInto(sessions, source, forSeconds, options.progress);
	} finally {
		for (const timer of timers) clearInterval(timer);
		signal?.removeEventListener('abort', stop);
		await source.close();
	}

	sessions.finish(source.now ? now() : isCut ? forSeconds : source.endedAt?.(), '');
	return sessions.run();
}

/** Reads a source to its end or to a time; true where it was cut there. */
async function readInto(
	sessions: SessionsInTurn,
	source: Source,
	forSeconds: number,
	progress: RunOptions['progress'],
): Promise<boolean> {
	// What a file holds per item besides the bytes received; a recording writes a time and quotes around them.
	const itemBytes = source.info.kind === 'recording' ? 26 : 0;
	let items = 0;
	for await (const batch of source.batches()) {
		for (const item of batch) {
			if (item.t > forSeconds) return true;
			sessions.take(item);
		}

		items += batch.length;
		if (progress && source.totalBytes)
			progress(Math.min(1, (sessions.received + items * itemBytes) / source.totalBytes));
	}

	return false;
}

/** The sessions that a source holds, one after the other; the one that is wanted is kept. */
class SessionsInTurn {
	/** Bytes taken so far. */
	received = 0;
	private session: Session;
	private sample: Uint8Array[] = [];
	private sampled = 0;
	/** Where in the source the session began. */
	private start = 0;
	private nextWatch: number;
	private lastItemAt = 0;
	private readonly parts: SessionPart[] = [];
	private chosen: Omit<SessionRun, 'info'> | undefined;
	private readonly recent = new RecentItems();
	/** Only what is no longer coming can hold several sessions, and only a log's items are lines. */
	private readonly splits: boolean;
	private readonly isLog: boolean;

	constructor(
		private readonly source: Source,
		private readonly options: RunOptions,
	) {
		this.splits = (options.split ?? true) && source.now === undefined;
		this.isLog = source.info.timing !== 'measured';
		this.session = this.makeSession();
		this.nextWatch = this.firstWatch;
	}

	/** Takes in an item of the source, which may begin another session. */
	take(item: SourceItem): void {
		if (this.splits && 'event' in item && item.event === 'session') {
			if (this.session.link.bytes === 0) return;
			this.finish(this.lastItemAt + this.start, item.detail ?? '');
			this.begin(item.t);
			return;
		}

		if (this.splits && this.isLog) this.recent.push(item);
		this.push(item);
		if (this.session.newColumnsAt !== null) {
			const at = this.session.newColumnsAt + this.start;
			this.finish(at, 'the columns change');
			const again = this.recent.since(at);
			this.begin(at);
			for (const one of again) this.push(one);
		}

		if ('bytes' in item) this.received += item.bytes.length;
	}

	/** Tells a live session that time passes. */
	advance(t: number): void {
		this.watchUpTo(t);
		this.session.advance(t);
	}

	/** The session is over at `t` of the source. */
	finish(t: number | undefined, endedBy: string): void {
		const {session, start, parts} = this;
		session.end(t === undefined ? undefined : since(t, start));
		this.options.watch?.(session);
		const snapshot = session.snapshot();
		const {verdict, findings, link} = snapshot;
		const index = parts.length + 1;
		const to = endedBy !== '' && t !== undefined ? t : Math.round((start + snapshot.t) * 1e6) / 1e6;
		parts.push({index, from: start, to, verdict, findings: findings.length, frames: link.frames, endedBy});
		if (this.options.part === undefined || this.options.part === index)
			this.chosen = {session, snapshot, sample: Buffer.concat(this.sample).subarray(0, sampleBytes)};
	}

	/** What came of it all. Throws `CannotError` where the session that is wanted is not among them. */
	run(): SessionRun {
		const {parts, source, chosen} = this;
		const {part} = this.options;
		const last = parts[parts.length - 1];
		if (chosen === undefined)
			throw new CannotError(
				`--session ${part}: ${escapeText(source.info.name, 60)} holds ${parts.length === 1 ? 'one session' : `${parts.length} sessions, the first is 1`}. Leave it out for the last.`,
			);
		const intake = source.intake?.();
		return {
			...chosen,
			info: {
				...source.info,
				...(intake !== undefined && {intake}),
				sessions: parts,
				part: part ?? last.index,
				wholeSeconds: last.to,
			},
		};
	}

	private get firstWatch(): number {
		return this.options.watch ? watchSeconds : Number.POSITIVE_INFINITY;
	}

	private makeSession(): Session {
		const {baud, timing} = this.source.info;
		return new Session({baud, ...this.options.session, timing, endsAtNewColumns: this.splits && this.isLog});
	}

	private begin(t: number): void {
		this.start = t;
		this.session = this.makeSession();
		this.sample = [];
		this.sampled = 0;
		this.nextWatch = this.firstWatch;
		this.lastItemAt = 0;
	}

	private push(item: SourceItem): void {
		const own = this.start === 0 ? item : {...item, t: since(item.t, this.start)};
		if (own.t >= this.nextWatch) this.watchUpTo(own.t);
		this.session.push(own);
		this.lastItemAt = this.session.t;
		// A long silence is over.
		if (this.options.watch && this.nextWatch - this.lastItemAt > watchSeconds + 1e-6)
			this.nextWatch = firstTickAfter(this.lastItemAt, watchSeconds);
		if ('bytes' in own && this.sampled < sampleBytes) {
			this.sample.push(own.bytes.slice());
			this.sampled += own.bytes.length;
		}
	}

	private watchUpTo(t: number): void {
		while (this.nextWatch <= Math.min(t, latestSeconds)) {
			this.session.advance(this.nextWatch);
			this.options.watch?.(this.session);
			this.nextWatch = tickAfter(this.nextWatch, watchSeconds, this.lastItemAt);
		}
	}
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
