import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: usable once the centre is taken from its rest, with unequal throws. */
export const stickOffCentre: Fault = {
	code: 'stick-off-centre',
	status: 'out-of-spec',
	scope: 'stick',
	title: 'rests beside the middle',
	definition: 'The released stick rests away from mid-scale.',
	physics:
		'Each axis is a 10 kΩ pot held at its middle by a spring: released, its wiper gives half of what feeds it. A leg with resistance, or feed and reference from two places, moves that point; so does a gimbal mounted askew. Several gloves off in the same way point at wiring and supply, not at bad sticks.',
	causes: [
		"Fed from another voltage than the converter's reference: a stick on 5 V rests at 76 % of 3.3 V, one on 3.3 V at 33 % of 5 V. Likely where several units are off alike.",
		'A poor joint in one leg: 1 kΩ in the ground leg lifts the middle from 50 to 55 %.',
		'The stick is bent, its pot clips sit askew, or the cap touches the case.',
		'The firmware subtracts a centre measured with the stick held.',
		'A pull-up left on the pin: 35 kΩ lift the middle to 53 %.',
	],
	measurements: [
		{measure: 'Stick released: volts at the axis pin to ground', expect: '2.25–2.75 V of 5 V; 1.5–1.8 V of 3.3 V'},
		{measure: "Volts at the stick's supply pin beside the converter's reference", expect: 'the same within 20 mV'},
		{
			measure: 'The rest position of another unit built alike',
			expect: 'near the middle; off alike: look at wiring and supply first',
		},
		{measure: "Unplugged: resistance of the stick's ground pin to the board's ground", expect: 'under 1 Ω'},
		{measure: 'Push the cap lightly sideways and let go', expect: 'clears the case all round'},
	],
	remedy: [
		"Feed the stick from the converter's reference voltage.",
		'Mend the joint in the leg.',
		'Seat the pot clips; free the cap.',
		'Take the centre from the rest position, as fit does.',
	],
	caution: `${overvoltageCaution} ${rewiringCaution}`,
	ways: [],
};
