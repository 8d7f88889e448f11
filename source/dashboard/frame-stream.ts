import {EventEmitter} from 'node:events';
import type {Output} from '../command-line/command-io.ts';
import {LineBook} from './line-book.ts';
import {ScreenPainter} from './screen-painter.ts';

/** DEC private mode 2026: a terminal that knows it shows the frame at once, others ignore it. Worth it for large ones. */
const synchronizedFrom = 400;

/**
 * What Ink writes to in the place of standard output: it takes each frame whole and sends the terminal what changes.
 * While the terminal has not taken the last bytes (a slow line, a stopped pager), nothing is painted; when there is room
 * again, what is newest by then.
 */
export class FrameStream extends EventEmitter {
	readonly #out: Output;
	/** The lines that stand in the frames. */
	readonly book = new LineBook();
	readonly #painter = new ScreenPainter();
	#frame = '';
	#waiting = false;
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
		if (frame === '') return true;
		this.#frame = frame;
		this.refresh();
		return true;
	}

	/** Paints the frame with the lines that are in the book now. */
	refresh(): void {
		if (this.#closed) return;
		if (this.#behind) {
			if (this.#waiting) this.skipped++;
			this.#waiting = true;
			return;
		}

		this.#waiting = false;
		this.#stale = false;
		this.#send(this.#painter.paint(this.book.restore(this.#frame)));
	}

	/** Paints the next frame in full: after a resize, after the screen was someone else's. */
	forget(): void {
		this.#painter.forget();
		this.#stale = true;
	}

	/** Paints the last frame again if none has come since `forget`: a frame that stays the same isn't painted anew. */
	settle(): void {
		if (this.#stale) this.refresh();
	}

	/** A bell, if the terminal has time for it. */
	ring(): void {
		if (!this.#closed && !this.#behind) this.#send('\u0007');
	}

	close(): void {
		this.#closed = true;
		this.#waiting = false;
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
		if (this.#waiting && !this.#closed && !this.#behind) this.refresh();
	};
}
