import type {SourceItem} from '../stream/source-item.ts';

/**
 * Between a live source, which pushes when bytes arrive, and its reader, which asks. Whatever arrived since the last
 * ask comes out as one batch, each item with the time it was pushed with: a slow reader delays nothing but itself.
 */
export class ItemQueue {
	#waiting: SourceItem[] = [];
	#over = false;
	#error: unknown;
	#wake: (() => void) | undefined;
	/** How many items have come in. */
	pushed = 0;

	/** Adds an item. After `end` or `fail` it is ignored. */
	push(item: SourceItem): void {
		if (this.#over) return;
		this.#waiting.push(item);
		this.pushed++;
		this.#wake?.();
	}

	/** No more will come; what is waiting is still handed over. */
	end(): void {
		this.#over = true;
		this.#wake?.();
	}

	/** Like `end`, and then the reader gets the error. */
	fail(error: unknown): void {
		if (this.#over) return;
		this.#error = error;
		this.end();
	}

	get over(): boolean {
		return this.#over;
	}

	async *batches(): AsyncGenerator<readonly SourceItem[]> {
		for (;;) {
			if (this.#waiting.length > 0) {
				const batch = this.#waiting;
				this.#waiting = [];
				yield batch;
			} else if (this.#over) {
				if (this.#error !== undefined) throw this.#error;
				return;
			} else {
				await new Promise<void>(resolve => {
					this.#wake = resolve;
				});
				this.#wake = undefined;
			}
		}
	}
}
