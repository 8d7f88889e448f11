import {once} from 'node:events';
import {open, stat} from 'node:fs/promises';
import {constants, createGzip, type Gzip} from 'node:zlib';
import {CannotError} from '../cannot-error.ts';
import type {SourceInfo, SourceItem} from '../sources/source.ts';
import {whyNotCreated, whyNotWritten} from './recording-errors.ts';
import {encodeEnd, encodeHeader, encodeItem, recordingVersion} from './recording-format.ts';

/** Received bytes wait at most this long in memory; with the sync below they are on the disk within a second. */
const flushAfterMs = 200;

/** At most one sync per this time: an SD card may take a tenth of a second for each. */
const syncEveryMs = 500;

/** The part of a file handle a writer needs; tests pass their own. */
export type RecordingFile = {
	write(data: Uint8Array): Promise<{bytesWritten: number}>;
	datasync(): Promise<void>;
	close(): Promise<void>;
	/** Identity of the open file, to notice that its name now leads elsewhere. */
	stat(): Promise<{ino: number; dev: number}>;
};

export type RecordingWriterOptions = {
	/** What is being recorded; its baud rate and sheet go into the header too. */
	readonly source: SourceInfo;
	readonly note?: string;
	/** Overrides `source.sheet`. */
	readonly sheet?: unknown;
	/** Wall clock at t = 0. Default: now. */
	readonly startedAt?: Date;
	/** Write over a file that is there already. */
	readonly force?: boolean;
	/** Called once, with one line for the user, when nothing more can be written. */
	readonly onError?: (message: string) => void;
	/** Opens the file; for tests. */
	readonly openFile?: (path: string, flags: string) => Promise<RecordingFile>;
};

/**
 * Appends what a source delivers to a recording. `write` never throws and never waits: when the disk fails, `error`
 * says so, `onError` is called once, and everything else goes on. A kill at any moment leaves a file that reads up to
 * what was written.
 *
 * Times must not fall. Format: docs/recording.md.
 */
export class RecordingWriter {
	readonly path: string;
	readonly #file: RecordingFile;
	readonly #gzip: Gzip | undefined;
	readonly #onError: ((message: string) => void) | undefined;
	#compressed: Uint8Array[] = [];
	#pending: string[] = [];
	#pendingLength = 0;
	#timer: NodeJS.Timeout | undefined;
	#syncTimer: NodeJS.Timeout | undefined;
	#work: Promise<void> = Promise.resolve();
	#syncedAtMs = Number.NEGATIVE_INFINITY;
	#error: string | undefined;
	#closed = false;
	#lastT = 0;
	#bytes = 0;

	private constructor(path: string, file: RecordingFile, gzipped: boolean, onError?: (message: string) => void) {
		this.path = path;
		this.#file = file;
		this.#onError = onError;
		if (gzipped) {
			this.#gzip = createGzip();
			this.#gzip.on('data', (data: Uint8Array) => this.#compressed.push(data));
		}
	}

	/**
	 * Creates the file and writes its header. A name ending in `.gz` is compressed, in blocks that still read when the
	 * file is cut.
	 *
	 * @throws CannotError if the file exists (without `force`) or cannot be created or written.
	 */
	static async create(path: string, options: RecordingWriterOptions): Promise<RecordingWriter> {
		const openFile: NonNullable<RecordingWriterOptions['openFile']> = options.openFile ?? open;
		let file: RecordingFile;
		try {
			file = await openFile(path, options.force ? 'w' : 'wx');
		} catch (error) {
			throw new CannotError(whyNotCreated(path, error as NodeJS.ErrnoException));
		}

		const {source} = options;
		const {kind, name, timing} = source;
		const writer = new RecordingWriter(path, file, /\.gz$/i.test(path), options.onError);
		writer.#append(
			encodeHeader({
				glovebench: recordingVersion,
				startedAt: (options.startedAt ?? new Date()).toISOString(),
				source: {kind, name, timing},
				link: source.baud === null ? null : {baud: source.baud},
				sheet: options.sheet ?? source.sheet ?? null,
				note: options.note ?? '',
			}),
		);
		await writer.flush();
		if (writer.#error !== undefined) {
			await writer.close();
			throw new CannotError(writer.#error);
		}

		return writer;
	}

	/** Why the recording stopped, as one line for the user; undefined while all is well. */
	get error(): string | undefined {
		return this.#error;
	}

	/** Received bytes taken in so far. */
	get bytes(): number {
		return this.#bytes;
	}

