import {rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** failure: what stands under this name is the other axis. */
export const stickSwapped: Fault<'stick-swapped'> = {
	code: 'stick-swapped',
	status: 'failure',
	scope: 'stick',
	listedAfter: 'stick-reversed',
	sees: 'wrong way, wrong place or wrong scale',
	title: 'x and y exchanged',
	definition: 'Pushing the stick sideways moves y, and up or down moves x (found by the bring-up routine).',
	physics: "Both axes are good; their wires, columns or the stick's own orientation are exchanged.",
	causes: [
		'The stick is mounted turned by 90° (then one axis is also reversed).',
		'The two wiper wires are exchanged.',
		'The order of the columns in the firmware.',
	],
	measurements: [
		{measure: 'Push right only: which channel moves?', expect: 'stick-x'},
		{measure: 'Mark or connector side of the stick', expect: 'as in the sheet'},
		{measure: 'Follow the wires from VRx and VRy to the board', expect: 'end on the pins in the sheet'},
	],
	remedy: [
		'Exchange the two wires, or the two entries in the firmware.',
		'Or turn the stick by 90° and check the signs again.',
	],
	caution: rewiringCaution,
	ways: [],
};
