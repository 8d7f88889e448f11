import {rewiringCaution, shortedPotCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: every number is good, with the wrong sign for whoever uses it. */
export const reversedSensor: Fault = {
	code: 'reversed-sensor',
	status: 'out-of-spec',
	scope: 'finger',
	title: 'moves against the others',
	definition: 'The channel falls where the other fingers rise in movements of the whole hand.',
	physics:
		'With supply and ground exchanged the reading is full scale minus the true one. A cord wound the other way round does the same.',
	causes: [
		'Supply and ground wires exchanged at the outer lugs of this pot.',
		'The cord is wound onto the spool in the other direction, or the reel is mounted mirrored.',
		'The firmware inverts this channel, or forgot to.',
	],
	measurements: [
		{measure: "Finger straight: volts at the middle lug beside a neighbour's", expect: 'alike: both low or both high'},
		{
			measure: 'Volts at the two outer lugs, same side as on the neighbour',
			expect: 'supply and ground on the same lugs',
		},
		{measure: 'Look which way the spool turns on bending', expect: 'the same way as its neighbours'},
	],
	remedy: [
		'Exchange the two outer wires; never move the middle one.',
		'Or flip the channel in the firmware and note it in the sheet as inverted.',
	],
	caution: `${rewiringCaution} ${shortedPotCaution}`,
	ways: [],
};
