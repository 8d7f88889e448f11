import type {FaultModel} from '../fault-model.ts';

/** The port goes away: plug pulled, hub asleep; it may come back, and the board with it. */
export const portLost: FaultModel = {
	code: 'port-lost',
	scope: 'link',
	variants: ['unplugged'],
	install(rig, fault) {
		const {random, severity, window} = fault;
		const given = window.spans[0];
		const start = given[0] > 0 ? given[0] : rig.durationSeconds * 0.7;
		const end = given[1];
		if (severity <= -1) return {from: start};
		rig.at(start, t => {
			rig.delivery.event({t, event: 'port-lost', detail: 'the device was unplugged'});
			if (end >= rig.durationSeconds) {
				rig.gone = true;
				return;
			}
			// Unplugged, the board is off; plugged in again it starts from the beginning.
			rig.pauseSeconds += end - t + rig.restart(end, 'power', random, false);
			rig.at(end, () => rig.delivery.event({t: end, event: 'reattached'}));
		});
		return {
			from: start,
			to: end < rig.durationSeconds ? end : null,
			may: ['silent', 'stall', 'device-restart', 'lost-frames'].map(code => ({code, channel: null})),
		};
	},
};
