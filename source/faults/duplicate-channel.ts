import {rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** failure: one finger's own signal is missing. */
export const duplicateChannel: Fault = {
	code: 'duplicate-channel',
	status: 'failure',
	scope: 'analog',
	title: 'one signal on two channels',
	definition: 'Two channels are one and the same, frame by frame.',
	physics:
		'Two converter readings of the same voltage differ by noise; the same number twice means it was read once and sent twice, or the two inputs are joined.',
	causes: [
		'The firmware reads the same pin for both channels.',
		'The firmware prints the same variable twice.',
		'A solder bridge or whisker joins two neighbouring pins.',
		'Both wires are in the same row of a breadboard.',
	],
	measurements: [
		{measure: 'Bend only one of the two fingers', expect: 'one of the two channels moves'},
		{measure: 'Read the pin list of the firmware', expect: 'every pin occurs once'},
		{measure: 'Unplugged: resistance between the two input pins', expect: 'some kΩ; near 0 Ω: bridged'},
		{measure: 'Pull one of the two wires off', expect: 'only its own channel changes'},
	],
	remedy: [
		'Give each channel its own pin in the firmware.',
		'Clear the bridge with solder wick; look with a magnifier.',
	],
	caution: rewiringCaution,
	ways: [],
};
