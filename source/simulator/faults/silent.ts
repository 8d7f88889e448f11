import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** Nothing comes: at all, for a while at the start, or from some time on. */
export const silent: FaultModel = {
	code: 'silent',
	scope: 'link',
	variants: ['stops', 'late', 'never'],
	install(rig, fault) {
		const {severity, window, variant} = fault;
		const [from, to] = window.spans[0];
		const given = from > 0 || Number.isFinite(to);
		if (given) {
			rig.mute.push(t => severity > -1 && window.has(t));
			const end = Math.min(to, rig.durationSeconds);
			return {must: (from === 0 && end >= 3.1) || (end >= rig.durationSeconds && end - from >= 5.1)};
		}
		if (variant === 'never' && severity >= 0) {
			rig.mute.push(() => true);
			return {must: rig.durationSeconds >= 3.1, from: 0, to: null};
		}
		if (variant === 'stops') {
			const seconds = graded(severity, {mustNot: 1, must: 5, gross: 20}, 0.1);
			const start = Math.max(0, rig.durationSeconds - seconds);
			rig.mute.push(t => t >= start);
			return {must: start > 0, from: start, to: null};
		}
		const seconds = graded(severity, {mustNot: 1, must: 3, gross: 15}, 0.1);
		rig.mute.push(t => t < seconds);
		return {from: 0, to: seconds};
	},
};
