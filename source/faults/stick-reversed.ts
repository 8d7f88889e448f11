import {rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: good numbers with the wrong sign. */
export const stickReversed: Fault<'stick-reversed'> = {
	code: 'stick-reversed',
	status: 'out-of-spec',
	scope: 'stick',
	listedAfter: 'swapped-channels',
	sees: 'wrong way, wrong place or wrong scale',
	title: 'axis runs the wrong way',
	definition: 'A stick axis falls where it should rise (found by the bring-up routine).',
	physics:
		'With supply and ground of one axis exchanged, or the stick mounted turned round, the reading is full scale minus the expected one.',
	causes: [
		'The stick is mounted turned by 180° (then both axes are reversed).',
		'Supply and ground of the axis exchanged.',
		'The other sign is expected: by the W3C Gamepad convention right and down are positive.',
	],
	measurements: [
		{measure: 'Push right, then towards you: readings of x and y', expect: 'both rise'},
		{measure: 'Volts at the outer lugs of the axis', expect: 'as on the other axis'},
		{measure: 'Mark or connector side of the stick', expect: 'as in the sheet'},
	],
	remedy: [
		'Mark the axis as inverted in the sheet or flip it in the firmware.',
		'Or turn the stick, or exchange the two outer wires of the axis.',
	],
	caution: rewiringCaution,
	ways: [],
};
