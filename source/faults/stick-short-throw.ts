import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: what it reads is right, but full deflection never comes. */
export const stickShortThrow: Fault = {
	code: 'stick-short-throw',
	status: 'out-of-spec',
	scope: 'stick',
	title: 'does not reach far enough',
	definition: 'The stick does not reach far enough in some direction after two turns around.',
	physics:
		'Full tilt turns the pot by only part of its track; the rest depends on the gimbal. An obstacle, or a feed below the reference, shortens the reach: on one side if mechanical or by a poor leg, on all sides if electrical.',
	causes: [
		'The case or cap stops the stick early on one side.',
		'Resistance in one leg of the pot: that side falls short.',
		"Fed from a lower voltage than the converter's reference: all sides short and the centre low.",
		'The gimbal has a small angle: use its own end points.',
	],
	measurements: [
		{measure: 'Full tilt to the short side: volts at the axis pin', expect: 'within 10 % of the supply or of 0 V'},
		{measure: 'Watch the shaft at full tilt', expect: 'stopped by the gimbal, not by the case'},
		{measure: "Volts at the stick's supply pin beside the converter's reference", expect: 'the same within 20 mV'},
		{measure: 'Unplugged: resistance of each leg to the board', expect: 'under 1 Ω'},
	],
	remedy: [
		'Open up the case until the gimbal itself is the stop.',
		'Mend the leg; feed from the reference.',
		'Normalise each half-axis by its own end.',
	],
	caution: `${rewiringCaution} ${overvoltageCaution}`,
	ways: [],
};
