import {type EqualPair, tripsSince} from '../features/equal-pairs.ts';
import type {Features} from '../features/features.ts';
import {rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {percentOf} from './figures.ts';
import {anyProven, notLearning} from './gates/fingers.ts';
import {atLeast, chances, type Limit, lasting} from './gates/gate.ts';

const limits: Readonly<Record<'trips' | 'equal', Limit>> = {
	trips: {
		raise: 4,
		must: 4,
		mustNot: null,
		unit: "trips of each by 20 × its rest noise and 0.3 × the other fingers' median span",
		because: 'two channels that rest at one level are equal as well: only in motion can they show that they are two',
	},
	equal: {
		raise: 99.5,
		clear: 90,
		must: 99.5,
		mustNot: null,
		unit: '% of frames equal within the larger of 2 counts of 10 bit and 3 × rest noise',
		because:
			'two readings of one voltage differ by noise alone; half a percent leaves room for frames cut on the line. Fingers that move as one differ by 1 % of their way and more (check-values H-real: paths differ by a median of 16 % of span).',
	},
};

/** The earlier channel that is most equal to this one over enough trips of both. */
function pairOf(features: Features, a: number): EqualPair | undefined {
	return features.equalPairs.of(features, a, limits.trips.raise);
}

/** failure: one finger's own signal is missing. */
export const duplicateChannel: Fault<'duplicate-channel'> = {
	code: 'duplicate-channel',
	status: 'failure',
	scope: 'analog',
	listedAfter: 'reversed-sensor',
	sees: 'wrong way, wrong place or wrong scale',
	title: 'one signal on two channels',
	definition: 'Two channels are one and the same, frame by frame.',
	physics:
		'Two converter readings of the same voltage differ by noise; the same number twice means it was read once and sent twice, or the two inputs are joined.',
	causes: [
		'The firmware reads the same pin for both channels.',
		'The firmware prints the same variable twice.',
		'A solder bridge or whisker joins two neighbouring pins.',
		'Both wires are in the same row of a breadboard.',
	],
	measurements: [
		{measure: 'Bend only one of the two fingers', expect: 'one of the two channels moves'},
		{measure: 'Read the pin list of the firmware', expect: 'every pin occurs once'},
		{measure: 'Unplugged: resistance between the two input pins', expect: 'some kΩ; near 0 Ω: bridged'},
		{measure: 'Pull one of the two wires off', expect: 'only its own channel changes'},
	],
	remedy: [
		'Give each channel its own pin in the firmware.',
		'Clear the bridge with solder wick; look with a magnifier.',
	],
	caution: rewiringCaution,
	everyTicks: 2,
	ways: [
		{
			name: 'equal',
			limits,
			gates: [
				// Of the two the earlier one is taken for the original.
				lasting('second', 'a channel with another one before it', (_features, a) => a > 0),
				notLearning,
				anyProven,
				chances(
					'trips',
					(features, a) => tripsSince(features, a, -1, features.epochFrom),
					(features, a) => `move ${features.analogName(a)} there and back twice`,
				),
				atLeast('equal', (features, a) => percentOf(pairOf(features, a)?.share ?? 0)),
			],
			sign: (features, a) => {
				const pair = pairOf(features, a);
				const other = pair === undefined ? '' : features.analogName(pair.with);
				const agreement = percentOf(pair?.share ?? 0);
				return {
					from: pair?.from ?? features.now,
					summary: `${features.analogName(a)} and ${other} read the same in ${agreement} % of frames over ${pair?.trips} trips of each.`,
					evidence: evidenceOf({sameAs: other, agreementPercent: agreement, trips: pair?.trips ?? 0}),
				};
			},
		},
	],
};
