// Formulas with sources and worked examples: docs/plan.md.

/** Resistance the converter sees at a pot turned to `position` (0–1), ohms; the largest is a quarter of the pot, at ½. */
export function sourceOhms(potOhms: number, position: number): number {
	return potOhms * position * (1 - position);
}

/**
 * Seconds until a sampling capacitor is within half a count of its source, from the other end of the range:
 * ln(2^(bits+1)) time constants. RC charging.
 */
export function settlingSeconds(sourceOhms: number, seriesOhms: number, farads: number, bits: number): number {
	return (bits + 1) * Math.LN2 * (sourceOhms + seriesOhms) * farads;
}

/** Reading at an input voltage: floor(volts · 2^bits / reference), within the range. */
export function countsAt(volts: number, referenceVolts: number, bits: number): number {
	const codes = 2 ** bits;
	return Math.max(0, Math.min(codes - 1, Math.floor((volts * codes) / referenceVolts)));
}

/** Milliamperes through what is left of a track that lies between supply and ground. Ohm. */
export function shortMilliamperes(volts: number, ohmsLeft: number): number {
	return (volts / ohmsLeft) * 1000;
}

/** Watts in the same. Ohm. */
export function shortWatts(volts: number, ohmsLeft: number): number {
	return volts ** 2 / ohmsLeft;
}
