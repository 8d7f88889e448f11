import {cordCaution, rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** failure: what stands under this name is another finger's movement. */
export const swappedChannels: Fault<'swapped-channels'> = {
	code: 'swapped-channels',
	status: 'failure',
	scope: 'finger',
	listedAfter: 'port-lost',
	sees: 'wrong way, wrong place or wrong scale',
	title: 'another finger answered',
	definition: 'The finger that was asked to move is not the channel that moved (found by the bring-up routine).',
	physics:
		'Each reading is good; its place in the frame is not. Two cords, two wires, two pins in the firmware or two columns were exchanged.',
	causes: [
		'Two wiper wires exchanged at the board.',
		"Two cords on each other's reels.",
		'The order of the pins or of the printed columns in the firmware.',
		'The wrong finger was moved.',
	],
	measurements: [
		{measure: 'Pull one cord at its reel and see which channel moves', expect: 'the one of that finger'},
		{measure: 'Follow the wire from that reel to the board', expect: 'ends on the pin in the sheet'},
		{measure: 'Read the firmware: order of pins and of columns', expect: 'as in the sheet'},
	],
	remedy: [
		'Exchange the two wires, or the two entries in the firmware.',
		'Or keep it and write the true order into the sheet: bring-up does that.',
	],
	caution: `${rewiringCaution} ${cordCaution}`,
	ways: [],
};
