import {once} from 'node:events';
import {fstat} from 'node:fs';
import {open, readlink, stat, unlink} from 'node:fs/promises';
import {constants, createGzip, type Gzip} from 'node:zlib';
import {CannotError} from '../cannot-error.ts';
import type {SourceInfo} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {syncFolder} from '../sync-folder.ts';
import {whyNotCreated, whyNotWritten} from './recording-errors.ts';
import {encodeEnd, encodeHeader, encodeItem, recordingVersion} from './recording-format.ts';

/** Received bytes wait at most this long in memory; with the sync below they are on the disk within a second. */
const flushAfterMs = 200;

/** At most one sync per this time: an SD card may take a tenth of a second for each. */
const syncEveryMs = 500;

/**
 * What may wait while a disk takes nothing: more than an hour of a glove at 115,200 baud, which brings 11,520 bytes a
 * second. A disk that has stood still for so long will not come back.
 */
const maxWaiting = 64 * 1024 * 1024;

const copyBytes = 256 * 1024;

/** The part of a file handle a writer needs; tests pass their own. */
export type RecordingFile = {
	readonly fd?: number;
	write(data: Uint8Array): Promise<{bytesWritten: number}>;
	/** Used to save what was written when the file's name is taken from it. */
	read?(into: Uint8Array, offset: number, length: number, position: number): Promise<{bytesRead: number}>;
	datasync(): Promise<void>;
	close(): Promise<void>;
	/** Identity of the open file, to notice that its name now leads elsewhere, and how many names it has. */
	stat(): Promise<{ino: number; dev: number; nlink?: number}>;
};

type OpenFile = (path: string, flags: string) => Promise<RecordingFile>;

export type RecordingWriterOptions = {
	/** What is being recorded; its baud rate and sheet go into the header too. */
	readonly source: SourceInfo;
	readonly note?: string | undefined;
	/** Overrides `source.sheet`. */
	readonly sheet?: unknown;
	/** Wall clock at t = 0. Default: now. */
	readonly startedAt?: Date;
	/** Write over a file that is there already. */
	readonly force?: boolean | undefined;
	/** Called once, with one line for the user, when nothing more can be written. */
	readonly onError?: (message: string) => void;
	/** Called with one line for the user when the recording goes on, but elsewhere. */
	readonly onNotice?: (message: string) => void;
	/** Opens the file; for tests. */
	readonly openFile?: OpenFile;
};

/**
 * Appends what a source delivers to a recording. `write` never throws and never waits: when the disk fails, `error`
 * says so, `onError` is called once, and everything else goes on. It is never tried again: after a failed sync a system
 * may take what it could not write for written, and a later sync that succeeds would say nothing of it. A kill at any moment leaves a file that reads up to
 * what was written.
 *
 * Times must not fall. Format: docs/recording.md.
 */
export class RecordingWriter {
	#path: string;
	#file: RecordingFile;
	readonly #gzip: Gzip | undefined;
	readonly #options: RecordingWriterOptions;
	#compressed: Uint8Array[] = [];
	#pending: string[] = [];
	#pendingLength = 0;
	#timer: NodeJS.Timeout | undefined;
	#syncTimer: NodeJS.Timeout | undefined;
	#work: Promise<void> = Promise.resolve();
	#syncedAtMs = Number.NEGATIVE_INFINITY;
	#error: string | undefined;
	#failure: NodeJS.ErrnoException | undefined;
	#closed = false;
	#lastT = 0;
	#bytes = 0;

	private constructor(path: string, file: RecordingFile, options: RecordingWriterOptions) {
		this.#path = path;
		this.#file = file;
		this.#options = options;
		if (/\.gz$/i.test(path)) {
			this.#gzip = createGzip();
			this.#gzip.on('data', (data: Uint8Array) => this.#compressed.push(data));
		}
	}

	/**
	 * Creates the file and writes its header. A name ending in `.gz` is compressed, in blocks that still read when the
	 * file is cut.
	 *
	 * @throws CannotError if the file exists (without `force`), cannot be created or written, or is what is to be recorded.
	 */
	static async create(path: string, options: RecordingWriterOptions): Promise<RecordingWriter> {
		const {source} = options;
		const {kind, name, timing} = source;
		const existed = options.force ? await fileAt(path) : undefined;
		// By any name, through links, and as what the shell opened for standard input.
		if (existed && (isSame(existed, await fileAt(name)) || isSame(existed, await standardInput()))) {
			throw new CannotError(
				`${path} is what is to be recorded, and would be lost: choose another name for the recording.`,
			);
		}

		const openFile: OpenFile = options.openFile ?? open;
		let file: RecordingFile;
		try {
			file = await openFile(path, options.force ? 'w+' : 'wx+');
		} catch (error) {
			throw new CannotError(whyNotCreated(path, error as NodeJS.ErrnoException));
		}

		const writer = new RecordingWriter(path, file, options);
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
		if (writer.#failure !== undefined) {
			await writer.close();
			// Nothing is in it yet, and its name would be in the way of the next attempt.
			if (!existed && !options.openFile) await unlink(path).catch(() => {});
			throw new CannotError(`Cannot create ${path}: ${whyNotWritten(writer.#failure)}`);
		}

		await syncFolder(path);
		return writer;
	}

