import type {Source} from '../../source/stream/source.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';

/** Everything a source delivers, to its end. */
export async function readAll(source: Source): Promise<SourceItem[]> {
	const items: SourceItem[] = [];
	for await (const batch of source.batches()) items.push(...batch);
	return items;
}

/** The bytes of some items, one after the other. */
export function bytesOf(items: readonly SourceItem[]): Buffer {
	return Buffer.concat(items.flatMap(item => ('bytes' in item ? [item.bytes] : [])));
}

/** The text of each item with bytes. */
export function textsOf(items: readonly SourceItem[]): string[] {
	return items.flatMap(item => ('bytes' in item ? [Buffer.from(item.bytes).toString('utf8')] : []));
}

/** The names of the events, in order. */
export function eventsOf(items: readonly SourceItem[]): string[] {
	return items.flatMap(item => ('event' in item ? [item.event] : []));
}

/** A source read item by item: `next(wanted)` resolves to the first item from here on that is wanted. */
export class ItemReader {
	readonly seen: SourceItem[] = [];
	#checked = 0;
	readonly #batches: AsyncIterator<readonly SourceItem[]>;

	constructor(source: Source) {
		this.#batches = source.batches()[Symbol.asyncIterator]();
	}

	async next(wanted: (item: SourceItem, soFar: readonly SourceItem[]) => boolean): Promise<SourceItem> {
		for (;;) {
			while (this.#checked < this.seen.length) {
				const item = this.seen[this.#checked++]!;
				if (wanted(item, this.seen.slice(0, this.#checked))) return item;
			}

			const {value, done} = await this.#batches.next();
			if (done) throw new Error(`The source ended first, after ${JSON.stringify(this.seen)}`);
			this.seen.push(...value);
		}
	}

	/** Resolves once the bytes so far contain the text. */
	async text(expected: string): Promise<void> {
		await this.next((_, soFar) => bytesOf(soFar).includes(expected));
	}

	async event(name: string): Promise<SourceItem> {
		return this.next(item => 'event' in item && item.event === name);
	}

	async end(): Promise<void> {
		for (;;) {
			const {value, done} = await this.#batches.next();
			if (done) return;
			this.seen.push(...value);
		}
	}
}
