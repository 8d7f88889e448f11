import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** The stick rests away from mid-scale: wrong supply or a stick that hangs to one side (check-values K1). */
export const stickOffCentre: FaultModel = {
	code: 'stick-off-centre',
	scope: 'stick',
	variants: ['bent', 'shifted'],
	install(rig, fault) {
		const {random, severity, window, index, variant, channel} = fault;
		const {deadLow, deadHigh} = rig.glove.board;
		const live = 1 - deadLow - deadHigh;
		const away = graded(severity, {mustNot: 0.06, must: 0.12, gross: 0.38});
		const wanted = deadLow + (0.5 + (random.chance(0.5) ? 1 : -1) * away) * live;
		const rest = rig.restShare(index);
		rig.channels[index].track.push((t, track) => {
			if (!window.has(t)) return track;
			if (variant === 'shifted') return track + wanted - rest;
			// Loaded or bent: the ends stay, the middle moves.
			return track < rest ? (track / rest) * wanted : wanted + ((track - rest) / (1 - rest)) * (1 - wanted);
		});
		return {may: ['clipped-range', 'stick-short-throw'].map(code => ({code, channel}))};
	},
};
