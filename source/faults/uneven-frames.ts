import {servoCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: speed and smoothing computed from these frames are in doubt. */
export const unevenFrames: Fault = {
	code: 'uneven-frames',
	status: 'out-of-spec',
	scope: 'link',
	title: 'uneven frame spacing',
	definition: 'The spacing of the frames varies much.',
	physics:
		'Interarrival jitter J is smoothed with a gain of 1/16 from |D|, the change of transit time between frames (RFC 3550); it is a mean deviation, not a standard deviation. A loop that does something long every few passes shows as jitter.',
	causes: [
		'The loop has no fixed period: it sends as soon as it is round, and some rounds are longer.',
		'Something slow every few passes: display, SD card, servo, Wi-Fi.',
		'The host is busy, or a hub shares the bus.',
		'Bluetooth under interference.',
	],
	measurements: [
		{
			measure: "Add the board's clock to each frame (millis or micros)",
			expect: 'even: the board is fine, the link is not',
		},
		{measure: 'Read the firmware: what runs only in some passes?', expect: 'nothing longer than a frame'},
		{measure: 'The same with a direct port, no hub', expect: 'no change; steadier: hub or cable'},
		{measure: 'Host load and other programs', expect: 'idle'},
	],
	remedy: [
		'Send on a timer, not at the end of the loop.',
		'Move slow work to the gaps, in small parts.',
		"Send the board's time with each frame and use that.",
	],
	caution: servoCaution,
	ways: [],
};
