import type {Features} from '../features/features.ts';
import {rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure} from './figures.ts';

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
	checks: [
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
	thresholds:
		'Eighteen switch types bounced for 1.6 ms on average, 6.2 ms at most with two bad ones set aside (Ganssle, A Guide to Debouncing, from memory); 20 ms is the usual debounce (common practice), so extra edges within 25 ms count as bounce. Below 150 frames/s (6.7 ms) the stream cannot show it. A fifth of the presses, because now and then one pair of edges is luck.',
	everyTicks: 2,
	detect,
};

/** Slower streams can't show bounce (definition: 150/s; a few less for clocks that run slow). */
const leastRate = 140;
const leastShare = 0.12;
const leastBounced = 2;

function detect(features: Features, b: number): Verdict {
	if ((features.framesPerSecond ?? 0) < leastRate) return undefined;
	const button = features.buttons[b];
	const {presses, bounced} = button.pressesSince(before(features, 60));
	if (presses >= 10 && bounced === 0) return 'gone';
	if (bounced < leastBounced || bounced < leastShare * presses) return undefined;
	return {
		from: before(features, 60),
		confidence: Math.min(0.95, 0.5 + bounced / presses),
		summary: `${features.layout.channels[button.column].name} bounced in ${bounced} of ${presses} presses.`,
		evidence: {presses, bounced, sharePercent: figure((100 * bounced) / presses)},
	};
}
