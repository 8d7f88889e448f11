/**
 * What a receiver at one symbol rate makes of a line at another: the line's level is sampled where the receiver's own
 * clock puts the middle of each bit after a falling edge, 8 data bits, no parity, one stop bit (check-values U1).
 */
export class UartResampler {
	readonly #senderBit: number;
	readonly #receiverBit: number;
	readonly #framingErrors: 'keep' | 'zero';
	#starts: number[] = [];
	#bytes: number[] = [];
	/** From when on the receiver looks for the next start edge. */
	#idleFrom = Number.NEGATIVE_INFINITY;

	/** Symbol rates in baud; `framingErrors`: whether a byte without its stop bit comes through as read or as 0. */
	constructor(senderBaud: number, receiverBaud: number, framingErrors: 'keep' | 'zero') {
		this.#senderBit = 1 / senderBaud;
		this.#receiverBit = 1 / receiverBaud;
		this.#framingErrors = framingErrors;
	}

	/** Puts bytes on the line, back to back from `start` seconds. Returns what the receiver has complete before then. */
	push(start: number, bytes: Uint8Array): Uint8Array {
		const out = this.#receive(start);
		for (let i = 0; i < bytes.length; i++) {
			this.#starts.push(start + i * 10 * this.#senderBit);
			this.#bytes.push(bytes[i]);
		}
		return out;
	}

	/** The line stays idle from now on: what is left. */
	flush(): Uint8Array {
		return this.#receive(Number.POSITIVE_INFINITY);
	}

	/** Level of the line within the byte at `i` or the idle time after it. */
	#level(i: number, t: number): 0 | 1 {
		const bit = Math.floor((t - this.#starts[i]) / this.#senderBit + 1e-9);
		if (bit === 0) return 0;
		if (bit > 8) return 1;
		return ((this.#bytes[i] >> (bit - 1)) & 1) as 0 | 1;
	}

	/** First falling edge at or after `t`, starting from byte `from`; undefined if there is none yet. */
	#fallingEdge(from: number, t: number): {i: number; t: number} | undefined {
		for (let i = from; i < this.#bytes.length; i++) {
			let before: 0 | 1 = 1;
			for (let bit = 0; bit <= 9; bit++) {
				const edge = this.#starts[i] + bit * this.#senderBit;
				const level: 0 | 1 = bit === 0 ? 0 : bit === 9 ? 1 : (((this.#bytes[i] >> (bit - 1)) & 1) as 0 | 1);
				if (level === 0 && before === 1 && edge >= t - 1e-9) return {i, t: edge};
				before = level;
			}
		}
		return undefined;
	}

	/** Reads every character whose last sample lies before `known`, up to which the line's level is settled. */
	#receive(known: number): Uint8Array {
		const out: number[] = [];
		let from = 0;
		for (;;) {
			const edge = this.#fallingEdge(from, this.#idleFrom);
			if (!edge) {
				from = this.#bytes.length;
				break;
			}
			const stop = edge.t + 9.5 * this.#receiverBit;
			if (stop > known) {
				from = edge.i;
				break;
			}
			let at = edge.i;
			let value = 0;
			let level: 0 | 1 = 1;
			for (let bit = 1; bit <= 9; bit++) {
				const sample = edge.t + (bit + 0.5) * this.#receiverBit;
				while (at + 1 < this.#starts.length && this.#starts[at + 1] <= sample) at++;
				level = this.#level(at, sample);
				if (bit < 9 && level === 1) value |= 1 << (bit - 1);
			}
			out.push(level === 1 || this.#framingErrors === 'keep' ? value : 0);
			// After a missing stop bit the receiver waits for the line to rise before it looks for an edge: an edge is a fall.
			this.#idleFrom = stop;
			from = at;
		}
		if (from > 0) {
			this.#starts.splice(0, from);
			this.#bytes.splice(0, from);
		}
		return Uint8Array.from(out);
	}
}
