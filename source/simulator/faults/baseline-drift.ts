import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** Counts closings of one finger from its bending. */
function closingCounter(): (bending: number) => number {
	let closed = false;
	let count = 0;
	return bending => {
		if (!closed && bending > 0.55) {
			closed = true;
			count++;
		} else if (closed && bending < 0.3) {
			closed = false;
		}
		return count;
	};
}

/** The cord slips on its spool, a knot gives, or the spring no longer brings the finger's cord home. */
export const baselineDrift: FaultModel = {
	code: 'baseline-drift',
	scope: 'finger',
	variants: ['slip', 'step', 'weak-spring'],
	install(rig, fault) {
		const {random, severity, window, index, variant, channel} = fault;
		const node = rig.channels[index];
		const {hand} = rig.glove;
		const {direction} = node.finger!;
		const share = graded(severity, {mustNot: 0.03, must: 0.1, gross: 0.5}, 0.2);
		const travelMm = node.cordMm(hand.depth) - node.cordMm(hand.relaxed[node.place] ?? 0.03);
		const totalMm = share * travelMm;
		const rest = rig.restShare(index);
		const span = rig.spanShare(index);
		const room = direction > 0 ? 1 - (rest + span) : rest - span;
		const back = direction > 0 ? rest : 1 - rest;
		// Cord that slips out leaves the open hand further along the track; where no room is left that way, the other.
		const outward = room >= share * span * 0.5 || back < share * span;
		const sign = outward ? 1 : -1;
		const visible = outward || back >= share * span + 0.01;
		const count = closingCounter();
		const perClosing = 1 / random.uniform(4.5, 6);
		const stepAt = random.integer(1, 3);
		let first = -1;
		node.travel.push((t, mm) => {
			const closings = count(rig.bending[node.place]);
			if (!window.has(t)) return mm;
			if (first < 0) first = closings;
			const since = closings - first;
			let done: number;
			if (variant === 'step') done = since >= stepAt ? 1 : 0;
			else if (variant === 'slip') done = Math.min(1.4, since * perClosing);
			else done = 1.15 * (1 - Math.exp(-since / 3));
			if (severity < 0) done = Math.min(1, done);
			const offset = sign * totalMm * done;
			// A weak spring holds the cord back only while it should wind in; the fist pulls it out as before.
			if (variant === 'weak-spring') return Math.max(mm, mm + offset * Math.max(0, 1 - rig.bending[node.place]));
			return mm + offset;
		});
		return {
			must: visible && (variant !== 'weak-spring' || sign > 0),
			may: [
				{code: 'clipped-range', channel},
				{code: 'backlash', channel},
			],
		};
	},
};