	/** Takes in one item. Ignored after an error or `close`. */
	write(item: SourceItem): void {
		if (this.#error !== undefined || this.#closed) return;
		this.#lastT = item.t;
		if ('bytes' in item) this.#bytes += item.bytes.byteLength;
		this.#append(encodeItem(item));
	}

	/** Hands everything taken in so far to the operating system. Never rejects; see `error`. */
	flush(): Promise<void> {
		clearTimeout(this.#timer);
		this.#timer = undefined;
		this.#work = this.#work.then(() => this.#drain());
		return this.#work;
	}

	/**
	 * Writes the end line and closes the file. Never rejects; see `error`. A second call waits for the first.
	 *
	 * @param t Seconds at the end; default: the time of the last item.
	 */
	async close(t = this.#lastT): Promise<void> {
		if (!this.#closed) {
			this.#append(encodeEnd(Math.max(t, this.#lastT), this.#bytes));
			this.#closed = true;
			this.flush();
			this.#work = this.#work.then(() => this.#finish());
		}

		await this.#work;
	}

	#append(line: string): void {
		this.#pending.push(line);
		this.#pendingLength += line.length;
		if (this.#pendingLength >= 65_536) {
			void this.flush();
		} else {
			this.#timer ??= setTimeout(() => void this.flush(), flushAfterMs);
		}
	}

	async #drain(): Promise<void> {
		if (this.#pending.length === 0 || this.#error !== undefined) return;
		const data = Buffer.from(this.#pending.join(''), 'utf8');
		this.#pending = [];
		this.#pendingLength = 0;
		try {
			await this.#writeAll(this.#gzip ? await this.#compress(this.#gzip, data) : data);
			const waitMs = this.#syncedAtMs + syncEveryMs - performance.now();
			if (waitMs <= 0) {
				await this.#sync();
			} else if (!this.#closed) {
				this.#syncTimer ??= setTimeout(() => {
					this.#syncTimer = undefined;
					this.#work = this.#work.then(() => this.#sync()).catch(error => this.#fail(error));
				}, waitMs);
			}
		} catch (error) {
			this.#fail(error as NodeJS.ErrnoException);
		}
	}

	async #writeAll(data: Uint8Array): Promise<void> {
		for (let written = 0; written < data.byteLength; ) {
			const {bytesWritten} = await this.#file.write(data.subarray(written));
			written += bytesWritten;
		}
	}

	/** A sync flush ends a block on a byte: everything before it can be read even if the file ends there. */
	async #compress(gzip: Gzip, data: Uint8Array): Promise<Uint8Array> {
		gzip.write(data);
		await new Promise<void>(resolve => {
			gzip.flush(constants.Z_SYNC_FLUSH, resolve);
		});
		return this.#takeCompressed();
	}

	#takeCompressed(): Uint8Array {
		const data = Buffer.concat(this.#compressed);
		this.#compressed = [];
		return data;
	}

	async #sync(): Promise<void> {
		if (this.#error !== undefined) return;
		this.#syncedAtMs = performance.now();
		clearTimeout(this.#syncTimer);
		this.#syncTimer = undefined;
		try {
			await this.#file.datasync();
		} catch (error) {
			// Pipes and some network file systems have nothing to sync.
			const {code} = error as NodeJS.ErrnoException;
			if (code !== 'EINVAL' && code !== 'ENOTSUP' && code !== 'EROFS') throw error;
		}

		// A deleted file takes writes without complaint; only its name tells that they lead nowhere.
		const [ours, named] = await Promise.all([this.#file.stat(), stat(this.path)]);
		if (ours.ino !== named.ino || ours.dev !== named.dev) throw Object.assign(new Error('replaced'), {code: 'ENOENT'});
	}

	async #finish(): Promise<void> {
		try {
			if (this.#gzip && this.#error === undefined) {
				const over = once(this.#gzip, 'end');
				this.#gzip.end();
				await over;
				await this.#writeAll(this.#takeCompressed());
			}

			await this.#sync();
		} catch (error) {
			this.#fail(error as NodeJS.ErrnoException);
		}

		clearTimeout(this.#syncTimer);
		await this.#file.close().catch((error: NodeJS.ErrnoException) => this.#fail(error));
	}

	#fail(error: NodeJS.ErrnoException): void {
		if (this.#error !== undefined) return;
		this.#error = `The recording ${this.path} stops here: ${whyNotWritten(error)} What was written before still reads.`;
		this.#pending = [];
		clearTimeout(this.#timer);
		clearTimeout(this.#syncTimer);
		this.#onError?.(this.#error);
	}
}
