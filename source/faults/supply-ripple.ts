import {rewiringCaution, servoCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: all readings share one disturbance. */
export const supplyRipple: Fault = {
	code: 'supply-ripple',
	status: 'out-of-spec',
	scope: 'link',
	title: 'supply shakes all channels',
	definition: 'All analog channels shake together at rest, in proportion to their level.',
	physics:
		"A pot fed from the converter's own reference is ratiometric: the supply cancels. Where pots and reference come from different places, every change of one against the other multiplies all readings by the same factor.",
	causes: [
		'Motors or servos on the same 5 V as the pots.',
		'The pots are fed from USB 5 V while the converter uses another reference (a regulator, an internal one).',
		'A poor joint in the common supply of the pots: 50 Ω with five pots take 2.4 % off all of them.',
		'Radio bursts on a board whose supply sags; a thin or long USB cable.',
		'A noisy switching supply or power bank.',
	],
	measurements: [
		{measure: 'Unplug motors and servos, watch the rest noise', expect: 'calm now: they share the supply of the pots'},
		{measure: 'Meter on AC volts across the supply of the pots', expect: 'under 20 mV'},
		{
			measure: "Volts from the pots' supply lug to the converter's reference pin",
			expect: 'under 20 mV; more: two supplies',
		},
		{measure: 'Volts at the USB socket of the board with everything running', expect: '4.75–5.25 V'},
		{measure: 'The same with another cable, port or supply', expect: 'no change; calmer: that one was at fault'},
	],
	remedy: [
		"Feed the pots from the converter's reference (5V or 3V3 pin of the board).",
		'Give servos their own supply, grounds joined at one point.',
		'Solder 100 µF and 100 nF across the supply of the pots.',
		'Mend the common supply joint; use a short, thick cable.',
	],
	caution: `${servoCaution} ${rewiringCaution}`,
	ways: [],
};
