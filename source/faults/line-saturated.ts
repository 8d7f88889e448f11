import type {Fault} from './fault.ts';

/** out-of-spec: frames are late and the next longer line breaks it. */
export const lineSaturated: Fault = {
	code: 'line-saturated',
	status: 'out-of-spec',
	scope: 'link',
	title: 'serial line is full',
	definition: 'The serial line carries nearly all it can.',
	physics:
		'Eight data bits cost ten bit times: 115200 baud carry 11 520 bytes/s. A full line makes the send buffer grow: every frame waits, and then frames or bytes are lost.',
	causes: [
		'Lines too long or too frequent for the baud rate.',
		'The loop sends without a timer, as fast as the line lets it.',
		'Debug prints between the frames.',
	],
	measurements: [
		{measure: 'Bytes per line × frames per second, beside baud / 10', expect: 'below 70 %'},
		{measure: 'Read the firmware: is sending timed?', expect: 'yes, for example every 16 ms'},
		{measure: 'Stray lines', expect: 'none'},
	],
	remedy: [
		'Raise the baud rate at both ends (250000 and 500000 are exact from 16 MHz).',
		'Send on a timer; fewer digits, no labels.',
		'Take debug prints out.',
	],
	ways: [],
};
