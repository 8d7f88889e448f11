import type {Features} from '../features/features.ts';
import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure} from './figures.ts';

/** failure: its state means nothing. */
export const buttonFloating: Fault = {
	code: 'button-floating',
	status: 'failure',
	scope: 'button',
	title: 'toggles by itself',
	definition: 'The button toggles at random: its input has no pull-up.',
	physics:
		'An open digital input has no level of its own: mains, radio and a nearby hand carry it across its threshold. A pull-up of 20–50 kΩ holds it high until the switch pulls it to ground.',
	causes: [
		'INPUT instead of INPUT_PULLUP in the firmware.',
		'A pin without pull-up: ESP32 GPIO34–39 are inputs only and have none.',
		'A6 or A7 of an ATmega328P board: analog only, no digital input and no pull-up.',
		'A later statement switches the pull-up off again (a write of LOW, another library on the same pin).',
	],
	checks: [
		{measure: 'Button released: volts at its pin to ground', expect: 'the full supply, 5 V or 3.3 V, steady'},
		{measure: 'Read the firmware: mode of this pin', expect: 'INPUT_PULLUP, set once'},
		{
			measure: "The pin itself, in the board's pin table",
			expect: 'has a digital input and a pull-up (not A6/A7, not GPIO34–39)',
		},
		{measure: 'Unplugged: resistance across the switch, released and pressed', expect: 'open; under 10 Ω'},
	],
	remedy: [
		'Set INPUT_PULLUP.',
		'Move the button to a pin that has a pull-up.',
		'Or solder 10 kΩ from the pin to the supply of the board (3.3 V on a 3.3 V board).',
	],
	caution: `${overvoltageCaution} ${rewiringCaution}`,
	thresholds:
		'Forty edges in 5 s are 4 presses a second; adults tap at most 5–7 times a second (tapping norms), but each tap lasts many frames, while half of the dwells of an open input last two frames or fewer. Both together are no finger. Pull-up 20–50 kΩ: ATmega328PB data sheet.',
	everyTicks: 2,
	detect,
};

/** The definition's 40 edges in 5 s less a tenth, and nearly half of the dwells no longer than two frames. */
const leastEdges = 36;
const windowSeconds = 5;
const leastShort = 0.45;

/** Nobody presses and lets go more than seven times a second (tapping-rate studies): 70 edges in five seconds. */
const mostTappedEdges = 75;

/** A bouncing contact makes a handful of edges at a touch. */
const mostEdgesPerBounce = 8;

/** At this rate a dwell of two frames is shorter than any tap's half period of 70 ms. */
const tellingRate = 45;

function detect(features: Features, b: number): Verdict {
	const button = features.buttons[b];
	const edges = button.edgesSince(before(features, windowSeconds));
	if (edges <= 10) return features.now > 5 ? 'gone' : undefined;
	const rate = features.framesPerSecond ?? 0;
	const short = button.shortDwells(edges, 2);
	if (edges < leastEdges || short < leastShort) return undefined;
	// Bounce: few edges about each touch, and nearly every touch leaves the button changed. Chance changes half of them.
	const {touches, changed} = button.touchesSince(before(features, windowSeconds));
	if (touches >= 5 && edges <= mostEdgesPerBounce * touches && changed >= 0.85 * touches) return undefined;
	// On a slow stream quick taps look alike: beyond what a finger can do, or single frames among long dwells.
	const uneven = button.shortDwells(edges, 1) >= 0.4 && button.shortDwells(edges, 3) < 0.95;
	if (rate < tellingRate && edges < mostTappedEdges && !uneven) return undefined;
	return {
		from: before(features, windowSeconds),
		confidence: 0.85,
		summary: `${features.layout.channels[button.column].name} toggled ${edges} times in ${windowSeconds} s, ${figure(short * 100)} % of the time for two frames or less.`,
		evidence: {edges, shortDwellsPercent: figure(short * 100)},
	};
}
