import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** failure: its state means nothing. */
export const buttonFloating: Fault = {
	code: 'button-floating',
	status: 'failure',
	scope: 'button',
	title: 'toggles by itself',
	definition: 'The button toggles at random: its input has no pull-up.',
	physics:
		'An open digital input has no level of its own: mains, radio and a nearby hand carry it across its threshold. A pull-up of 20–50 kΩ holds it high until the switch pulls it to ground.',
	causes: [
		'INPUT instead of INPUT_PULLUP in the firmware.',
		'A pin without pull-up: ESP32 GPIO34–39 are inputs only and have none.',
		'A6 or A7 of an ATmega328P board: analog only, no digital input and no pull-up.',
		'A later statement switches the pull-up off again (a write of LOW, another library on the same pin).',
	],
	measurements: [
		{measure: 'Button released: volts at its pin to ground', expect: 'the full supply, 5 V or 3.3 V, steady'},
		{measure: 'Read the firmware: mode of this pin', expect: 'INPUT_PULLUP, set once'},
		{
			measure: "The pin itself, in the board's pin table",
			expect: 'has a digital input and a pull-up (not A6/A7, not GPIO34–39)',
		},
		{measure: 'Unplugged: resistance across the switch, released and pressed', expect: 'open; under 10 Ω'},
	],
	remedy: [
		'Set INPUT_PULLUP.',
		'Move the button to a pin that has a pull-up.',
		'Or solder 10 kΩ from the pin to the supply of the board (3.3 V on a 3.3 V board).',
	],
	caution: `${overvoltageCaution} ${rewiringCaution}`,
	ways: [],
};
