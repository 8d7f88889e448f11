import {Play} from '../analog-channel.ts';
import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** Play between finger and spool: cord friction in its guide, a loose knob on the shaft (check-values H11, T11). */
export const backlash: FaultModel = {
	code: 'backlash',
	scope: 'finger',
	variants: ['play', 'jump'],
	install(rig, fault) {
		const {random, severity, window, index, variant, channel} = fault;
		const node = rig.channels[index];
		const {hand} = rig.glove;
		const share = graded(severity, {mustNot: 0.04, must: 0.1, gross: 0.4}, 0.12);
		const open = node.cordMm(hand.relaxed[node.place] ?? 0.03);
		const travelMm = node.cordMm(hand.depth) - open;
		if (variant === 'jump') {
			// A crack in the track: the reading leaps over it, later on the way up than on the way down.
			const middle = open + travelMm * random.uniform(0.35, 0.6);
			let above = false;
			node.travel.push((t, mm) => {
				if (mm > middle + (share * travelMm) / 2) above = true;
				else if (mm < middle - (share * travelMm) / 2) above = false;
				return window.has(t) ? mm + (above ? 0.5 : -0.5) * share * travelMm : mm;
			});
			return {must: false, may: ['coarse-steps', 'dropout'].map(code => ({code, channel}))};
		}
		const own = node.finger!.playShare * node.finger!.cordTravelMm;
		const play = new Play(Math.max(0, share * travelMm - (severity < 0 ? own : 0)));
		node.travel.push((t, mm) => {
			const followed = play.follow(mm);
			return window.has(t) ? followed : mm;
		});
		return {must: !rig.scales};
	},
};
