import type {StateBlock} from '../state-block.ts';
import {TickHistory} from './tick-history.ts';

/** A quarter second of which a fifth is no text counts as junk (the definition's share). */
const junkShare = 0.2;

const sampleBytes = 1024;

/** Lines of readings are digits for the most part, prose is letters. */
const mostDigits = 0.2;
const mostLetters = 0.75;

/** Bytes that no text contains: since when they come, and what the latest bytes are like. */
export class Junk {
	/** When the junk that comes now began and was seen last, seconds; NaN without any. */
	readonly from: Float64Array;
	readonly to: Float64Array;
	private readonly latest: Uint8Array;
	private readonly sampled: Float64Array;

	constructor(kept: StateBlock) {
		this.from = kept.floats(1, Number.NaN);
		this.to = kept.floats(1, Number.NaN);
		this.latest = kept.bytes(sampleBytes);
		this.sampled = kept.floats(1);
	}

	/** Keeps the newest of these bytes. */
	sample(bytes: Uint8Array): void {
		for (let i = Math.max(0, bytes.length - sampleBytes); i < bytes.length; i++)
			this.latest[this.sampled[0]++ & (sampleBytes - 1)] = bytes[i];
	}

	/** Bytes kept, in no order that matters. */
	get bytes(): Uint8Array {
		return this.latest.subarray(0, Math.min(this.sampled[0], sampleBytes));
	}

	closeTick(end: number, bytes: number, junk: number, frames: number): void {
		if (bytes === 0) return;
		if (junk >= junkShare * bytes) {
			if (Number.isNaN(this.from[0])) this.from[0] = end - TickHistory.seconds;
			this.to[0] = end;
		} else if (frames > 0) this.from[0] = Number.NaN;
	}

	/**
	 * At twice the listener's rate junk is mostly printable. It is neither frames nor prose all the same: hardly any byte is a
	 * digit, and not all are letters.
	 */
	get isNeitherFramesNorProse(): boolean {
		const {bytes} = this;
		let digits = 0;
		let letters = 0;
		for (const byte of bytes) {
			if (byte >= 0x30 && byte <= 0x39) digits++;
			else if ((byte | 0x20) >= 0x61 && (byte | 0x20) <= 0x7a) letters++;
		}
		return digits < mostDigits * bytes.length && letters < mostLetters * bytes.length;
	}
}
