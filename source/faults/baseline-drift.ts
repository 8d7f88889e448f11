import {cordCaution, glueCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** maintenance: still usable after a new zero, and getting worse. */
export const baselineDrift: Fault = {
	code: 'baseline-drift',
	status: 'maintenance',
	scope: 'finger',
	title: 'open-hand level creeps',
	definition: 'The level of the open hand moves on from one movement to the next.',
	physics:
		'Each pull that slips a little, or each return that stops a little short, leaves the spool at a new angle. Temperature moves a ratiometric pot hardly at all.',
	causes: [
		'The cord slips on the spool a little with each pull.',
		'The return spring is too weak or loses turns, so the spool stops short.',
		'The knot or the anchor at the fingertip creeps.',
		'The spool creeps on the shaft.',
		'The glove shifts on the hand.',
	],
	measurements: [
		{measure: 'Mark spool and shaft with a pen, make ten fists', expect: 'marks still in line; apart: the spool slips'},
		{measure: 'Mark the cord where it leaves its guide, make ten fists', expect: 'returns within 1 mm'},
		{measure: 'Open-hand reading before and after ten fists', expect: 'the same within 3 % of the span'},
		{measure: 'Spring pull on the cord with the hand open, by a spring balance', expect: 'never slack; about 0.5–3 N'},
	],
	remedy: [
		'Fix the cord through a hole in the spool, two turns staying on at full pull.',
		'Wind the spring one turn more, or replace it.',
		'Glue the spool; re-tie the knot and seal it.',
	],
	caution: `${cordCaution} ${glueCaution}`,
	ways: [],
};
