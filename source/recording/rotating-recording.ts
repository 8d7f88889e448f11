import {access} from 'node:fs/promises';
import type {SourceItem} from '../stream/source-item.ts';
import {numberedPath} from './numbered-path.ts';
import {RecordingWriter, type RecordingWriterOptions} from './recording-writer.ts';

export type RotatingOptions = RecordingWriterOptions & {
	/** Seconds to a file; infinite for one file. */
	readonly every: number;
	/** Told of each further file that was begun. */
	readonly onNext?: (path: string) => void;
	/** When the first item's time is 0, for the start written into each file. Default: now. */
	readonly startedAt?: Date;
};

const lineFeed = 0x0a;

/**
 * Recordings one after the other: FILE, FILE-2 and so on, each whole and with times from its own start. The next is open
 * before the last is closed, so that nothing received is between them; a line that is being received belongs to the
 * earlier one. Where a number is taken already the next free one is used, unless `force`.
 */
export class RotatingRecording {
	readonly #path: string;
	readonly #options: RotatingOptions;
	readonly #startedAt: Date;
	#writer: RecordingWriter;
	#number = 1;
	#from = 0;
	#bytesBefore = 0;
	readonly #paths: string[];

	private constructor(path: string, options: RotatingOptions, startedAt: Date, writer: RecordingWriter) {
		this.#path = path;
		this.#options = options;
		this.#startedAt = startedAt;
		this.#writer = writer;
		this.#paths = [path];
	}

	/** @throws CannotError where the first file cannot be created. */
	static async create(path: string, options: RotatingOptions): Promise<RotatingRecording> {
		const startedAt = options.startedAt ?? new Date();
		const writer = await RecordingWriter.create(path, {...options, startedAt});
		return new RotatingRecording(path, options, startedAt, writer);
	}

	/** Received bytes in all files. */
	get bytes(): number {
		return this.#bytesBefore + this.#writer.bytes;
	}

	/** Where the files are, in order; the last may have been moved since. */
	get paths(): readonly string[] {
		return [...this.#paths.slice(0, -1), this.#writer.path];
	}

	/** Takes one item, with its time on the source's clock. @throws CannotError where the next file cannot be created. */
	async write(item: SourceItem): Promise<void> {
		const {every} = this.#options;
		if (item.t < this.#from + every) {
			this.#put(item);
			return;
		}

		// A line that is under way ends in the file it began in; packets and silence have no line to wait for.
		const end = 'bytes' in item ? item.bytes.indexOf(lineFeed) + 1 : 0;
		if ('bytes' in item && end > 0) this.#put({t: item.t, bytes: item.bytes.subarray(0, end)});
		const from = this.#from + every * Math.floor((item.t - this.#from) / every);
		await this.#next(from);
		if (!('bytes' in item)) this.#put(item);
		else if (end < item.bytes.length) this.#put({t: item.t, bytes: item.bytes.subarray(end)});
	}

	/** Ends the last file; `t` is the source's clock. */
	async close(t?: number): Promise<void> {
		await this.#writer.close(t === undefined ? undefined : Math.max(0, t - this.#from));
	}

	#put(item: SourceItem): void {
		this.#writer.write({...item, t: Math.max(0, Math.round((item.t - this.#from) * 1e6) / 1e6)});
	}

	async #next(from: number): Promise<void> {
		const last = this.#writer;
		const path = await this.#freePath();
		const startedAt = new Date(this.#startedAt.getTime() + from * 1000);
		this.#writer = await RecordingWriter.create(path, {...this.#options, startedAt});
		this.#bytesBefore += last.bytes;
		this.#paths[this.#paths.length - 1] = last.path;
		this.#paths.push(path);
		const before = this.#from;
		this.#from = from;
		await last.close(from - before);
		this.#options.onNext?.(path);
	}

	async #freePath(): Promise<string> {
		for (;;) {
			this.#number++;
			const path = numberedPath(this.#path, this.#number);
			const isFree =
				this.#options.force === true ||
				(await access(path).then(
					() => false,
					() => true,
				));
			if (isFree) return path;
		}
	}
}
