import type {FaultModel} from '../fault-model.ts';

/** Supply and ground legs exchanged, or the cord wound the other way: full scale minus the true reading (check-values P10). */
export const reversedSensor: FaultModel = {
	code: 'reversed-sensor',
	scope: 'finger',
	variants: ['legs-exchanged'],
	install(rig, fault) {
		const {severity, window, index} = fault;
		const channel = rig.channels[index];
		const {outputFullScale} = rig.glove.firmware;
		if (severity > -1) {
			// Such firmware knows this finger's ends as they come, so it sends the mirror image of what it should.
			if (rig.scales) channel.output.push((t, sent) => (window.has(t) ? outputFullScale - sent : sent));
			else channel.volts.push((t, volts) => (window.has(t) ? 1 - volts : volts));
		}
		return {must: rig.spanShare(index) * channel.gain >= 0.22};
	},
};
