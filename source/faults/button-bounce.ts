import {rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';
import {before} from './figures.ts';

/** maintenance: presses still count with a debounce; the contact is ageing. */
export const buttonBounce: Fault = {
	code: 'button-bounce',
	status: 'maintenance',
	scope: 'button',
	title: 'extra edges after a press',
	definition: 'Extra edges just after the first edge of a press.',
	physics:
		'Contacts rebound when they meet. Good tact switches settle within some milliseconds, worn ones much later. Above 150 frames/s a frame is shorter than that, and the stream shows it.',
	causes: [
		'No debounce in the firmware.',
		'A worn or dirty contact.',
		'A loose wire or leg: edges also without pressing.',
		'A pull-up too weak for a long wire.',
	],
	measurements: [
		{measure: 'Read the firmware: is a press held for 10–20 ms before it counts?', expect: 'yes'},
		{
			measure: 'Press hard, then gently, twenty times each',
			expect: 'one press counted each time; worse when gentle: worn contact',
		},
		{measure: 'Wiggle the wires without pressing', expect: 'no edges'},
		{measure: 'Unplugged: resistance across the pressed switch', expect: 'steady, under 10 Ω'},
	],
	remedy: [
		'Debounce in the firmware: take a change once it has held for 20 ms.',
		'Replace a switch that bounces longer than 25 ms.',
		'Solder loose wires.',
	],
	caution: rewiringCaution,
	ways: [],
};
