import {rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';
import {before} from './figures.ts';

/** out-of-spec: right at rest, wrong while the neighbour moves. */
export const crosstalk: Fault = {
	code: 'crosstalk',
	status: 'out-of-spec',
	scope: 'analog',
	title: 'pushed by its neighbour',
	definition: 'A still channel of another group is pushed by the channel read just before it.',
	physics:
		"The converter's sampling capacitor has to be recharged from the neighbour's level within the sampling time: 12 µs at a 125 kHz clock, where a 10 kΩ source needs up to 11.7 µs for half a count. A weaker source leaves a rest of the neighbour. A thin common ground does the same to all.",
	causes: [
		'A joint of some kΩ in the wiper wire, or a pot of 100 kΩ.',
		'The converter is read too soon after switching channels, or its clock is set too high.',
		'A common ground or supply wire with resistance: 100 Ω move a 10 kΩ pot by 1 %.',
		'Two wiper wires side by side over a long way.',
	],
	measurements: [
		{
			measure: 'Turn only the neighbour; then swap the reading order',
			expect: 'push follows the order: settling; else wiring',
		},
		{measure: 'Unplugged: resistance from input pin to middle lug', expect: 'under 1 Ω'},
		{measure: 'Unplugged: resistance between the outer lugs', expect: '8–12 kΩ (10 kΩ ±20 %)'},
		{measure: "Volts from the pot's ground lug to the board's ground, others moving", expect: 'under 5 mV'},
	],
	remedy: [
		'Read each channel twice and throw the first reading away.',
		'Solder 100 nF from the input to ground at the board.',
		'Mend the joint; give the pots a ground of thicker wire.',
	],
	caution: rewiringCaution,
	ways: [],
};
