import type {Features} from '../features/features.ts';
import {cordCaution, rewiringCaution, shortedPotCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {detectStuck} from './stuck-level.ts';

/** failure: the channel carries no signal. */
export const stuckLow: Fault = {
	code: 'stuck-low',
	status: 'failure',
	scope: 'analog',
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
	checks: [
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
	thresholds:
		'The lowest 1 % is taken as the rail (common practice: 0.5–1 %). A range of 0.3 % of full scale is 3 counts at 10 bit: converter noise. A clean pot at rest may repeat one code for seconds (Gaussian noise of 0.3 counts: 30 equal codes in a row at a chance of 5 %), so a finger is judged only while at least two others have each travelled 40 % of their span there and back twice. A stick springs back to the middle, so 3 s at a rail are enough there.',
	detect,
};

function detect(features: Features, a: number): Verdict {
	return detectStuck(features, a, 'low');
}
