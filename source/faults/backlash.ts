import {cordCaution, glueCaution} from './cautions.ts';
import type {Fault} from './fault.ts';
import {before} from './figures.ts';

/** maintenance: usable, and a sign of friction or play that grows. */
export const backlash: Fault = {
	code: 'backlash',
	status: 'maintenance',
	scope: 'finger',
	title: 'two paths, opening and closing',
	definition: 'At the same finger position the reading differs between closing and opening.',
	physics:
		"Friction over a guide multiplies the cord's pull by e^(μφ): with μ = 0.2 over 90° by 1.37, so a weak spring brings the cord back late. Play between spool and shaft adds its own angle.",
	causes: [
		'Friction: cord over a sharp edge or through a tight bend, or a rough guide.',
		'The return spring is too weak for that friction.',
		"Play between spool and shaft, or in the pot's bearing.",
		'A stretchy cord.',
	],
	measurements: [
		{
			measure: 'Stop half-way, closing then opening, against a gauge',
			expect: 'the two readings agree within 4 % of the span',
		},
		{measure: 'Rock the spool with the shaft held', expect: 'no play; 1° is about 4 counts at 10 bit'},
		{measure: "Let the open hand's cord go after a small pull", expect: 'snaps back at once'},
		{measure: 'Pull the cord 10 mm by hand: stretch before the spool turns', expect: 'under 1 mm'},
	],
	remedy: [
		'Smooth the path: larger bends, PTFE tube, a drop of dry lubricant.',
		'More spring tension, within comfort.',
		'Fix the spool to the shaft; use braided, low-stretch cord.',
	],
	caution: `${cordCaution} ${glueCaution}`,
	ways: [],
};
