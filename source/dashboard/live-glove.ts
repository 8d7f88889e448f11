import type {RecordingWriter} from '../recording/recording-writer.ts';
import {Session} from '../session/session.ts';
import type {SessionOptions} from '../session/session-options.ts';
import type {Source, SourceItem} from '../sources/source.ts';
import {formatBytes} from './format-number.ts';
import type {RecordingView} from './glove-picture.ts';

export type StartRecording = (path: string, onError: (message: string) => void) => Promise<RecordingWriter>;

/**
 * A live source with its session, and the recording if one runs. Everything received goes to both at once, whatever
 * the screen is doing.
 */
export class LiveGlove {
	readonly source: Source;
	readonly session: Session;
	/** Why nothing more comes, in a line; null while it may. */
	over: string | null = null;
	/** What the user can act on, if reading failed before anything came. */
	failure: unknown;
	#writer: RecordingWriter | undefined;
	/** Stream time at which the recording began. */
	#recordedFrom = 0;
	#recordingError: string | null = null;
	#received = false;
	readonly #onChange: () => void;

	constructor(source: Source, options: SessionOptions, onChange: () => void) {
		this.source = source;
		this.session = new Session(options);
		this.#onChange = onChange;
	}

	/** Reads to the source's end. Never rejects; see `over` and `failure`. */
	async run(): Promise<void> {
		try {
			for await (const batch of this.source.batches()) {
				for (const item of batch) this.#take(item);
				this.#onChange();
			}

			this.over = 'The source has ended. What was seen stays; q quits.';
		} catch (error) {
			if (!this.#received) this.failure = error;
			this.over = error instanceof Error ? error.message : String(error);
		}

		this.session.end();
		this.#onChange();
	}

	/** Tells the session how late it is, so that silence is noticed. */
	tick(): void {
		if (this.over === null && this.source.now) this.session.advance(this.source.now());
	}

	/** Seconds since the port went away, or null while it is there. */
	get lostFor(): number | null {
		const last = this.session.events.findLast(event => event.event === 'port-lost' || event.event === 'reattached');
		return last?.event === 'port-lost' && this.over === null ? this.session.t - last.t : null;
	}

	/** Makes a mark now; it goes into the recording if one runs. */
	mark(text: string): void {
		this.#take({t: Math.max(this.session.t, this.source.now?.() ?? 0), mark: text});
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
			this.#onChange();
		});
		// A recording's times start at its own beginning.
		this.#recordedFrom = this.#received ? Math.max(this.session.t, this.source.now?.() ?? 0) : 0;
		this.#writer = writer;
	}

	/** Resolves when everything is on the disk, to a line that says where, or why it is not whole. */
	async stopRecording(): Promise<string | undefined> {
		const writer = this.#writer;
		if (writer === undefined) return undefined;
		this.#writer = undefined;
		await writer.close();
		return writer.error ?? `Recorded to ${writer.path} (${formatBytes(writer.bytes)} received).`;
	}

	/** Ends the source and the recording; resolves to what `stopRecording` has to say. */
	async close(): Promise<string | undefined> {
		await this.source.close();
		return this.stopRecording();
	}

	#take(item: SourceItem): void {
		this.#received = true;
		this.#writer?.write({...item, t: Math.max(0, item.t - this.#recordedFrom)});
		this.session.push(item);
	}
}
