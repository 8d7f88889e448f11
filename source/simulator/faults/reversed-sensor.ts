import type {FaultModel} from '../fault-model.ts';

/** Supply and ground legs exchanged, or the cord wound the other way: full scale minus the true reading (facts P10). */
export const reversedSensor: FaultModel = {
	code: 'reversed-sensor',
	scope: 'finger',
	variants: ['legs-exchanged'],
	install(rig, fault) {
		const {severity, window, index} = fault;
		const channel = rig.channels[index];
		const {outputFullScale, kind} = rig.glove.firmware;
		if (severity > -1) {
			// Calibrated firmware learnt this finger's ends as they are, so it sends the mirror image of what it should.
			if (kind === 'scaled') channel.output.push((t, sent) => (window.has(t) ? outputFullScale - sent : sent));
			else channel.volts.push((t, volts) => (window.has(t) ? 1 - volts : volts));
		}
		return {must: rig.spanShare(index) * channel.gain >= 0.22};
	},
};
