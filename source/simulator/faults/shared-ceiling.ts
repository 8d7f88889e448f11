import type {FaultModel} from '../fault-model.ts';
import {runIntoEnd} from './clipped-range.ts';

/** Several reels fed from a lower voltage than the converter's reference run into their ends at one level. */
export const sharedCeiling: FaultModel = {
	code: 'shared-ceiling',
	scope: 'link',
	variants: ['lower-supply', 'clamped'],
	install(rig, fault) {
		const {random, severity, window, variant} = fault;
		const fingers = rig.channels.flatMap((channel, i) => (channel.finger ? [i] : []));
		const count = Math.max(3, Math.round(3 + Math.min(1, Math.max(0, severity)) * (fingers.length - 3)));
		const chosen = new Set(random.shuffle(fingers).slice(0, count));
		const {deadLow, deadHigh} = rig.glove.board;
		// As read: 93 % of full scale at the limit (definition: 50–95 %), 55 % when gross.
		const read = 0.93 - 0.38 * Math.min(1, Math.max(0, severity));
		const ceiling = deadLow + read * (1 - deadLow - deadHigh);
		for (const index of fingers) {
			const channel = rig.channels[index];
			if (severity <= -1) continue;
			if (chosen.has(index)) {
				const end = channel.finger!.direction > 0 ? 'closing' : 'open';
				const change = runIntoEnd(rig, index, random.uniform(0.15, 0.35), end);
				channel.track.push((t, track) => (window.has(t) ? change(track) : track));
			}
			if (variant === 'lower-supply') channel.volts.push((t, volts) => (window.has(t) ? volts * ceiling : volts));
			else channel.volts.push((t, volts) => (window.has(t) ? Math.min(volts, ceiling) : volts));
		}
		// The definition asks for the closed end: where readings fall when the hand closes they flatten while it is open.
		const atClosed = [...chosen].filter(index => rig.channels[index].finger!.direction > 0).length;
		const names = fingers.map(index => rig.channels[index].name);
		return {
			must: atClosed >= 3 && !rig.scales && rig.glove.firmware.kind !== 'percent',
			may: [
				{code: 'wrong-full-scale', channel: null},
				...names.flatMap(channel => [
					{code: 'clipped-range', channel},
					{code: 'narrow-span', channel},
				]),
			],
		};
	},
};
