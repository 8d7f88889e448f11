import {overvoltageCaution, rewiringCaution, shortedPotCaution} from './cautions.ts';
import type {Fault} from './fault.ts';
import {endWay, railWay, stillWay} from './gates/stuck.ts';

/** failure: the channel carries no signal. */
export const stuckHigh: Fault<'stuck-high'> = {
	code: 'stuck-high',
	status: 'failure',
	scope: 'analog',
	listedAfter: 'stuck-low',
	sees: 'does not move, or too little',
	title: 'stuck at full scale',
	definition:
		'Nothing but converter noise near full scale while the hand works; or a stick axis lying at the upper rail.',
	physics:
		'With the ground leg of a pot open no current flows, and the track pulls the wiper up to the supply at every angle. An open wiper with the internal pull-up on reads the same.',
	causes: [
		'The ground leg of the pot is open; where every pot reads full scale, the common ground is.',
		'Two or more channels went to full scale in the same frame on a board with a radio: their pins belong to the second converter, which the radio uses (ESP32: GPIO0, 2, 4, 12–15, 25–27 while Wi-Fi is on).',
		'The wiper wire is open and the firmware has the pull-up on (INPUT_PULLUP on an analog pin).',
		'Wiper and supply wires are exchanged at the pot: full scale at every angle, and a short circuit towards the ground end.',
		'The pot is fed from 5 V on a 3.3 V board, or the converter range is set too low (ESP32 at 0 dB ends at 0.95 V).',
	],
	measurements: [
		{
			measure: "Volts from the pot's ground lug to the board's ground",
			expect: '0 V; the supply voltage: its leg is open',
		},
		{
			measure: 'Volts at the middle lug with the pot at mid-travel',
			expect: 'half the supply: 2.5 V of 5 V, 1.65 V of 3.3 V',
		},
		{
			measure: 'Which channels went up in the same frame, and their pins',
			expect: 'not all on the second converter of a radio board',
		},
		{measure: 'Feel the pot and its wires', expect: 'cold; warm: wiper and supply are exchanged, unplug'},
		{measure: "Volts at the pot's supply lug on a 3.3 V board", expect: '3.2–3.4 V; never above 3.6 V'},
		{measure: 'Unplugged: resistance between the outer lugs', expect: '8–12 kΩ (10 kΩ ±20 %)'},
	],
	remedy: [
		'Solder the ground leg, or mend the common ground.',
		'Move the channel to a pin of the first converter (ESP32: GPIO32–39).',
		'Set analog pins as plain inputs, without pull-up.',
		"Put the wiper wire on the middle lug; feed the pot from the board's own reference voltage.",
	],
	caution: `${shortedPotCaution} ${overvoltageCaution} ${rewiringCaution}`,
	ways: [endWay('high'), stillWay('high'), railWay('high')],
};
