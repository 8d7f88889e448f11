import type {Fault} from './fault.ts';

/** function-check: the frames are good; someone left a print in. */
export const strayText: Fault = {
	code: 'stray-text',
	status: 'function-check',
	scope: 'link',
	title: 'lines that are no frames',
	definition: 'Lines that are no frames: debug prints, or a banner after the start.',
	physics:
		'Each stray line takes line time and makes the frame after it late; a program that reads the glove without care takes it for a frame.',
	causes: [
		'A debug print left in the firmware.',
		'A library that reports to the same port.',
		'A menu or prompt that waits for input.',
		'A warning of the board itself: read it.',
	],
	measurements: [
		{measure: 'Read the stray line as shown', expect: 'tells which part of the firmware printed it'},
		{measure: 'Search the firmware for other prints', expect: 'frames only'},
		{measure: 'How often it comes', expect: 'never; with each event: find that event'},
	],
	remedy: [
		'Take the print out, or send it to a second port.',
		'Mark such lines (a leading #) so that readers can skip them.',
	],
	ways: [],
};
