import {medianOf} from '../../math/nth-smallest.ts';
import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** The cord slips on its spool, hangs slack, or winds on far too large a spool. */
export const narrowSpan: FaultModel = {
	code: 'narrow-span',
	scope: 'finger',
	variants: ['slipping', 'slack'],
	install(rig, fault) {
		const {severity, window, index, variant} = fault;
		const channel = rig.channels[index];
		const {hand} = rig.glove;
		const span = (i: number): number => rig.spanShare(i) * rig.channels[i].gain;
		const others = rig.channels.flatMap((other, i) => (other.finger && i !== index ? [span(i)] : []));
		const wanted = graded(severity, {mustNot: 0.5, must: 0.25, gross: 0.03}) * medianOf(others);
		const ratio = Math.min(1, wanted / span(index));
		const open = channel.cordMm(hand.relaxed[channel.place] ?? 0.03);
		const closed = channel.cordMm(hand.depth);
		const slack = open + (1 - ratio) * (closed - open);
		channel.travel.push((t, mm) => {
			if (!window.has(t)) return mm;
			return variant === 'slack' ? open + Math.max(0, mm - slack) : open + (mm - open) * ratio;
		});
		return {
			// Half the median is out of reach for a thumb that has less than that by build; and a cord so slack that only the
			// deepest fists reach it may not move at all.
			must: severity < 0 ? wanted <= span(index) : variant !== 'slack' || severity <= 0.5,
			may: ['stuck-mid', 'stuck-low', 'stuck-high'].map(code => ({code, channel: fault.channel})),
		};
	},
};
