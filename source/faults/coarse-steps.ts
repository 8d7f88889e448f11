import type {Fault} from './fault.ts';

/** out-of-spec: less resolution than the board has. */
export const coarseSteps: Fault = {
	code: 'coarse-steps',
	status: 'out-of-spec',
	scope: 'analog',
	title: 'few distinct levels',
	definition:
		'The channel takes far fewer levels than the converter gives: every value is a multiple of eight counts or more above some offset.',
	physics:
		'A converter steps by one count. Larger equal steps mean that bits were dropped on the way: division, scaling to a small range and back, or a reading of eight bits shifted up.',
	causes: [
		'The firmware divides or maps the reading to a small range and multiplies it back.',
		'The low bits are masked or shifted away to calm the noise.',
		'The converter runs at a lower resolution than the frame states.',
		'The value passes through one byte on a link between two chips.',
	],
	measurements: [
		{measure: 'Read the firmware: look for map(), /, >> or & on this channel', expect: 'the raw reading is sent'},
		{measure: 'Turn the shaft very slowly', expect: 'readings step by 1 count'},
		{measure: 'Resolution set for the converter', expect: '10 bit (0–1023) or 12 bit (0–4095), as declared'},
	],
	remedy: [
		'Send the raw reading; smooth and scale at the receiving end.',
		'Average several readings instead of dropping bits.',
	],
	ways: [],
};
