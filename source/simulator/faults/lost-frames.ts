import type {FaultModel, Window} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** The part of a stream in which the fault is there; all of one without an end. */
function partOf(seconds: number, {spans}: Window): number {
	if (!Number.isFinite(seconds)) return 1;
	return spans.reduce((sum, [from, to]) => sum + Math.max(0, Math.min(to, seconds) - from), 0) / seconds;
}

/** Whole frames lost on the way, singly or a few in a row; the board's counter goes on. */
export const lostFrames: FaultModel = {
	code: 'lost-frames',
	scope: 'link',
	variants: ['single', 'runs'],
	install(rig, fault) {
		const {random, severity, window, variant} = fault;
		// The definition asks for a share of all frames; what is lost is lost while the fault lasts.
		const share =
			graded(severity, {mustNot: 0.0001, must: 0.005, gross: 0.15}, 0.3) / partOf(rig.durationSeconds, window);
		let owed = 0.6;
		let left = 0;
		rig.drop.push(t => {
			if (severity <= -1 || !window.has(t)) return false;
			owed += share * random.uniform(0.5, 1.5);
			if (left === 0 && owed < 1) return false;
			owed -= 1;
			if (left > 0) left--;
			else if (variant === 'runs') left = random.integer(0, 3);
			fault.acts(t);
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
