import {cordCaution, rewiringCaution, shortedPotCaution} from './cautions.ts';
import type {Fault} from './fault.ts';
import {endWay, railWay, stillWay} from './gates/stuck.ts';

/** failure: the channel carries no signal. */
export const stuckLow: Fault<'stuck-low'> = {
	code: 'stuck-low',
	status: 'failure',
	scope: 'analog',
	listedAfter: 'floating-input',
	sees: 'does not move, or too little',
	title: 'stuck at the bottom',
	definition: 'Nothing but converter noise near zero while the hand works; or a stick axis lying at the lower rail.',
	physics:
		'With the supply leg of a pot open no current flows, and the track pulls the wiper to ground at every angle. A wiper shorted to ground reads the same.',
	causes: [
		'The supply leg of the pot is open: outer lug not soldered, or its wire broken.',
		'The wiper wire is shorted to ground by a solder bridge, a bare strand or a cable screen.',
		'Wiper and ground wires are exchanged at the pot: zero at every angle, and a short circuit towards the supply end.',
		'The cord is off its spool or broken, and the spring holds the pot at its low stop.',
		'The firmware sends a constant, or has set the pin as an output.',
	],
	measurements: [
		{measure: "Volts at the pot's supply lug to ground", expect: 'the full supply, 5 V or 3.3 V; 0 V: its leg is open'},
		{
			measure: 'Bend the finger and watch cord, spool and shaft',
			expect: 'all three move and the spring brings them back',
		},
		{
			measure: 'Volts at the middle lug with the pot at mid-travel',
			expect: 'half the supply: 2.5 V of 5 V, 1.65 V of 3.3 V',
		},
		{
			measure: 'Unplugged: resistance between the outer lugs',
			expect: '8–12 kΩ (10 kΩ ±20 %); open circuit: broken track',
		},
		{
			measure: 'Unplugged: resistance from the input pin to ground, pot at mid-travel',
			expect: 'some kΩ; near 0 Ω: shorted',
		},
	],
	remedy: [
		'Solder the supply leg, or clear the short.',
		'Put the wiper wire on the middle lug.',
		'Put the cord back on its spool, or replace it.',
	],
	caution: `${shortedPotCaution} ${rewiringCaution} ${cordCaution}`,
	ways: [endWay('low'), stillWay('low'), railWay('low')],
};
