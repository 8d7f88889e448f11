/** Smallest jump of a contact: 20 % of full scale by definition, less the noise that may hide 2 % of it. */
const jumpShare = 0.18;

/** Longest jump that is a contact's and not a hand's: 60 ms or three frames, whichever is longer. */
const longestSeconds = 0.06;
const longestFrames = 3;

/** A jump has come back once this share of its height is left, or less. */
const backShare = 0.35;

/** Most readings held back: 60 ms at 4000 frames/s. */
const capacity = 240;

/**
 * Lets the readings of one channel through, less short jumps that come back: loose contacts, single damaged frames.
 * Readings are held back for 60 ms (three frames) while a jump may yet turn out to be one. At low frame rates a quick
 * tap of a finger can look the same and is left out too: whoever asks for ranges loses nothing by it.
 */
export class GlitchFilter {
	/** Jumps left out so far. */
	dropped = 0;
	private readonly pass: (t: number, reading: number) => void;
	private readonly times = new Float64Array(capacity);
	private readonly readings = new Float64Array(capacity);
	private held = 0;
	private last = Number.NaN;
	private farthest = 0;

	constructor(pass: (t: number, reading: number) => void) {
		this.pass = pass;
	}

	/** Takes one reading; NaN is passed over. `fullScale` in the unit of the readings. */
	push(t: number, reading: number, fullScale: number): void {
		if (Number.isNaN(reading)) return;
		const height = Math.abs(reading - this.last);
		if (this.held === 0) {
			// False also for the first reading, when `last` is NaN.
			if (height >= jumpShare * fullScale) this.hold(t, reading, height);
			else this.accept(t, reading);
			return;
		}

		if (height <= backShare * this.farthest) {
			this.held = 0;
			this.dropped++;
			this.accept(t, reading);
			return;
		}

		this.hold(t, reading, Math.max(height, this.farthest));
		const lasted = t - this.times[0];
		if ((lasted > longestSeconds && this.held > longestFrames) || this.held === capacity) this.release();
	}

	/** Lets through what is held back: no more readings come. */
	end(): void {
		this.release();
	}

	private hold(t: number, reading: number, farthest: number): void {
		this.times[this.held] = t;
		this.readings[this.held] = reading;
		this.held++;
		this.farthest = farthest;
	}

	private release(): void {
		const {held} = this;
		this.held = 0;
		for (let i = 0; i < held; i++) this.accept(this.times[i], this.readings[i]);
	}

	private accept(t: number, reading: number): void {
		this.last = reading;
		this.pass(t, reading);
	}
}
