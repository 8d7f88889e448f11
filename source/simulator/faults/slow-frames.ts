import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** A long delay in the loop, slow prints or a display in the way: too few frames. */
export const slowFrames: FaultModel = {
	code: 'slow-frames',
	scope: 'link',
	variants: ['long-loop'],
	install(rig, fault) {
		const {severity, window} = fault;
		const rate = graded(severity, {mustNot: 45, must: 25, gross: 3}, 0.05);
		rig.interval.push((t, seconds) => (window.has(t) ? (seconds / rig.frameSeconds) * (1 / rate) : seconds));
		return {};
	},
};
