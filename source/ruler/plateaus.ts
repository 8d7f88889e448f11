/** A cord that is held at a mark is still for so long, seconds (specification E: hold 1 s, half of it counts). */
const stillSeconds = 0.5;

/**
 * What a still reading may span: 4 × its rest noise to either side, as half a second holds some fifty readings and one of them
 * lies 2.3 rms off, besides what a hand that holds a cord sways; never less than two steps of the converter.
 */
const noiseSpan = 8;
const leastSpan = 2;

/** A stay this near to the one before, in still spans, is the same stay: somebody shifted their grip. */
const sameSpans = 3;

/** One stay of a reading. */
type Plateau = {readonly from: number; readonly to: number; readonly level: number};

/**
 * Finds the stays of one channel as its frames come: a reading that spans no more than 8 × its rest noise for half a second.
 * Constant time and memory for the stay under way; stays are kept.
 */
export class Plateaus {
	/** Stays that are over, in order. */
	readonly found: Plateau[] = [];
	private readonly span: number;
	private from = Number.NaN;
	private to = Number.NaN;
	private low = Number.POSITIVE_INFINITY;
	private high = Number.NEGATIVE_INFINITY;
	private sum = 0;
	private count = 0;

	/** @param restNoise rms, in the unit of the readings. */
	constructor(restNoise: number) {
		this.span = Math.max(leastSpan, noiseSpan * restNoise);
	}

	push(t: number, reading: number): void {
		if (Number.isNaN(reading)) return;
		const low = Math.min(this.low, reading);
		const high = Math.max(this.high, reading);
		if (high - low > this.span) {
			this.close();
			this.from = t;
			this.low = reading;
			this.high = reading;
			this.sum = 0;
			this.count = 0;
		} else {
			this.low = low;
			this.high = high;
		}

		if (Number.isNaN(this.from)) this.from = t;
		this.to = t;
		this.sum += reading;
		this.count++;
	}

	/** The stays so far, the one under way among them. */
	get all(): readonly Plateau[] {
		const now = this.current();
		return now === undefined ? this.found : merged(this.found, now, this.span);
	}

	private current(): Plateau | undefined {
		if (this.count === 0 || this.to - this.from < stillSeconds) return undefined;
		return {from: this.from, to: this.to, level: this.sum / this.count};
	}

	private close(): void {
		const now = this.current();
		if (now === undefined) return;
		const all = merged(this.found, now, this.span);
		this.found.length = 0;
		this.found.push(...all);
	}
}

function merged(found: readonly Plateau[], now: Plateau, span: number): Plateau[] {
	const last = found[found.length - 1];
	if (last === undefined || Math.abs(now.level - last.level) > sameSpans * span) return [...found, now];
	const [a, b] = [last.to - last.from, now.to - now.from];
	return [...found.slice(0, -1), {from: last.from, to: now.to, level: (last.level * a + now.level * b) / (a + b)}];
}
