import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';
import {humShows} from './alias.ts';
import {clearOfRails} from './excess-noise.ts';
import {drawHum} from './hum.ts';

/** Pickup on a channel that still follows its finger: long unshielded wire, missing ground, charger hum. */
export const mainsHum: FaultModel = {
	code: 'mains-hum',
	scope: 'analog',
	variants: ['50', '60'],
	install(rig, fault) {
		const {random, severity, window, index, variant, channel} = fault;
		const node = rig.channels[index];
		const wanted = graded(severity, {mustNot: 0.005, must: 0.015, gross: 0.08});
		// In the "must not" the harmonics count as well.
		const hum = drawHum(random, severity < 0 ? 0 : random.uniform(0, 0.35), Number(variant));
		const peak = wanted / node.gain;
		node.volts.push((t, volts) => (window.has(t) ? volts + peak * hum.at(t) : volts));
		return {
			must: !rig.smooths && !rig.scales && humShows(hum.hertz, rig.stream.rate) && clearOfRails(rig, index, wanted),
			may:
				wanted > 0.02
					? [
							{code: 'excess-noise', channel},
							{code: 'floating-input', channel},
						]
					: [],
		};
	},
};
