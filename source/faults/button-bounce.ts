import type {Presses} from '../features/button-features.ts';
import type {Features} from '../features/features.ts';
import {rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {percentOf} from './figures.ts';
import {buttonName, isButton} from './gates/buttons.ts';
import {atLeast, chances, ground, type Limit} from './gates/gate.ts';

const rate: Limit = {
	raise: 140,
	must: 150,
	mustNot: null,
	unit: 'frames/s',
	because: 'contacts settle within some milliseconds; a few frames less than the definition, for clocks that run slow',
};

const latest: Limit = {
	raise: 16,
	must: null,
	mustNot: null,
	unit: 'latest presses are looked at',
	because: 'a contact that was mended shows it in as many; common practice, no source',
};

const bounced: Limit = {
	raise: 2,
	clear: 1,
	must: null,
	mustNot: 0,
	unit: 'presses with extra edges',
	because: 'one pair of edges may be luck',
};

const share: Limit = {
	raise: 15,
	clear: 5,
	must: 20,
	mustNot: 0,
	unit: '% of the presses with an extra edge within 25 ms of pressing or letting go',
	because:
		'20 ms is the usual debounce (common practice); eighteen switch types bounced for 1.6 ms on average (Ganssle, A Guide to Debouncing, from memory). A quarter below the definition, since with few presses their share is a rough figure',
};

/** maintenance: presses still count with a debounce; the contact is ageing. */
export const buttonBounce: Fault<'button-bounce'> = {
	code: 'button-bounce',
	status: 'maintenance',
	scope: 'button',
	intermittent: true,
	listedAfter: 'stick-short-throw',
	sees: 'jumps',
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
	ways: [
		{
			name: 'presses',
			limits: {
				presses: {
					raise: 2,
					must: null,
					mustNot: null,
					unit: 'presses',
					because: 'fewer cannot show two that bounce',
				},
				bounced,
				share,
				rate,
				latest,
			},
			gates: [
				isButton,
				ground(
					'rate',
					'frames that follow each other fast enough to show a bounce',
					features => (features.framesPerSecond ?? 0) >= rate.raise,
				),
				chances('presses', (features, b) => features.buttons[b].presses, 'press and release the button'),
				atLeast('bounced', (features, b) => lately(features, b).bounced),
				atLeast('share', sharePercent),
			],
			sign: (features, b) => {
				const {presses, bounced: some, bouncedFrom} = lately(features, b);
				return {
					from: bouncedFrom,
					seenAt: features.buttons[b].lastEdgeAt,
					summary: `${buttonName(features, b)} bounced in ${some} of ${presses} presses.`,
					evidence: evidenceOf({presses, bounced: some, sharePercent: sharePercent(features, b)}),
				};
			},
		},
	],
};

function lately(features: Features, b: number): Presses {
	return features.buttons[b].latestPresses(latest.raise);
}

function sharePercent(features: Features, b: number): number {
	const {presses, bounced: some} = lately(features, b);
	return presses === 0 ? 0 : percentOf(some / presses);
}
