import type {StateBlock} from '../state-block.ts';

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** A few short texts with the time of each, kept as bytes so that they can be copied like all else: the latest `capacity`. */
export class TextList {
	private readonly bytes: Uint8Array;
	private readonly lengths: Int32Array;
	private readonly times: Float64Array;
	private readonly added: Int32Array;

	/** `longest`: bytes kept of each text, in UTF-8. */
	constructor(
		private readonly capacity: number,
		private readonly longest: number,
		state: StateBlock,
	) {
		this.bytes = state.bytes(capacity * longest);
		this.lengths = state.ints(capacity);
		this.times = state.floats(capacity);
		this.added = state.ints(1);
	}

	/** Texts ever added; numbers run from 0. */
	get count(): number {
		return this.added[0];
	}

	/** Number of the oldest text still held. */
	get oldest(): number {
		return Math.max(0, this.count - this.capacity);
	}

	add(text: string, t: number): void {
		const place = this.count % this.capacity;
		const from = place * this.longest;
		// Never cuts a character in two.
		this.lengths[place] = encoder.encodeInto(text, this.bytes.subarray(from, from + this.longest)).written;
		this.times[place] = t;
		this.added[0]++;
	}

	/** Text `number`; empty where it is not held. */
	text(number: number): string {
		if (number < this.oldest || number >= this.count) return '';
		const place = number % this.capacity;
		return decoder.decode(this.bytes.subarray(place * this.longest, place * this.longest + this.lengths[place]));
	}

	/** When text `number` came, seconds. */
	time(number: number): number {
		return this.times[number % this.capacity];
	}

	/** The latest text; empty before one. */
	get latest(): string {
		return this.text(this.count - 1);
	}

	/** The number of the first held text that is this one, as far as it is kept; −1 where it is not among them. */
	find(text: string): number {
		const bytes = new Uint8Array(this.longest);
		const kept = decoder.decode(bytes.subarray(0, encoder.encodeInto(text, bytes).written));
		for (let number = this.oldest; number < this.count; number++) if (this.text(number) === kept) return number;
		return -1;
	}
}
