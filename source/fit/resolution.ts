// Formulas with sources and worked examples: docs/fit.md.

/** Noise of ideal quantisation, in counts: a channel cannot be known better than that. Source: Bennett 1948. */
const quantisationNoise = 1 / Math.sqrt(12);

/**
 * Bits that noise leaves of a converter's, from the rest noise in counts rms: N − log2(σ·√12). A noise below that of
 * quantisation counts as that of quantisation, so never more than `bits`.
 *
 * @example
 * effectiveBits(12, 2); // => 9.2075187…
 */
export function effectiveBits(bits: number, noiseCounts: number): number {
	return bits - Math.log2(Math.max(noiseCounts, quantisationNoise) / quantisationNoise);
}

/**
 * Bits that do not flicker at rest: N − log2(6.6·σ), 6.6 σ being the usual peak-to-peak value of noise; never more
 * than `bits`. Source: ADI MT-004 (from memory).
 *
 * @example
 * noiseFreeBits(12, 2); // => 8.277534…
 */
export function noiseFreeBits(bits: number, noiseCounts: number): number {
	return Math.min(bits, bits - Math.log2(6.6 * noiseCounts));
}

/** Positions of the finger that can be told apart: its span in units of quantisation-like noise (σ·√12). */
export function distinctPositions(spanCounts: number, noiseCounts: number): number {
	return spanCounts / (Math.max(noiseCounts, quantisationNoise) / quantisationNoise);
}

/** Bits of the converter with this full scale: 1023 is 10 bit. */
export function converterBits(fullScale: number): number {
	return Math.log2(fullScale + 1);
}
