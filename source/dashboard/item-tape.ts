import {itemAt} from '../item-at.ts';
import type {SourceItem} from '../stream/source-item.ts';

/** Bytes are kept in blocks of this size. */
const blockBytes = 1 << 20;

/**
 * A recording in memory, in the order of its times: 16 bytes an item besides what was received, where an object with
 * a view of its bytes takes some 250. Chunks that hold several lines are cut after each: nothing is read differently,
 * but it can be stepped through.
 */
export class ItemTape {
	readonly #times: number[] = [];
	/** Place of each item's first byte among all blocks. */
	readonly #starts: number[] = [];
	readonly #lengths: number[] = [];
	readonly #blocks: Uint8Array[] = [];
	/** Bytes in use, the unused ends of blocks included. */
	#end = 0;
	/** What is not bytes, by its index. */
	readonly #others = new Map<number, SourceItem>();
	/** Stream seconds of all marks. */
	readonly marks: number[] = [];

	/** A tape of these items. */
	static of(items: Iterable<SourceItem>): ItemTape {
		const tape = new ItemTape();
		for (const item of items) tape.push(item);
		return tape;
	}

	get length(): number {
		return this.#times.length;
	}

	/** True where anything was received. */
	get hasBytes(): boolean {
		return this.#end > 0;
	}

	push(item: SourceItem): void {
		if (!('bytes' in item)) {
			if ('mark' in item) this.marks.push(item.t);
			this.#others.set(this.length, item);
			this.#add(item.t);
			return;
		}

		const {bytes, t} = item;
		let from = 0;
		for (let end = bytes.indexOf(10); end >= 0 && end < bytes.length - 1; end = bytes.indexOf(10, from)) {
			this.#pushBytes(t, bytes.subarray(from, end + 1));
			from = end + 1;
		}

		// An empty chunk says that so much time has passed.
		if (from < bytes.length || bytes.length === 0) this.#pushBytes(t, bytes.subarray(from));
	}

	/** Time of an item, stream seconds; 0 where there is none. */
	timeOf(index: number): number {
		return this.#times[index] ?? 0;
	}

	isBytes(index: number): boolean {
		return !this.#others.has(index);
	}

	/** An item; its bytes are the tape's own, not to be written to. */
	at(index: number): SourceItem {
		const other = this.#others.get(index);
		if (other !== undefined) return other;
		const start = itemAt(this.#starts, index);
		const block = this.#blocks[Math.floor(start / blockBytes)] ?? new Uint8Array(0);
		const offset = start % blockBytes;
		return {t: this.timeOf(index), bytes: block.subarray(offset, offset + itemAt(this.#lengths, index))};
	}

	/** Number of items at or before a time. */
	countUntil(t: number): number {
		let low = 0;
		let high = this.length;
		while (low < high) {
			const middle = (low + high) >> 1;
			if (this.timeOf(middle) <= t) low = middle + 1;
			else high = middle;
		}

		return low;
	}

	#pushBytes(t: number, bytes: Uint8Array): void {
		for (let from = 0; from === 0 || from < bytes.length; from += blockBytes) {
			const piece = bytes.subarray(from, from + blockBytes);
			const room = this.#blocks.length * blockBytes - this.#end;
			if (piece.length > room) {
				this.#end += room;
				this.#blocks.push(new Uint8Array(blockBytes));
			}

			this.#blocks.at(-1)?.set(piece, this.#end % blockBytes);
			this.#add(t, piece.length);
			this.#end += piece.length;
		}
	}

	#add(t: number, length = 0): void {
		this.#times.push(t);
		this.#starts.push(this.#end);
		this.#lengths.push(length);
	}
}
