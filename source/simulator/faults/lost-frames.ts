import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** Whole frames lost on the way, singly or a few in a row; the board's counter goes on. */
export const lostFrames: FaultModel = {
	code: 'lost-frames',
	scope: 'link',
	variants: ['single', 'runs'],
	install(rig, fault) {
		const {random, severity, window, variant} = fault;
		const share = graded(severity, {mustNot: 0.0001, must: 0.005, gross: 0.15}, 0.3);
		let owed = 0.6;
		let left = 0;
		rig.drop.push(t => {
			if (severity <= -1 || !window.has(t)) return false;
			owed += share * random.uniform(0.5, 1.5);
			if (left > 0) {
				left--;
				owed -= 1;
				return true;
			}
			if (owed < 1) return false;
			owed -= 1;
			if (variant === 'runs') left = random.integer(0, 3);
			return true;
		});
		return {
			must: rig.stream.counter > 0,
			may: [
				{code: 'uneven-frames', channel: null},
				{code: 'stall', channel: null},
			],
		};
	},
};