	/** Where the recording is: where it was begun, unless it was moved or had to be saved elsewhere since. */
	get path(): string {
		return this.#path;
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
		if (this.#pendingLength > maxWaiting) {
			this.#fail(Object.assign(new Error('the disk takes nothing'), {code: 'ENOBUFS'}));
		} else if (this.#pendingLength >= 65_536) {
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
			await writeAll(this.#file, this.#gzip ? await this.#compress(this.#gzip, data) : data);
			const waitMs = this.#syncedAtMs + syncEveryMs - performance.now();
			if (waitMs <= 0) {
				await this.#sync();
			} else if (!this.#closed) {
				this.#syncTimer ??= setTimeout(() => {
					this.#syncTimer = undefined;
					// The end syncs by itself, and after it there is no file.
					if (this.#closed) return;
					this.#work = this.#work.then(() => this.#sync()).catch(error => this.#fail(error));
				}, waitMs);
			}
		} catch (error) {
			this.#fail(error as NodeJS.ErrnoException);
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

		await this.#followName();
	}

	/** A file that was moved or deleted takes writes without complaint; only its names tell. */
	async #followName(): Promise<void> {
		const [ours, named] = await Promise.all([this.#file.stat(), fileAt(this.#path).catch(() => null)]);
		// A folder that may not be looked into any more says nothing about the file.
		if (named === null || isSame(ours, named)) return;
		const was = this.#path;
		if (ours.nlink !== 0) {
			const moved = await nameOf(this.#file);
			if (moved === undefined || moved === was) return;
			this.#path = moved;
			this.#options.onNotice?.(`${was} was renamed: the recording goes on in ${moved}.`);
			return;
		}

		await this.#saveElsewhere(named === undefined ? was : besides(was));
		this.#options.onNotice?.(
			`${was} was ${named === undefined ? 'removed' : 'replaced'}: all that was recorded was written to ${this.#path} anew, and the recording goes on there.`,
		);
	}

	/** The open file still holds what was written, though nothing leads to it any more. */
	async #saveElsewhere(path: string): Promise<void> {
		const from = this.#file;
		if (!from.read) throw Object.assign(new Error('removed'), {code: 'ENOENT'});
		const openFile: OpenFile = this.#options.openFile ?? open;
		const to = await openFile(path, 'wx+');
		const part = new Uint8Array(copyBytes);
		for (let position = 0; ; ) {
			const {bytesRead} = await from.read(part, 0, copyBytes, position);
			if (bytesRead === 0) break;
			position += bytesRead;
			await writeAll(to, part.subarray(0, bytesRead));
		}

		await to.datasync();
		await syncFolder(path);
		this.#file = to;
		this.#path = path;
		await from.close();
	}

	async #finish(): Promise<void> {
		try {
			if (this.#gzip && this.#error === undefined) {
				const over = once(this.#gzip, 'end');
				this.#gzip.end();
				await over;
				await writeAll(this.#file, this.#takeCompressed());
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
		this.#failure = error;
		const rest = error.code === 'ENOENT' ? '' : ' What was written before still reads.';
		this.#error = `The recording ${this.#path} stops here: ${whyNotWritten(error)}${rest}`;
		this.#pending = [];
		this.#pendingLength = 0;
		clearTimeout(this.#timer);
		clearTimeout(this.#syncTimer);
		this.#options.onError?.(this.#error);
	}
}

async function writeAll(file: RecordingFile, data: Uint8Array): Promise<void> {
	for (let written = 0; written < data.byteLength; ) {
		const {bytesWritten} = await file.write(data.subarray(written));
		written += bytesWritten;
	}
}

type FileIdentity = {readonly ino: number; readonly dev: number};

/** The file a name leads to; undefined where it leads nowhere. */
async function fileAt(path: string): Promise<FileIdentity | undefined> {
	return stat(path).catch((error: NodeJS.ErrnoException) => {
		if (error.code === 'ENOENT' || error.code === 'ENOTDIR') return undefined;
		throw error;
	});
}

/** The file that standard input was redirected from; undefined for a pipe, a terminal, a device, or where it is closed. */
function standardInput(): Promise<FileIdentity | undefined> {
	return new Promise(resolve => {
		fstat(0, (error, found) => resolve(error === null && found.isFile() ? found : undefined));
	});
}

function isSame(a: FileIdentity, b: FileIdentity | undefined): boolean {
	return b !== undefined && a.ino === b.ino && a.dev === b.dev;
}

/** The present name of an open file, where the system tells (Linux). */
async function nameOf({fd}: RecordingFile): Promise<string | undefined> {
	return fd === undefined ? undefined : readlink(`/proc/self/fd/${fd}`).catch(() => undefined);
}

/** `glove.gbrec` gives `glove-kept.gbrec`. */
function besides(path: string): string {
	return path.replace(/((?:\.gbr(?:ec)?)?(?:\.gz)?)$/i, '-kept$1');
}
