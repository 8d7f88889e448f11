import type {Features} from '../features/features.ts';
import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {before, figure, percentOf} from './figures.ts';
import {buttonName, isButton, watchedSeconds} from './gates/buttons.ts';
import {atLeast, chances, type Limit, unless} from './gates/gate.ts';

const watched: Limit = {
	raise: 5,
	must: 5,
	mustNot: null,
	unit: 's watched',
	because: 'the time in which edges are counted (check-values D5.4)',
};

const edges: Limit = {
	raise: 36,
	clear: 10,
	must: 40,
	mustNot: null,
	unit: 'edges in that time',
	because: 'four presses a second; a tenth below the definition, since the first and last of them may lie just outside',
};

const short: Limit = {
	raise: 45,
	clear: 20,
	must: 50,
	mustNot: null,
	unit: '% of the dwells no longer than `frames`',
	because: 'a finger stays for several frames; a tenth below the definition, since some forty dwells are counted',
};

const frames: Limit = {
	raise: 2,
	must: 2,
	mustNot: null,
	unit: 'frames',
	because: 'the longest dwell that counts as short (check-values D5.4); half of those of a fair coin last one or two',
};

const untapped: Limit = {
	raise: 1,
	clear: 0.7,
	must: null,
	mustNot: null,
	unit: 'times what tapping gives, in edges (`tapped`), in unevenness (`even`), or in frames that the shortest tap lasts (`telling`)',
	because: 'on a slow stream quick taps look like an open pin: two frames at 30/s are as long as a tap',
};

const tapped: Limit = {
	raise: 75,
	must: null,
	mustNot: 70,
	unit: 'edges in that time',
	because:
		'nobody presses and lets go more than seven times a second (tapping-rate studies, from memory): 70 edges in 5 s',
};

const even: Limit = {
	raise: 0.45,
	must: null,
	mustNot: 0.3,
	unit: 'standard deviation of the dwells over their mean',
	because: 'chance gives 0.7 where a frame flips half of the time (geometric distribution), taps of a hand 0.1 to 0.3',
};

const telling: Limit = {
	raise: 45,
	must: null,
	mustNot: 30,
	unit: 'frames/s',
	because: 'here a dwell of two frames is shorter than the half period of seven taps a second, 71 ms',
};

const perTouch: Limit = {
	raise: 8,
	must: null,
	mustNot: null,
	unit: 'edges at a touch that a bouncing contact makes at the most',
	because: 'common practice, no source',
};

const changed: Limit = {
	raise: 85,
	must: null,
	mustNot: null,
	unit: '% of at least `touches` touches that leave the button changed, as presses and releases do',
	because: 'chance changes half of them',
};

const touches: Limit = {
	raise: 5,
	must: null,
	mustNot: null,
	unit: 'touches',
	because: 'five chances of a half are one in 32',
};

const limits = {watched, edges, short, frames, untapped, tapped, even, telling, perTouch, changed, touches};

/** failure: its state means nothing. */
export const buttonFloating: Fault<'button-floating'> = {
	code: 'button-floating',
	status: 'failure',
	scope: 'button',
	listedAfter: 'button-bounce',
	sees: 'jumps',
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
	measurements: [
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
	ways: [
		{
			name: 'edges',
			limits,
			gates: [
				isButton,
				chances('watched', watchedSeconds, 'leave the buttons alone for five seconds'),
				atLeast('edges', lateEdges),
				atLeast('short', shortPercent),
				unless('bounce', 'edges by themselves, not at touches', (features, b) => {
					const seen = features.buttons[b].touchesSince(before(features, watched.raise));
					const isBounce =
						seen.touches >= touches.raise &&
						lateEdges(features, b) <= perTouch.raise * seen.touches &&
						percentOf(seen.changed / seen.touches) >= changed.raise;
					return isBounce ? `${seen.changed} of ${seen.touches} touches pressed or released it` : undefined;
				}),
				atLeast('untapped', (features, b) => {
					const count = lateEdges(features, b);
					return Math.max(
						count / tapped.raise,
						features.buttons[b].unevenness(count) / even.raise,
						(features.framesPerSecond ?? 0) / telling.raise,
					);
				}),
			],
			sign: (features, b) => {
				const count = lateEdges(features, b);
				const percent = shortPercent(features, b);
				return {
					from: before(features, watched.raise),
					seenAt: features.buttons[b].lastEdgeAt,
					summary: `${buttonName(features, b)} toggled ${count} times in ${watched.raise} s, ${percent} % of the time for two frames or less.`,
					evidence: evidenceOf({
						edges: count,
						shortDwellsPercent: percent,
						unevenness: figure(features.buttons[b].unevenness(count)),
					}),
				};
			},
		},
	],
};

function lateEdges(features: Features, b: number): number {
	return features.buttons[b].edgesSince(before(features, watched.raise));
}

function shortPercent(features: Features, b: number): number {
	return percentOf(features.buttons[b].shortDwells(lateEdges(features, b), frames.raise));
}
