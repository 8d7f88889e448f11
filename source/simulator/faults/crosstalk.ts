import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** A channel of one group (fingers, stick) pushed by the channel of the other group read just before it. */
export const crosstalk: FaultModel = {
	code: 'crosstalk',
	scope: 'analog',
	variants: ['carry-over', 'common-wire'],
	install(rig, fault) {
		const {severity, window, index, variant} = fault;
		const channel = rig.channels[index];
		const before = index > 0 ? rig.channels[index - 1] : undefined;
		if (!before) throw new RangeError('crosstalk needs a channel with another read before it');
		const wanted = graded(severity, {mustNot: 0.01, must: 0.03, gross: 0.12}, 0.1);
		const span = rig.spanShare(index - 1);
		const share = Math.min(0.35, wanted / (channel.gain * span));
		const rest = rig.restShare(index - 1);
		channel.volts.push((t, volts) => {
			if (!window.has(t)) return volts;
			// Too high a source resistance leaves part of the last channel's charge; a shared thin wire adds to the level.
			return variant === 'carry-over' ? volts + share * (rig.held - volts) : volts + share * (rig.held - rest);
		});
		return {must: before.kind !== channel.kind && !rig.smooths && !rig.scales};
	},
};
