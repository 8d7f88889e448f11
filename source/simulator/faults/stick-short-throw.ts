import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** The stick hits the housing, or its potentiometer covers only part of the throw (check-values K5). */
export const stickShortThrow: FaultModel = {
	code: 'stick-short-throw',
	scope: 'stick',
	variants: ['stop', 'short-track', 'both-sides'],
	install(rig, fault) {
		const {random, severity, window, index, variant, channel} = fault;
		const node = rig.channels[index];
		const {deadLow, deadHigh} = rig.glove.board;
		const live = 1 - deadLow - deadHigh;
		const reach = graded(severity, {mustNot: 0.8, must: 0.6, gross: 0.15});
		const rest = rig.restShare(index);
		const upper = deadLow + (0.5 + 0.5 * reach) * live;
		const lower = deadLow + (0.5 - 0.5 * reach) * live;
		const side = random.chance(0.5) ? 1 : -1;
		const top = node.ideal(1);
		const bottom = node.ideal(-1);
		node.track.push((t, track) => {
			if (!window.has(t)) return track;
			let value = track;
			if (side > 0 || variant === 'both-sides') {
				if (variant === 'stop') value = Math.min(value, upper);
				else if (value > rest) value = rest + ((value - rest) * (upper - rest)) / (top - rest);
			}
			if (side < 0 || variant === 'both-sides') {
				if (variant === 'stop') value = Math.max(value, lower);
				else if (value < rest) value = rest + ((value - rest) * (lower - rest)) / (bottom - rest);
			}
			return value;
		});
		return {
			may: [
				{code: 'narrow-span', channel},
				{code: 'stick-off-centre', channel},
			],
		};
	},
};
