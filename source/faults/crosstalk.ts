import type {Features} from '../features/features.ts';
import {isSameHand} from '../features/pushes.ts';
import {rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Way} from './fault.ts';
import {figure, percentFs} from './figures.ts';
import {isFinger, notLearning} from './gates/fingers.ts';
import {atLeast, atMost, chances, lasting, unless} from './gates/gate.ts';

/** How far a still channel is pushed by the whole span of the one before it, counts. */
function push(features: Features, a: number): number {
	return Math.abs(features.pushes.share(a)) * features.analog.spans.of(a - 1);
}

/** The movement of the channel before that would show it. */
function moveBefore(rest: string): (features: Features, a: number) => string {
	return (features, a) => `move ${features.analogName(a - 1)}${rest}, there and back twice`;
}

const betweenGroups: Way = {
	name: 'between groups',
	limits: {
		trips: {
			raise: 3,
			must: null,
			mustNot: null,
			unit: 'trips of the channel before it, while the rest of its own group is still',
			because: 'one sway resembles any slow movement; there, back and there again it does not',
		},
		push: {
			raise: 2.5,
			clear: 1.7,
			must: 3,
			mustNot: 1,
			unit: '% FS',
			because:
				"30 counts at 10 bit are ten times rest noise and more than any settled input shows; 1 % is what 100 Ω of ground wire do. A sixth below the must, since the neighbour's whole span shows only with its last trip; it closes at the geometric mean of the two.",
		},
		likeness: {
			raise: 0.8,
			clear: 0.5,
			must: 0.8,
			mustNot: null,
			unit: 'correlation with the channel before it',
			because: 'a push has the shape of what pushes; two thirds of what moves the channel is then its neighbour (0.8²)',
		},
		copy: {
			raise: 0.3,
			must: null,
			mustNot: null,
			unit: 'of the channel before it',
			because:
				'from here on an open pin copies the channel before it as well (check-values D5.4): a channel that has not moved by itself is not told apart',
		},
	},
	gates: [
		lasting(
			'group',
			'a channel read just after one of another group',
			(features, a) => a > 0 && features.handAt(a) !== features.handAt(a - 1),
		),
		notLearning,
		chances('trips', (features, a) => features.pushes.count[a], moveBefore(' alone')),
		atLeast('push', (features, a) => features.percent(push(features, a))),
		atLeast('likeness', (features, a) => Math.abs(features.pushes.beside(a))),
		unless('copy', 'a channel that is known not to be an open pin', (features, a) =>
			features.proven[a] === 0 && Math.abs(features.pushes.share(a)) >= betweenGroups.limits.copy.raise
				? 'it may copy the channel before it as an open pin does'
				: undefined,
		),
	],
	sign: (features, a) => {
		const source = features.analogName(a - 1);
		return {
			from: features.pushes.from(a),
			seenAt: features.pushes.seenAt(a),
			summary: `${features.analogName(a)} is pushed by ${percentFs(features, push(features, a))} % FS when ${source} moves by ${percentFs(features, features.analog.spans.of(a - 1))} %.`,
			evidence: evidenceOf({
				pushedBy: source,
				pushPercentFs: percentFs(features, push(features, a)),
				gain: figure(features.pushes.share(a)),
				correlation: figure(features.pushes.beside(a)),
			}),
		};
	},
};

