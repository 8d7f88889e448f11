/**
 * Seeded pseudo-random numbers, so that a simulation is the same on every machine for the same seed.
 *
 * Generator: xoshiro128** 1.1 (D. Blackman and S. Vigna, public domain), its state filled from the seed by splitmix32.
 * Not for secrets.
 */
export class Random {
	#a: number;
	#b: number;
	#c: number;
	#d: number;
	#spare = Number.NaN;

	/** `seed`: any finite number; the lowest 32 bits of its integer part count. */
	constructor(seed: number) {
		let state = Math.trunc(seed) | 0;
		const next = (): number => {
			state = (state + 0x9e3779b9) | 0;
			let z = state ^ (state >>> 16);
			z = Math.imul(z, 0x21f0aaad);
			z ^= z >>> 15;
			z = Math.imul(z, 0x735a2d97);
			return z ^ (z >>> 15);
		};
		this.#a = next();
		this.#b = next();
		this.#c = next();
		// An all-zero state would stay zero for ever.
		this.#d = next() | 1;
	}

	/** A generator with exactly this state, for checking against published sequences. */
	static fromState(a: number, b: number, c: number, d: number): Random {
		const random = new Random(0);
		random.#a = a | 0;
		random.#b = b | 0;
		random.#c = c | 0;
		random.#d = d | 0;
		return random;
	}

	/** The next 32 bits, 0 … 4,294,967,295. */
	bits(): number {
		const product = Math.imul(this.#b, 5);
		const result = Math.imul((product << 7) | (product >>> 25), 9);
		const t = this.#b << 9;
		this.#c ^= this.#a;
		this.#d ^= this.#b;
		this.#b ^= this.#c;
		this.#a ^= this.#d;
		this.#c ^= t;
		this.#d = (this.#d << 11) | (this.#d >>> 21);
		return result >>> 0;
	}

	/** Uniform in [low, high); [0, 1) without arguments. */
	uniform(low = 0, high = 1): number {
		return low + (high - low) * (this.bits() / 4_294_967_296);
	}

	/** Uniform in the logarithm, for quantities that spread over decades. Both ends must be positive. */
	logUniform(low: number, high: number): number {
		return low * (high / low) ** this.uniform();
	}

	/** Whole number from `low` to `high`, both included. */
	integer(low: number, high: number): number {
		return low + Math.floor(this.uniform() * (high - low + 1));
	}

	/** Gaussian. Method: Marsaglia's polar form; the second number of each pair is kept. */
	normal(mean = 0, deviation = 1): number {
		const spare = this.#spare;
		if (!Number.isNaN(spare)) {
			this.#spare = Number.NaN;
			return mean + deviation * spare;
		}
		let u: number;
		let v: number;
		let s: number;
		do {
			u = this.bits() / 2_147_483_648 - 1;
			v = this.bits() / 2_147_483_648 - 1;
			s = u * u + v * v;
		} while (s >= 1 || s === 0);
		const factor = Math.sqrt((-2 * Math.log(s)) / s);
		this.#spare = v * factor;
		return mean + deviation * u * factor;
	}

	/** Exponential waiting time with this mean. */
	exponential(mean: number): number {
		return -mean * Math.log(1 - this.uniform());
	}

	chance(probability: number): boolean {
		return this.uniform() < probability;
	}

	/** One of the items; throws on an empty list. */
	pick<T>(items: readonly T[]): T {
		if (items.length === 0) throw new RangeError('pick needs at least one item');
		return items[this.integer(0, items.length - 1)];
	}

	/** One of the items, each with its own weight (≥ 0, not all 0). */
	weighted<T>(items: readonly (readonly [item: T, weight: number])[]): T {
		let total = 0;
		for (const [, weight] of items) total += weight;
		let left = this.uniform() * total;
		for (const [item, weight] of items) {
			left -= weight;
			if (left < 0) return item;
		}
		return items[items.length - 1][0];
	}

	/** A shuffled copy (Fisher–Yates). */
	shuffle<T>(items: readonly T[]): T[] {
		const copy = [...items];
		for (let i = copy.length - 1; i > 0; i--) {
			const j = this.integer(0, i);
			[copy[i], copy[j]] = [copy[j], copy[i]];
		}
		return copy;
	}

	/** An independent generator for one concern, so that drawing more there changes nothing elsewhere. */
	fork(label: string): Random {
		// FNV-1a over the label, mixed with this generator's state without advancing it.
		let hash = 0x811c9dc5;
		for (let i = 0; i < label.length; i++) hash = Math.imul(hash ^ label.charCodeAt(i), 0x01000193);
		return new Random(hash ^ this.#a ^ Math.imul(this.#c, 0x9e3779b1));
	}
}

/**
 * Ornstein–Uhlenbeck process: Gaussian wander that forgets itself within `correlationSeconds`. Mean 0, stationary
 * standard deviation `deviation` in whatever unit the caller uses. Exact for any step, so uneven times are no problem.
 */
export class Wander {
	readonly #random: Random;
	readonly #deviation: number;
	readonly #correlationSeconds: number;
	#t = Number.NaN;
	#value = 0;

	constructor(random: Random, deviation: number, correlationSeconds: number) {
		this.#random = random;
		this.#deviation = deviation;
		this.#correlationSeconds = correlationSeconds;
	}

	/** Value at `t` seconds; times must not fall. */
	at(t: number): number {
		if (Number.isNaN(this.#t)) {
			this.#value = this.#random.normal(0, this.#deviation);
		} else {
			const keep = Math.exp(-(t - this.#t) / this.#correlationSeconds);
			this.#value = this.#value * keep + this.#random.normal(0, this.#deviation * Math.sqrt(1 - keep * keep));
		}
		this.#t = t;
		return this.#value;
	}
}

/** rms of x[n] − (x[n−1] + x[n+1])/2 of white noise of rms 1. */
export const bendOfNoise = Math.sqrt(1.5);

/** rms of x[n] − (x[n−1] + x[n+1])/2 of a wander of rms 1, sampled every `interval` seconds, that forgets in `seconds`. */
export function bendOfWander(interval: number, seconds: number): number {
	const near = Math.exp(-interval / seconds);
	return Math.sqrt(1.5 - 2 * near + 0.5 * near * near);
}
