import type {Output} from '../command-line/command-io.ts';
import type {Look} from './look.ts';
import {type PlacedPanel, ScreenPainter} from './screen-painter.ts';

/** DEC private mode 2026: a terminal that knows it shows the frame at once, others ignore it. Worth it for large ones. */
const synchronizedFrom = 400;

/** Two bells closer together than this sound like one. */
const bellGapMs = 250;

/**
 * The way to the terminal: takes each screen whole and sends what changes. While the terminal has not taken the last
 * bytes (a slow line, a stopped pager), nothing is painted; when there is room again, what is newest by then.
 */
export class ScreenOutput {
	readonly #out: Output;
	readonly #painter: ScreenPainter;
	#panels: readonly PlacedPanel[] = [];
	#waiting = false;
	#stale = false;
	#closed = false;
	#bells = 0;
	#bell: NodeJS.Timeout | undefined;
	/** Bytes written to the terminal. */
	bytes = 0;
	/** Screens that were never painted because the terminal was behind. */
	skipped = 0;

	constructor(out: Output, look: Look) {
		this.#out = out;
		this.#painter = new ScreenPainter(look);
		out.on('drain', this.#onDrain);
	}

	get columns(): number {
		return this.#out.columns || 80;
	}

	get rows(): number {
		return this.#out.rows || 24;
	}

	/** Shows these panels in the place of those before. */
	show(panels: readonly PlacedPanel[]): void {
		this.#panels = panels;
		this.#paint();
	}

	/** The next screen is painted in full: after a resize, after the terminal was someone else's. */
	forget(): void {
		this.#painter.forget();
		this.#stale = true;
	}

	/** Paints the last screen again if none has come since `forget`: one that stays the same isn't painted anew. */
	settle(): void {
		if (this.#stale) this.#paint();
	}

	/** So many bells, one after the other, as far as the terminal has time for them. */
	ring(times: number): void {
		this.#bells = Math.max(this.#bells, times);
		if (this.#bell === undefined) this.#ringOne();
	}

	close(): void {
		this.#closed = true;
		this.#waiting = false;
		clearTimeout(this.#bell);
		this.#out.off('drain', this.#onDrain);
	}

	get #behind(): boolean {
		return this.#out.writableNeedDrain || this.#out.writableLength > 0;
	}

	#ringOne(): void {
		this.#bell = undefined;
		if (this.#bells <= 0 || this.#closed) return;
		this.#bells--;
		if (!this.#behind) this.#send('\u0007');
		this.#bell = setTimeout(() => this.#ringOne(), bellGapMs).unref();
	}

	#paint(): void {
		if (this.#closed) return;
		if (this.#behind) {
			if (this.#waiting) this.skipped++;
			this.#waiting = true;
			return;
		}

		this.#waiting = false;
		this.#stale = false;
		this.#send(this.#painter.paint(this.#panels));
	}

	#send(bytes: string): void {
		if (bytes === '') return;
		const text = bytes.length >= synchronizedFrom ? `\u001B[?2026h${bytes}\u001B[?2026l` : bytes;
		this.bytes += Buffer.byteLength(text);
		// Without a callback, `drain` only comes after a full buffer; here any backlog counts.
		this.#out.write(text, this.#onDrain);
	}

	readonly #onDrain = () => {
		if (this.#waiting && !this.#closed && !this.#behind) this.#paint();
	};
}
