import type {Random} from '../../../source/simulator/random.ts';

/** White noise through two equal low passes of first order, brought to the wanted rms: a hand's unrest below `cutHertz`. */
export function unrest(random: Random, count: number, rate: number, cutHertz: number, rms: number): Float64Array {
	const path = new Float64Array(count);
	const keep = Math.exp((-2 * Math.PI * cutHertz) / rate);
	let one = 0;
	let two = 0;
	let sum = 0;
	// The filters start from nothing: what they do before they have forgotten it is thrown away.
	for (let k = -Math.ceil((2 * rate) / cutHertz); k < count; k++) {
		one = keep * one + (1 - keep) * random.normal();
		two = keep * two + (1 - keep) * one;
		if (k < 0) continue;
		path[k] = two;
		sum += two * two;
	}
	const scale = sum > 0 ? rms / Math.sqrt(sum / count) : 0;
	for (let k = 0; k < count; k++) path[k] *= scale;
	return path;
}

/** Tremor: 8 to 12 Hz (H16), its strength and its beat never quite the same. `peak` in whatever unit comes back. */
export function tremor(random: Random, count: number, rate: number, peak: number): Float64Array {
	const path = new Float64Array(count);
	const hertz = random.uniform(8, 12);
	const strength = unrest(random, count, rate, 0.5, 0.3);
	const beat = unrest(random, count, rate, 0.7, 0.8);
	let phase = random.uniform(0, 2 * Math.PI);
	for (let k = 0; k < count; k++) {
		phase += (2 * Math.PI * (hertz + beat[k])) / rate;
		path[k] = peak * Math.max(0, 1 + strength[k]) * Math.sin(phase);
	}
	return path;
}

export type Unrest = {
	/** rms below 2 Hz, and from 2 to 8 Hz; shares of full scale. */
	readonly slow: number;
	readonly quick: number;
	/** Peak of the tremor, share of full scale. */
	readonly tremor: number;
	/** Share of the slow part that all fingers have together; −0.7 to 0.95 between pairs at rest (H-real). */
	readonly together: number;
};

/** A hand's unrest as H-real found it (p5 to p99), but never more than 1.5 % of the travel of the finger that travels least. */
export function drawUnrest(random: Random, leastSpan: number): Unrest {
	const most = 0.015 * leastSpan;
	return {
		slow: Math.min(most, random.logUniform(0.0002, 0.0045)),
		quick: Math.min(most / 2, random.logUniform(0.0001, 0.002)),
		tremor: Math.min(most / 3, random.logUniform(0.00005, 0.0008)),
		together: random.uniform(0, 0.95),
	};
}

/** The unrest of each finger of one hand, share of full scale. */
export function handUnrest(random: Random, fingers: number, count: number, rate: number, of: Unrest): Float64Array[] {
	const common = unrest(random, count, rate, 0.8, of.slow);
	return Array.from({length: fingers}, () => {
		const sense = random.chance(0.15) ? -1 : 1;
		const share = Math.sqrt(of.together);
		const own = unrest(random, count, rate, 0.8, of.slow * Math.sqrt(1 - of.together));
		const quick = unrest(random, count, rate, 5, of.quick);
		const shake = tremor(random, count, rate, of.tremor);
		return own.map((value, k) => value + sense * share * common[k] + quick[k] + shake[k]);
	});
}
