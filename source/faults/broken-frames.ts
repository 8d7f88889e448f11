import {servoCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: most frames come through, some are lost or, worse, wrong. */
export const brokenFrames: Fault = {
	code: 'broken-frames',
	status: 'out-of-spec',
	scope: 'link',
	title: 'cut or merged lines',
	definition: 'Lines arrive cut, merged, short, or with digits missing.',
	physics:
		'Bytes are lost where a buffer overflows or a receiver misses a start bit. A lost line end merges two frames; a lost digit turns 512 into 52, which looks like a jump of a sensor.',
	causes: [
		'A receive or send buffer runs full and bytes are eaten: the host is busy, the radio waits, or the firmware sends faster than the line can carry.',
		'Two parts of the firmware print at the same time (interrupt, second task or core).',
		'Two programs have the port open and share the bytes.',
		'A rate at the edge of tolerance (115200 from 16 MHz is off by −3.5 or +2.1 %) together with an inexact host.',
		'A loose USB plug, a long cable, or motor noise.',
	],
	measurements: [
		{measure: 'Close every other program that uses this port', expect: 'bad lines stop: they were shared'},
		{measure: 'Line load on the screen', expect: 'under 70 % of what the baud rate carries'},
		{measure: 'Read the firmware: who prints?', expect: 'one place, one whole line at a time'},
		{measure: 'Another cable and port, motors unplugged', expect: 'no change; better: that one was at fault'},
		{measure: '250000 baud at both ends on a 16 MHz board', expect: 'no bad lines: the rate was marginal'},
	],
	remedy: [
		'Send fewer or shorter lines, or raise the baud rate.',
		'Build each line in one buffer and write it once.',
		'Add a counter and a checksum to see what is lost.',
	],
	caution: servoCaution,
	ways: [],
};
