import {cordCaution, glueCaution, rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';
import {stillWay} from './gates/stuck.ts';

/** failure: the channel carries no signal. */
export const stuckMid: Fault<'stuck-mid'> = {
	code: 'stuck-mid',
	status: 'failure',
	scope: 'analog',
	listedAfter: 'stuck-high',
	sees: 'does not move, or too little',
	title: 'stuck in between',
	definition: 'Nothing but converter noise at some level between the rails while the hand works.',
	physics:
		'A steady voltage inside the range means the divider is whole: the shaft is not being turned, or the number is not being read.',
	causes: [
		'The cord is broken, unhooked from its ring, or has jumped off the spool.',
		'The spool turns on the shaft without taking it along (loose screw, cracked glue).',
		'The firmware sends a constant or an old value: the channel is missing from the reading loop.',
		'The pot is seized, or glue has run into it.',
		'The wiper wire is open at a pin that holds its charge.',
	],
	measurements: [
		{
			measure: 'Bend the finger and watch cord, spool and shaft',
			expect: 'all turn; the first that stands still is at fault',
		},
		{
			measure: 'Turn the shaft by hand and watch the reading',
			expect: 'it follows: the cord side is at fault; it stays: wiring or firmware',
		},
		{
			measure: 'Volts at the input pin while the shaft is turned',
			expect: 'change with the angle; then the firmware does not read this pin',
		},
		{
			measure: 'Unplugged: resistance from the middle lug to one outer lug while turning',
			expect: 'sweeps from a few Ω to 8–12 kΩ',
		},
	],
	remedy: [
		'Re-hook or replace the cord.',
		'Fix the spool to the shaft; roughen the shaft before gluing.',
		'Read the pin in every pass of the loop.',
		'Replace a seized pot.',
	],
	caution: `${cordCaution} ${rewiringCaution} ${glueCaution}`,
	ways: [stillWay('mid')],
};
