import {EventEmitter} from 'node:events';
import type {Output} from '../command-line/command-io.ts';
import {LineBook} from './line-book.ts';
import {ScreenPainter} from './screen-painter.ts';

/** DEC private mode 2026: a terminal that knows it shows the frame at once, others ignore it. Worth it for large ones. */
const synchronizedFrom = 400;

/**
 * What Ink writes to in the place of standard output: it takes each frame whole and sends the terminal what changes.
 * While the terminal has not taken the last bytes (a slow line, a stopped pager), frames are left out: the newest is
 * kept and painted when there is room again.
 */
export class FrameStream extends EventEmitter {
	readonly #out: Output;
	/** Lines that go past Ink into the next frame. */
	readonly book = new LineBook();
	readonly #painter = new ScreenPainter();
	#waiting: string | undefined;
	#last = '';
	#stale = false;
	#closed = false;
	/** Bytes written to the terminal. */
	bytes = 0;
	/** Frames that were never painted because the terminal was behind. */
	skipped = 0;

	constructor(out: Output) {
		super();
		this.#out = out;
		out.on('drain', this.#onDrain);
	}

	get columns(): number {
		return this.#out.columns || 80;
	}

	get rows(): number {
		return this.#out.rows || 24;
	}

	/** A frame, as Ink renders it. */
	write(frame: string): boolean {
		// Ink ends with an empty write to learn that everything is out.
		if (this.#closed || frame === '') return true;
		this.#paint(this.book.restore(frame));
		return true;
	}

	#paint(frame: string): void {
		if (this.#behind) {
			if (this.#waiting !== undefined) this.skipped++;
			this.#waiting = frame;
			return;
		}

		this.#waiting = undefined;
		this.#last = frame;
		this.#stale = false;
		this.#send(this.#painter.paint(frame));
	}

	/** Paints the next frame in full: after a resize, after the screen was someone else's. */
	forget(): void {
		this.#painter.forget();
		this.#stale = true;
	}

	/** Paints the last frame again if none has come since `forget`: a frame that stays the same isn't rendered anew. */
	settle(): void {
		if (this.#stale) this.#paint(this.#last);
	}

	/** A bell, if the terminal has time for it. */
	ring(): void {
		if (!this.#closed && !this.#behind) this.#send('\u0007');
	}

	close(): void {
		this.#closed = true;
		this.#waiting = undefined;
		this.#out.off('drain', this.#onDrain);
	}

	get #behind(): boolean {
		return this.#out.writableNeedDrain || this.#out.writableLength > 0;
	}

	#send(bytes: string): void {
		if (bytes === '') return;
		const text = bytes.length >= synchronizedFrom ? `\u001B[?2026h${bytes}\u001B[?2026l` : bytes;
		this.bytes += Buffer.byteLength(text);
		// Without a callback, `drain` only comes after a full buffer; here any backlog counts.
		this.#out.write(text, this.#onDrain);
	}

	readonly #onDrain = () => {
		if (this.#waiting === undefined || this.#closed || this.#behind) return;
		this.#paint(this.#waiting);
	};
}
