import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';
import type {DeclaredFinger, Rig} from '../rig.ts';

/** Beyond the limits by so much: the hand opens a little further or less far each time. */
const margin = 0.25;

/** The stream is that of a sound glove; what is wrong is the sheet: an end that the finger does not reach, or goes beyond, or its direction. */
export const settingsStale: FaultModel = {
	code: 'settings-stale',
	scope: 'finger',
	variants: ['inside', 'outside', 'direction'],
	install(rig, fault) {
		const {severity, variant, channel} = fault;
		rig.declared.fingers ??= trueSheet(rig);
		const name = channel ?? '';
		const {min, max, inverted} = rig.declared.fingers[name];
		const span = max - min;
		if (variant === 'direction') {
			if (severity > -1) rig.declared.fingers[name] = {min, max, inverted: !inverted};
			return {must: isPlain(rig)};
		}
		const isInside = variant === 'inside';
		const limits = isInside ? {mustNot: 3, must: 10, gross: 30} : {mustNot: 3, must: 5, gross: 25};
		const share = graded(severity, limits, margin) / 100;
		// A share of the sheet's own span, at the open end: it scatters least.
		const off = Math.round(isInside ? (-span * share) / (1 - share) : (span * share) / (1 + share));
		rig.declared.fingers[name] = inverted ? {min, max: max - off, inverted} : {min: min + off, max, inverted};
		return {must: isPlain(rig) && min + off >= 0, may: [{code: 'narrow-span', channel}]};
	},
};

/** Numbers that the firmware makes of readings, of the hand's own ends or in other units, are not what a sheet gives. */
function isPlain(rig: Rig): boolean {
	const {kind} = rig.glove.firmware;
	return !rig.scales && kind !== 'percent' && kind !== 'mv';
}

/** Ends of every finger's travel and its direction, as a fit of this hand would write them. */
function trueSheet(rig: Rig): Record<string, DeclaredFinger> {
	const {hand} = rig.glove;
	const fingers = rig.channels.filter(({finger}) => finger !== undefined);
	return Object.fromEntries(
		fingers.map(channel => {
			const open = channel.idealOutput(hand.relaxed[channel.place] ?? 0.03);
			const closed = channel.idealOutput(hand.depth);
			const ends = {min: Math.round(Math.min(open, closed)), max: Math.round(Math.max(open, closed))};
			return [channel.name, {...ends, inverted: closed < open}];
		}),
	);
}
