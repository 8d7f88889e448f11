import type {Features} from '../features/features.ts';
import {cordCaution, glueCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {asShare, figure, inPercent} from './figures.ts';
import {hasCompany, isFinger} from './gates/fingers.ts';
import {atLeast, atMost, chances, keepsBelow, type Limit, reachesLimit, waitsFor} from './gates/gate.ts';

const apartLimit: Limit = {
	raise: 6,
	must: 6,
	mustNot: null,
	unit: '% of their ways that the other fingers lie apart',
	because:
		'where the others do not agree how far the hand has gone nothing can be said of this finger (check-values D5.4): unlike gestures are no play',
};

const movementsLimit: Limit = {
	raise: 4,
	must: 4,
	mustNot: null,
	unit: 'whole-hand movements in which the other fingers agree',
	because: 'the median of four leaves out one that was made otherwise (check-values D5.4)',
};

const togetherLimit: Limit = {
	raise: 33,
	must: null,
	mustNot: null,
	unit: '% of the whole-hand movements',
	because:
		'two fingers that go anywhere lie within 6 % of each other in 12 % of movements (1 − 0.94²); below three times that the hand does not move as one, and other fingers are no reference then (check-values H-real: paths differ by up to half a span in free use)',
};

const playLimit: Limit = {
	raise: 9,
	clear: 6.7,
	must: 9,
	mustNot: 5,
	unit: "% of the finger's way (median)",
	because:
		'9 % is 24° on a full track, seen in any use; over at the geometric mean of both limits. Hysteresis is the largest difference between the two directions at one position (IEC 61298-2, from memory)',
};

const mostLimit: Limit = {
	raise: 50,
	clear: 60,
	must: null,
	mustNot: null,
	unit: "% of the others' way at the most",
	because: 'no cord has so much slack that half of the way is gone before its spool turns: that is another gesture',
};

const scatterLimit: Limit = {
	raise: 6,
	clear: 9,
	must: null,
	mustNot: null,
	unit: "% of the finger's way between the quartiles",
	because:
		'play is an angle of the reel, the same in each movement; it is read against fingers that may lie 6 % apart, so half of the readings lie within that, or it is no play',
};

function apart(): number {
	return asShare(apartLimit.raise);
}

function play(features: Features, a: number): number | undefined {
	const median = features.plays.median(a, apart());
	return median === undefined ? undefined : inPercent(median);
}

function scatter(features: Features, a: number): number | undefined {
	const share = features.plays.scatter(a, apart());
	return share === undefined ? undefined : inPercent(share);
}

function alike(features: Features, a: number): number {
	return features.plays.alike(a, apart());
}

const asOne = 'open and close the whole hand, all fingers at once';

/** Unlike gestures are a wait for another movement, not evidence of a sound reel. */
const movesAsOne = waitsFor(
	'together',
	'a hand whose fingers move as one',
	(features, a) => {
		const share = inPercent(alike(features, a) / features.plays.measured(a));
		return share >= togetherLimit.raise ? undefined : `the others agree in ${figure(share)} % of the movements`;
	},
	asOne,
);

/** maintenance: usable, and a sign of friction or play that grows. */
export const backlash: Fault<'backlash'> = {
	code: 'backlash',
	status: 'maintenance',
	scope: 'finger',
	listedAfter: 'baseline-drift',
	sees: 'wrong way, wrong place or wrong scale',
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
	ways: [
		{
			name: 'play',
			limits: {
				apart: apartLimit,
				movements: movementsLimit,
				together: togetherLimit,
				play: playLimit,
				most: mostLimit,
				scatter: scatterLimit,
			},
			gates: [
				isFinger,
				hasCompany,
				chances('movements', alike, asOne),
				movesAsOne,
				atLeast('play', play, (features, a, raise) => reachesLimit(play(features, a), raise)),
				atMost('most', play, (features, a, raise) => keepsBelow(play(features, a), raise)),
				atMost('scatter', scatter),
			],
			sign: (features, a) => {
				const seen = features.plays.seen(a, apart(), asShare(playLimit.clear ?? playLimit.raise));
				const share = figure(play(features, a) ?? 0);
				return {
					from: seen?.first ?? features.epochFrom,
					seenAt: seen?.last ?? features.now,
					summary: `${features.analogName(a)} sets out late after each turn: the other fingers have gone ${share} % of their way by then.`,
					evidence: evidenceOf({
						playPercentOfWay: share,
						scatterPercentOfWay: figure(scatter(features, a) ?? 0),
						movements: alike(features, a),
					}),
				};
			},
		},
	],
};
