import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';
import {timesWithin} from './times-within.ts';

/** The stream stops and goes on: the board hangs for a while, or the host does not come round to reading. */
export const stall: FaultModel = {
	code: 'stall',
	scope: 'link',
	variants: ['board-hangs', 'host-hangs'],
	install(rig, fault) {
		const {random, severity, variant} = fault;
		const frame = rig.frameSeconds;
		const limits = {mustNot: Math.min(0.4, 5 * frame), must: 0.5, gross: 4};
		const seconds = graded(severity, limits);
		const times = timesWithin(rig, fault, Math.max(6, 3 * seconds) * random.uniform(0.8, 1.5), seconds + 1.5);
		// The gap is one ordinary interval longer than the hang; within "must not" it has to count.
		const hang = severity < 0 ? Math.max(0, seconds - 1.2 * frame) : seconds;
		if (variant === 'board-hangs') {
			for (const t of times)
				rig.at(t, () => {
					rig.pauseSeconds += hang;
				});
		} else {
			rig.delivery.hooks.push(t => {
				for (const start of times) if (t > start && t < start + hang) return start + hang;
				return t;
			});
		}
		return {
			must: rig.stream.rate >= 22 && times.length > 0,
			from: times[0],
			may: variant === 'host-hangs' ? [{code: 'bursty-delivery', channel: null}] : [],
		};
	},
};
