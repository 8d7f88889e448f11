import type {SourceItem} from '../stream/source-item.ts';
import type {Random} from './random.ts';
import type {LinkSpec} from './stream-spec.ts';

/** Moves the moment at which bytes reach the host; seconds in, seconds out. */
type ArrivalHook = (t: number) => number;

type Pending = {bytes: Uint8Array; start: number; byteSeconds: number; taken: number};

/** The way from the wire to the host's program: bytes with their wire times in, timed chunks out. */
export class Delivery {
	readonly hooks: ArrivalHook[] = [];
	readonly #link: LinkSpec;
	readonly #random: Random;
	readonly #out: SourceItem[] = [];
	readonly #pending: Pending[] = [];
	#pendingBytes = 0;
	#nextPoll: number;
	#last = 0;
	/** Replaces the link's own poll period, milliseconds. */
	pollMs: number;
	delivery: LinkSpec['delivery'];

	constructor(link: LinkSpec, random: Random) {
		this.#link = link;
		this.#random = random;
		this.pollMs = link.pollMs;
		this.delivery = link.delivery;
		this.#nextPoll = random.uniform(0, link.pollMs / 1000);
	}

	/** Takes bytes whose first begins at `start` seconds and that follow each other every `byteSeconds`. */
	push(start: number, byteSeconds: number, bytes: Uint8Array): void {
		if (bytes.length === 0) return;
		if (this.delivery === 'direct') {
			this.#emit(start + bytes.length * byteSeconds, bytes);
			return;
		}
		this.#poll(start);
		this.#pending.push({bytes, start, byteSeconds, taken: 0});
		this.#pendingBytes += bytes.length;
	}

	/** Lets time pass up to `t`, so that what is pending gets delivered. */
	advance(t: number): void {
		if (this.delivery === 'poll' || this.#pending.length > 0) this.#poll(t);
	}

	/** An event on the link, at `t` or as soon as everything before is out. */
	event(item: {t: number; event: 'port-lost' | 'reattached'; detail?: string}): void {
		this.advance(item.t);
		// What the host had not fetched by then is lost with the port.
		this.#pending.length = 0;
		this.#pendingBytes = 0;
		this.#last = Math.max(this.#last, item.t);
		this.#out.push({...item, t: this.#last});
	}

	/** Hands over the chunks that are ready, and forgets them. */
	take(): SourceItem[] {
		return this.#out.splice(0);
	}

	#poll(until: number): void {
		const period = this.pollMs / 1000;
		if (this.#pending.length === 0) {
			if (this.#nextPoll < until) this.#nextPoll += Math.ceil((until - this.#nextPoll) / period) * period;
			return;
		}
		while (this.#nextPoll <= until && this.#pendingBytes > 0) {
			const full = this.#fullAt();
			if (full !== undefined && full < this.#nextPoll) {
				this.#collect(full);
				continue;
			}
			this.#collect(this.#nextPoll);
			this.#nextPoll += period;
		}
	}

	/** When `packetBytes` will have come, if they are all pending. */
	#fullAt(): number | undefined {
		const {packetBytes} = this.#link;
		if (packetBytes <= 0 || this.#pendingBytes < packetBytes) return undefined;
		let left = packetBytes;
		for (const {bytes, start, byteSeconds, taken} of this.#pending) {
			const here = bytes.length - taken;
			if (left <= here) return start + (taken + left) * byteSeconds + 1e-9;
			left -= here;
		}
		return undefined;
	}

	/** Delivers every byte that has come by `t` as one chunk. */
	#collect(t: number): void {
		const parts: Uint8Array[] = [];
		let length = 0;
		while (this.#pending.length > 0) {
			const first = this.#pending[0];
			const came = Math.min(
				first.bytes.length,
				first.byteSeconds > 0
					? Math.floor((t - first.start) / first.byteSeconds + 1e-6)
					: first.start <= t
						? first.bytes.length
						: 0,
			);
			if (came > first.taken) {
				const part = first.bytes.subarray(first.taken, came);
				parts.push(part);
				length += part.length;
				first.taken = came;
			}
			if (first.taken < first.bytes.length) break;
			this.#pending.shift();
		}
		if (length === 0) return;
		this.#pendingBytes -= length;
		if (parts.length === 1) {
			this.#emit(t, parts[0]);
			return;
		}
		const whole = new Uint8Array(length);
		let at = 0;
		for (const part of parts) {
			whole.set(part, at);
			at += part.length;
		}
		this.#emit(t, whole);
	}

	#emit(t: number, bytes: Uint8Array): void {
		let arrival = t + this.#random.exponential(this.#link.hostDelayMs / 1000);
		for (const hook of this.hooks) arrival = hook(arrival);
		if (arrival > this.#last) this.#last = arrival;
		// Microseconds: what a recording's times resolve, so that a saved simulation replays to the digit.
		this.#out.push({t: Math.round(this.#last * 1e6) / 1e6, bytes});
	}
}
