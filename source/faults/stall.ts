import type {Fault} from './fault.ts';

/** out-of-spec: fine before and after, blind in between. */
export const stall: Fault = {
	code: 'stall',
	status: 'out-of-spec',
	scope: 'link',
	title: 'stream stops and goes on',
	definition: 'The stream stops for half a second or longer and then goes on by itself.',
	physics:
		'Either nothing was sent (the loop hung), or it was held up (radio, USB power saving) and arrives in one lump afterwards.',
	causes: [
		'The firmware waits: a blocking call, a sensor on a hung bus, a time-out.',
		'Radio contention: Bluetooth gaps of 100–300 ms are usual, half a second is not.',
		'USB power saving, a hub, or a loose plug that reconnects.',
		'The host was suspended.',
	],
	measurements: [
		{
			measure: 'Counter or clock of the frame after the gap',
			expect: 'goes on: sent late; jumped: frames lost on the way',
		},
		{measure: 'Wiggle the USB plug and cable', expect: 'no gap'},
		{measure: 'Gaps with the radio close by and other radios off', expect: 'gone: radio contention'},
		{measure: 'Read the firmware: calls that wait', expect: 'all have short time-outs'},
	],
	remedy: [
		'Give every waiting call a short time-out.',
		'Another cable, port or hub; switch off USB power saving for the port.',
		'Keep radio and antenna clear of the hand and of metal.',
	],
	ways: [],
};
