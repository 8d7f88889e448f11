import type {Fault} from './fault.ts';

/** out-of-spec: what arrives is good, but not all of it arrives. */
export const lostFrames: Fault = {
	code: 'lost-frames',
	status: 'out-of-spec',
	scope: 'link',
	title: 'frame counter skips',
	definition: 'The frame counter skips: frames were made and did not arrive.',
	physics:
		'The board counts each frame; missing numbers were lost after the counter: a full send buffer, the radio, or a receive buffer that was not read in time. An 8 bit counter that goes from 250 to 3 has skipped 8.',
	causes: [
		'The send buffer is full and the firmware drops frames.',
		'Radio losses.',
		'The host reads too slowly, or another program takes bytes.',
		'The counter is raised more than once per line sent.',
	],
	measurements: [
		{measure: 'Line load on the screen', expect: 'under 70 %'},
		{measure: 'Read the firmware: where the counter is raised', expect: 'once for each line sent'},
		{measure: 'Bad lines beside skips', expect: 'skips with bad lines: bytes lost; without: whole frames dropped'},
		{measure: 'Over USB instead of radio, other programs closed', expect: 'no skip'},
	],
	remedy: [
		'Lower the rate or raise the baud rate.',
		'Move the antenna; shorten the distance.',
		'Count lines, not passes of the loop.',
	],
	ways: [],
};