const amongFingers: Way = {
	name: 'among fingers',
	limits: {
		trips: {
			raise: 2,
			must: null,
			mustNot: null,
			unit: 'trips of the finger before it, moved alone',
			because: 'there and back once: what pushes the next channel pushes it on both ways',
		},
		follows: {
			raise: 0.15,
			clear: 0.1,
			must: 0.15,
			mustNot: null,
			unit: 'of the way of the finger before it',
			because:
				'fingers push each other by anatomy, up to two thirds of their own reach (Zatsiorsky 2000), so that the amount alone says nothing: see the next three',
		},
		otherSide: {
			raise: 0.5,
			clear: 0.7,
			must: 0.5,
			mustNot: 1,
			unit: 'of that, for the finger on the other side',
			because: 'tendons and skin take both neighbours along, the converter only the one it reads next',
		},
		together: {
			raise: 0.75,
			clear: 0.5,
			must: null,
			mustNot: null,
			unit: 'of the trips in which it comes within a frame',
			because:
				'what the converter keeps shows in the very same scan each time; a finger that is taken along comes now sooner, now later',
		},
		evenness: {
			raise: 0.6,
			clear: 0.4,
			must: null,
			mustNot: null,
			unit: 'least share of the way over the greatest',
			because:
				'the converter keeps the same part of every reading: over ways of 20 rest noises it is known to a tenth; how far skin and tendons take a finger along depends on what it does itself',
		},
		rate: {
			raise: 35,
			must: null,
			mustNot: null,
			unit: 'frames/s',
			because:
				'below that a frame lasts longer than tendons and skin take to bring a neighbour along, and nothing tells the two apart',
		},
		pairs: {
			raise: 3,
			clear: 2,
			must: 3,
			mustNot: null,
			unit: 'pairs of fingers in scan order that show it',
			because: 'a cause in the converter is common to all; one pair may be a snagged cord',
		},
	},
	gates: [
		isFinger,
		lasting(
			'before',
			'a finger read just after another one of the same hand',
			(features, a) => a > 0 && isSameHand(features, a, a - 1),
		),
		lasting(
			'pairs',
			'at least four fingers',
			(features, a) => (features.handAt(a)?.fingers.length ?? 0) > amongFingers.limits.pairs.raise,
		),
		atLeast('rate', features => (features.link.timing === 'assumed' ? undefined : features.framesPerSecond)),
		chances('trips', (features, a) => features.pushes.count[a], moveBefore(' alone')),
		atLeast('follows', (features, a) => Math.abs(features.pushes.share(a))),
		atMost('otherSide', otherSide),
		atLeast('together', (features, a) => features.pushes.together(a)),
		atLeast('evenness', (features, a) => features.pushes.evenness(a)),
		atLeast('pairs', pairs),
	],
	sign: (features, a) => {
		const source = features.analogName(a - 1);
		const share = figure(features.pushes.share(a));
		return {
			from: features.pushes.from(a),
			seenAt: features.pushes.seenAt(a),
			summary: `${features.analogName(a)} goes ${share} of the way of ${source} in the same frame when ${source} is moved alone; so do ${pairs(features, a)} pairs in scan order.`,
			evidence: evidenceOf({
				pushedBy: source,
				follows: share,
				otherSide: figure(features.pushes.beside(a)),
				delayFrames: figure(features.pushes.delay(a)),
				pairs: pairs(features, a),
			}),
		};
	},
};

/** How far the finger on the other side goes, as a share of what this one does. */
function otherSide({pushes}: Features, a: number): number {
	return pushes.beside(a) / Math.max(Number.MIN_VALUE, Math.abs(pushes.share(a)));
}

/** Fingers of the hand of `a` that go with the one before them as the converter would take them along. */
function pairs(features: Features, a: number): number {
	const {trips, follows, otherSide: other, together, evenness} = amongFingers.limits;
	const {pushes} = features;
	const fingers = features.handAt(a)?.fingers ?? [];
	return fingers.filter(
		f =>
			isSameHand(features, f, f - 1) &&
			features.isFinger(f) &&
			pushes.count[f] >= trips.raise &&
			pushes.share(f) >= follows.raise &&
			otherSide(features, f) <= other.raise &&
			pushes.together(f) >= together.raise &&
			pushes.evenness(f) >= evenness.raise,
	).length;
}

/** out-of-spec: right at rest, wrong while the neighbour moves. */
export const crosstalk: Fault<'crosstalk'> = {
	code: 'crosstalk',
	status: 'out-of-spec',
	scope: 'analog',
	listedAfter: 'duplicate-channel',
	sees: 'noisy, or moves by itself',
	title: 'pushed by its neighbour',
	definition: 'A still channel is pushed by the channel read just before it.',
	physics:
		"The converter's sampling capacitor has to be recharged from the neighbour's level within the sampling time: 12 µs at a 125 kHz clock, where a 10 kΩ source needs up to 11.7 µs for half a count. A weaker source leaves a rest of the neighbour. A thin common ground does the same to all.",
	causes: [
		'A joint of some kΩ in the wiper wire, or a pot of 100 kΩ.',
		'The converter is read too soon after switching channels, or its clock is set too high.',
		'A common ground or supply wire with resistance: 100 Ω move a 10 kΩ pot by 1 %.',
		'Two wiper wires side by side over a long way.',
	],
	measurements: [
		{
			measure: 'Turn only the neighbour; then swap the reading order',
			expect: 'push follows the order: settling; else wiring',
		},
		{measure: 'Unplugged: resistance from input pin to middle lug', expect: 'under 1 Ω'},
		{measure: 'Unplugged: resistance between the outer lugs', expect: '8–12 kΩ (10 kΩ ±20 %)'},
		{measure: "Volts from the pot's ground lug to the board's ground, others moving", expect: 'under 5 mV'},
	],
	remedy: [
		'Read each channel twice and throw the first reading away.',
		'Solder 100 nF from the input to ground at the board.',
		'Mend the joint; give the pots a ground of thicker wire.',
	],
	caution: rewiringCaution,
	everyTicks: 2,
	ways: [betweenGroups, amongFingers],
};
