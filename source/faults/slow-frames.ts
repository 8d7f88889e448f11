import {servoCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: readings are right but late. */
export const slowFrames: Fault = {
	code: 'slow-frames',
	status: 'out-of-spec',
	scope: 'link',
	title: 'fewer frames than wanted',
	definition: 'The frame rate stays under the target (30 per second unless the sheet says otherwise).',
	physics:
		'A frame takes reading time, computing and wire time. At 9600 baud a line of 40 bytes takes 42 ms: 24 frames/s at most, whatever the board does. A fist closes and opens at 3 Hz: below 25 frames/s that is less than eight frames a cycle.',
	causes: [
		'delay() or waiting code in the loop.',
		'The baud rate is too low for the length of the line.',
		'The loop waits for a slow device: display, LED strip, servo, radio.',
		'Many readings averaged per channel.',
		'Bluetooth or a radio bridge with its own pace.',
	],
	measurements: [
		{measure: 'Bytes per line times frames per second, beside baud / 10', expect: 'below 70 %; near 100 %: raise baud'},
		{measure: 'Read the firmware: delay(), pulseIn(), long averaging', expect: 'total under 20 ms per pass'},
		{
			measure: 'Rate with everything but reading and printing commented out',
			expect: 'rises: add parts back one by one',
		},
		{measure: 'Rate over USB instead of radio', expect: 'the same; higher: the radio limits'},
	],
	remedy: [
		'Replace delay() by a timer: send when 16 ms have passed.',
		'Use 115200 or more; shorten the line.',
		'Update displays and LEDs every tenth frame.',
	],
	caution: servoCaution,
	ways: [],
};
