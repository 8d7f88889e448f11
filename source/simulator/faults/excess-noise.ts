import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';
import {bendOfNoise, bendOfWander, type Random, Wander} from '../random.ts';
import type {Rig} from '../rig.ts';

/**
 * What a bad contact, a long open wire or a cheap supply makes. Noise that has to be found shows as much between neighbouring
 * frames, `interval` seconds apart, as white noise of unit variance; other noise has that variance itself.
 */
function source(variant: string, random: Random, interval: number, isToBeFound: boolean): (t: number) => number {
	switch (variant) {
		case 'rustle': {
			const forgets = random.uniform(0.004, 0.02);
			const rms = isToBeFound ? bendOfNoise / bendOfWander(interval, forgets) : 1;
			const wander = new Wander(random, rms, forgets);
			return t => wander.at(t);
		}
		case 'crackle':
			// Laplace, of unit variance: many small and some large.
			return () => (random.chance(0.5) ? 1 : -1) * random.exponential(Math.SQRT1_2);
		case 'contact': {
			let level = 1;
			return () => {
				if (random.chance(0.35)) level = -level;
				return 0.9 * level + random.normal(0, Math.sqrt(1 - 0.81));
			};
		}
		default:
			return () => random.normal();
	}
}

/** True where noise of this size (share of full scale rms) around the rest level stays clear of the rails. */
export function clearOfRails(rig: Rig, index: number, rms: number): boolean {
	const rest = rig.channels[index].outputShare(rig.restShare(index));
	return rest > 2 * rms && rest < 1 - 2 * rms;
}

export const excessNoise: FaultModel = {
	code: 'excess-noise',
	scope: 'analog',
	variants: ['white', 'rustle', 'crackle', 'contact'],
	install(rig, fault) {
		const {random, severity, window, index, variant, channel} = fault;
		const node = rig.channels[index];
		const wanted = graded(severity, {mustNot: 0.006, must: 0.015, gross: 0.06}, 0.1);
		const own = rig.noiseShare * node.gain;
		const added = Math.sqrt(Math.max(0, wanted * wanted - own * own)) / node.gain;
		const noise = source(variant, random, rig.frameSeconds, severity >= 0);
		node.volts.push((t, volts) => (window.has(t) ? volts + added * noise(t) : volts));
		return {
			must: !rig.smooths && clearOfRails(rig, index, wanted),
			may: wanted > 0.04 ? [{code: 'floating-input', channel}] : [],
		};
	},
};
