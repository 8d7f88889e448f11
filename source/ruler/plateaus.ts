/** A cord that is held at a mark is still for so long, seconds (specification E: hold 1 s, half of it counts). */
const stillSeconds = 0.5;

/**
 * Readings are averaged over this time: of half a second at 100/s single readings of a reel that nothing moves span 4.5 × their
 * noise (expected range of 50 normal numbers), and would be no stay.
 */
const meanSeconds = 0.1;

/** What those means may span, in rest noises (specification E). */
const noiseSpan = 4;

/**
 * And what they may span where the reel is quieter than the hand that holds its cord, share of full scale: what rests by the
 * definition of a stuck channel (check-values D5.4). On a reel of 40 mm it is a fifth of a millimetre, less than a ruler is off.
 */
const leastShare = 0.003;

/** A stay this near to the one before, in still spans, is the same stay: somebody shifted their grip. */
const sameSpans = 3;

/** One stay of a reading. */
type Plateau = {readonly from: number; readonly to: number; readonly level: number};

/**
 * Finds the stays of one channel as its frames come: means over a tenth of a second that span no more than 4 × the rest noise for
 * half a second. Constant time and memory for the stay under way; stays are kept.
 */
export class Plateaus {
	/** Stays that are over, in order. */
	readonly found: Plateau[] = [];
	private readonly span: number;
	private meanFrom = Number.NaN;
	private meanSum = 0;
	private meanCount = 0;
	private from = Number.NaN;
	private to = Number.NaN;
	private low = Number.POSITIVE_INFINITY;
	private high = Number.NEGATIVE_INFINITY;
	private sum = 0;
	private count = 0;

	/** @param restNoise rms, and the full scale, in the unit of the readings. */
	constructor(restNoise: number, fullScale: number) {
		this.span = Math.max(leastShare * fullScale, noiseSpan * restNoise);
	}

	push(t: number, reading: number): void {
		if (Number.isNaN(reading)) return;
		if (Number.isNaN(this.meanFrom)) this.meanFrom = t;
		this.meanSum += reading;
		this.meanCount++;
		if (t - this.meanFrom < meanSeconds) return;
		this.take(this.meanFrom, t, this.meanSum / this.meanCount);
		this.meanFrom = t;
		this.meanSum = 0;
		this.meanCount = 0;
	}

	private take(t: number, to: number, reading: number): void {
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
		this.to = to;
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
