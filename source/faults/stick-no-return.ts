import {rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: the rest point is uncertain, so a small deflection cannot be told from none. */
export const stickNoReturn: Fault = {
	code: 'stick-no-return',
	status: 'out-of-spec',
	scope: 'stick',
	title: 'does not come back to one place',
	definition: 'The places where the released stick comes to rest scatter.',
	physics:
		'Two springs pull the stick to its middle; near the middle their force is small, and any friction or play stops it where it likes. The dead zone has to cover that scatter.',
	causes: [
		'Worn or slack centring springs.',
		'Dirt, hair or glue in the gimbal.',
		'The cap rubs on the case.',
		'Loose pot clips: the wiper stays behind.',
		'A worn track in the middle.',
	],
	measurements: [
		{measure: 'Let the stick snap back ten times from all sides', expect: 'rest readings within 2 % of full scale'},
		{measure: 'Move the stick through the middle by hand', expect: 'no rubbing, no dead play'},
		{measure: 'Look under the cap and around its collar', expect: 'clear all round, clean'},
		{
			measure: 'Unplugged: resistance wiper to one end, rocking about the middle',
			expect: 'returns to the same value within 2 %',
		},
	],
	remedy: [
		'Clean the gimbal; widen the hole in the case.',
		'Press the pot clips home.',
		'Replace the stick; meanwhile widen the dead zone (radial 5–10 % usual, 20–25 % on worn sticks).',
	],
	caution: rewiringCaution,
	ways: [],
};
