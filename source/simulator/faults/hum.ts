import {sumOf} from '../../math/sums.ts';
import type {Random} from '../random.ts';

/** Mains pickup at the instant of sampling: fundamental of amplitude 1 with weaker harmonics. */
type Hum = {readonly hertz: number; readonly at: (t: number) => number};

/** Draws a mains pickup of 50 or 60 Hz (grids hold ± 0.05 Hz), with second to fifth harmonics up to `harmonics` in all. */
export function drawHum(random: Random, harmonics: number, hertz = random.pick([50, 60])): Hum {
	const exact = hertz + random.normal(0, 0.015);
	const phase = random.uniform(0, 2 * Math.PI);
	const shares = [random.uniform(0, 0.4), random.uniform(0.2, 0.6), 0, random.uniform(0, 0.2)];
	const total = sumOf(shares);
	const parts = shares
		.map((share, i) => ({
			amplitude: (share / total) * harmonics,
			radians: 2 * Math.PI * exact * (i + 2),
			phase: random.uniform(0, 2 * Math.PI),
		}))
		.filter(part => part.amplitude > 0.005);
	return {
		hertz: exact,
		at: t => {
			let value = Math.sin(2 * Math.PI * exact * t + phase);
			for (const part of parts) value += part.amplitude * Math.sin(part.radians * t + part.phase);
			return value;
		},
	};
}
