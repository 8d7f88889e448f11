import type {Features} from '../features/features.ts';
import {rewiringCaution, shortedPotCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, inPercent} from './figures.ts';
import {hasCompany, isFinger, wholeHand} from './gates/fingers.ts';
import {atLeast, chances, type Limit, reachesLimit, unless} from './gates/gate.ts';

const correlationLimit: Limit = {
	raise: -0.8,
	must: -0.8,
	mustNot: 0.3,
	unit: "correlation with the others' consensus in one movement, at most",
	because:
		'two thirds of the variance (0.8²) is shared, with the wrong sign; a finger that does its own part reaches that in one movement, not in nine of ten',
};

const movementsLimit: Limit = {
	raise: 4,
	must: 4,
	mustNot: null,
	unit: 'whole-hand movements in which the finger made a trip itself',
	because:
		'two closings and two openings, as the definition asks (check-values D5.4); fewer are a gesture, such as pointing',
};

const againstLimit: Limit = {
	raise: 90,
	clear: 50,
	must: 90,
	mustNot: null,
	unit: '% of those movements against the others',
	because: 'one in ten may have been made otherwise (check-values D5.4)',
};

const noisesLimit: Limit = {
	raise: 12,
	clear: 10,
	must: 12,
	mustNot: null,
	unit: 'rest noises of travel',
	because: 'as far as a proof asks (check-values D2): noise is correlated with nothing, and what it hides may be',
};

const spanLimit: Limit = {
	raise: 0.3,
	clear: 0.25,
	must: 0.3,
	mustNot: null,
	unit: "of the other fingers' median span",
	because:
		"as far as a proof asks (check-values D2): a neighbour's pull on a finger that is held back is no movement of its own",
};

const turnedLimit: Limit = {
	raise: 3,
	must: null,
	mustNot: null,
	unit: 'of the latest movements with the others, in a row',
	because:
		'a wire that was put right shows in every movement since; by chance (one in ten, see against) three in a row come once in a thousand',
};

/** Against the others in one movement: at most this correlation. */
function mostAgainst(): number {
	return correlationLimit.raise;
}

/** With the others: at least this one. */
function leastWith(): number {
	return correlationLimit.mustNot ?? 0;
}

function againstShare({agreement}: Features, a: number): number | undefined {
	const measured = agreement.measured(a);
	return measured > 0 ? inPercent(agreement.against(a, mostAgainst()) / measured) : undefined;
}

function travelInNoises({analog}: Features, a: number): number | undefined {
	const noise = analog.noise.of(a);
	return noise > 0 ? analog.spans.of(a) / noise : undefined;
}

function spanShare(features: Features, a: number): number | undefined {
	const others = features.handAt(a)?.medianSpan(a) ?? 0;
	return others > 0 ? features.analog.spans.of(a) / others : undefined;
}

/** It goes with the others by now: somebody put the wires right. */
const goesWithThem = unless('turned', 'a finger that still goes against the others', (features, a) =>
	features.agreement.lately(a, leastWith()) >= turnedLimit.raise
		? `it went with the others in the latest ${features.agreement.lately(a, leastWith())} movements`
		: undefined,
);

/** out-of-spec: every number is good, with the wrong sign for whoever uses it. */
export const reversedSensor: Fault<'reversed-sensor'> = {
	code: 'reversed-sensor',
	status: 'out-of-spec',
	scope: 'finger',
	listedAfter: 'coarse-steps',
	sees: 'wrong way, wrong place or wrong scale',
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
	ways: [
		{
			name: 'against',
			limits: {
				correlation: correlationLimit,
				movements: movementsLimit,
				against: againstLimit,
				noises: noisesLimit,
				span: spanLimit,
				turned: turnedLimit,
			},
			gates: [
				isFinger,
				hasCompany,
				chances('movements', ({agreement}, a) => agreement.measured(a), wholeHand),
				atLeast('noises', travelInNoises),
				atLeast('span', spanShare, (features, a, raise) => reachesLimit(spanShare(features, a), raise)),
				goesWithThem,
				atLeast('against', againstShare),
			],
			sign: (features, a) => {
				const {agreement} = features;
				const seen = agreement.seen(a, mostAgainst());
				const against = agreement.against(a, mostAgainst());
				const of = agreement.measured(a);
				return {
					from: seen?.first ?? features.epochFrom,
					seenAt: seen?.last ?? features.now,
					summary: `${features.analogName(a)} went against the other fingers in ${against} of ${of} movements of the whole hand.`,
					evidence: evidenceOf({against, of, correlation: figure(agreement.median(a) ?? 0)}),
				};
			},
		},
	],
};
