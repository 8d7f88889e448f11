import type {BoardSpec} from './boards.ts';
import type {Random} from './random.ts';

/** The board's analog-to-digital converter, its own noise included. */
export class Converter {
	readonly fullScale: number;
	readonly #board: BoardSpec;
	readonly #random: Random;
	readonly #averageOf: number;
	readonly #levels: number;

	/** `averageOf`: readings the firmware takes and averages for one value. */
	constructor(board: BoardSpec, averageOf: number, random: Random) {
		this.#board = board;
		this.#random = random;
		this.#averageOf = averageOf;
		this.#levels = 2 ** board.adcBits;
		this.fullScale = this.#levels - 1;
	}

	/** Counts for `volts` as a share of the reference. Whole counts, or a mean of them where readings are averaged. */
	read(volts: number): number {
		const n = this.#averageOf;
		if (n === 1) return this.#once(volts, this.#board.noiseRmsCounts);
		// Beyond four readings the noise has smeared the steps; a mean is then as good as its parts.
		if (n > 4) return this.#once(volts, this.#board.noiseRmsCounts / Math.sqrt(n));
		let sum = 0;
		for (let i = 0; i < n; i++) sum += this.#once(volts, this.#board.noiseRmsCounts);
		return sum / n;
	}

	#once(volts: number, rms: number): number {
		const {deadLow, deadHigh, noiseTail, missingCodeEvery} = this.#board;
		const random = this.#random;
		const noise = random.normal(0, noiseTail > 0 && random.uniform() < noiseTail ? 3 * rms : rms);
		// Between its dead ends the board still covers all codes.
		const live = (volts - deadLow) / (1 - deadLow - deadHigh);
		let counts = Math.floor(live * this.#levels + noise);
		if (counts <= 0) return 0;
		if (counts >= this.fullScale) return this.fullScale;
		// A missing code's readings go to the one above: every n-th number is never seen.
		if (missingCodeEvery > 0 && counts % missingCodeEvery === missingCodeEvery - 2) counts++;
		return counts;
	}

	/** Reading without noise, for the true range of a channel. */
	static ideal(board: BoardSpec, volts: number): number {
		const full = 2 ** board.adcBits - 1;
		const live = (volts - board.deadLow) / (1 - board.deadLow - board.deadHigh);
		return Math.min(full, Math.max(0, Math.floor(live * (full + 1))));
	}
}
