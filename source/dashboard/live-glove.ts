import {setTimeout as wait} from 'node:timers/promises';
import type {Guide} from '../bringup/guide.ts';
import {CannotError} from '../cannot-error.ts';
import type {RecordingWriter} from '../recording/recording-writer.ts';
import {forgotten, Session} from '../session/session.ts';
import type {SessionOptions} from '../session/session-options.ts';
import type {Source} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {formatBytes} from './format-number.ts';
import type {RecordingView} from './glove-picture.ts';

export type StartRecording = (path: string, onError: (message: string) => void) => Promise<RecordingWriter>;

/** Without anyone asking, what arrived waits no longer than this: a recording is on the disk within a second. */
const longestWaitMs = 250;

/** How much of what comes first is kept, to tell what it looks like. */
const sampleBytes = 4096;

/** A source that does not end when it is closed is not waited for. */
const endWithinMs = 500;

/**
 * A live source with its session, and the recording if one runs. What arrives waits, each chunk with the time it came
 * at, until `gather` is called: one pass over ten chunks costs far less than ten passes over one, and the answers are
 * the same, since time comes with the bytes.
 */
export class LiveGlove {
	readonly source: Source;
	readonly session: Session;
	/** What leads somebody through a routine on it. */
	readonly guide: Guide | undefined;
	/** Why nothing more comes, in a line; null while it may. */
	over: string | null = null;
	/** What the user can act on, if reading failed before anything came; at any time, a defect. */
	failure: unknown;
	/** True once a recording broke off, of itself or at its end. */
	recordingFailed = false;
	#writer: RecordingWriter | undefined;
	/** Stream time at which the recording began. */
	#recordedFrom = 0;
	#recordingError: string | null = null;
	#received = false;
	readonly #sample: Uint8Array[] = [];
	#sampled = 0;
	#closed = false;
	#running: Promise<void> | undefined;
	/** Lets reading go on, where it waits. */
	#goOn: (() => void) | undefined;

	constructor(source: Source, options: SessionOptions, guide?: Guide) {
		this.source = source;
		this.guide = guide;
		this.session = new Session(options);
	}

	/** Reads to the source's end. Never rejects; see `over` and `failure`. */
	run(): Promise<void> {
		this.#running ??= this.#read();
		return this.#running;
	}

	async #read(): Promise<void> {
		try {
			for await (const batch of this.source.batches()) {
				for (const item of batch) this.#take(item);
				if (!this.#closed) await this.#nextGather();
			}

			this.over = 'The source has ended. What was seen stays; q quits.';
		} catch (error) {
			if (!this.#received || !(error instanceof CannotError)) this.failure = error;
			this.over = error instanceof Error ? error.message : String(error);
		}

		this.session.end();
	}

	/** Takes in what has arrived up to now, and tells the session how late it is, so that silence is noticed. */
	async gather(): Promise<void> {
		// Read first: what comes while the rest is taken in is later than this.
		const now = this.source.now?.();
		this.#goOn?.();
		// After every promise between here and the source's queue.
		await new Promise(resolve => setImmediate(resolve));
		if (this.over === null && now !== undefined) this.session.advance(now);
		this.guide?.follow(this.session);
	}

	#nextGather(): Promise<void> {
		return new Promise(resolve => {
			const timer = setTimeout(resolve, longestWaitMs);
			this.#goOn = () => {
				clearTimeout(timer);
				resolve();
			};
		});
	}

	/** Seconds since the port went away, or null while it is there. */
	get lostFor(): number | null {
		const {portLostAt, reattachedAt} = this.session.link;
		const isLost = !Number.isNaN(portLostAt) && !(reattachedAt >= portLostAt);
		return isLost && this.over === null ? this.session.t - portLostAt : null;
	}

	/** Makes a mark now; it goes into the recording if one runs. */
	async mark(text: string): Promise<void> {
		const t = this.source.now?.() ?? 0;
		await this.gather();
		this.#take({t: Math.max(this.session.t, t), mark: text});
	}

	/** Forgets what was learned of a channel, or of all; a recording keeps that it was. */
	async forget(channel: string | null): Promise<void> {
		const t = this.source.now?.() ?? 0;
		await this.gather();
		this.#take({t: Math.max(this.session.t, t), event: forgotten, ...(channel !== null && {detail: channel})});
	}

	/** Notes something in the recording, if one runs, and nowhere else: which step was asked for. */
	note(t: number, text: string): void {
		this.#writer?.write({t: Math.max(0, Math.max(t, this.session.t) - this.#recordedFrom), mark: text});
	}

	/** The first bytes that came. */
	get sample(): Uint8Array {
		return Buffer.concat(this.#sample).subarray(0, sampleBytes);
	}

	get recording(): RecordingView | null {
		if (this.#writer === undefined) return null;
		return {path: this.#writer.path, bytes: this.#writer.bytes, error: this.#recordingError};
	}

	/** Throws `CannotError` where the file cannot be made. */
	async startRecording(path: string, start: StartRecording): Promise<void> {
		this.#recordingError = null;
		const writer = await start(path, message => {
			this.#recordingError = message;
			this.recordingFailed = true;
		});
		// What came before is not in it; its times start at its own beginning.
		await this.gather();
		this.#recordedFrom = this.#received ? this.session.t : 0;
		this.#writer = writer;
	}

	/** Resolves when everything is on the disk, to a line that says where, or why it is not whole. */
	async stopRecording(): Promise<string | undefined> {
		if (this.#writer === undefined) return undefined;
		await this.gather();
		const writer = this.#writer;
		if (writer === undefined) return undefined;
		this.#writer = undefined;
		await writer.close();
		return writer.error ?? `Recorded to ${writer.path} (${formatBytes(writer.bytes)} received).`;
	}

	/** Ends the source and the recording; resolves to what `stopRecording` has to say. */
	async close(): Promise<string | undefined> {
		await this.source.close();
		this.#closed = true;
		this.#goOn?.();
		await Promise.race([this.#running, wait(endWithinMs, undefined, {ref: false})]);
		return this.stopRecording();
	}

	#take(item: SourceItem): void {
		this.#received = true;
		if ('bytes' in item && this.#sampled < sampleBytes) {
			this.#sample.push(item.bytes.slice(0, sampleBytes));
			this.#sampled += item.bytes.length;
		}

		this.#writer?.write({...item, t: Math.max(0, item.t - this.#recordedFrom)});
		this.session.push(item);
	}
}
