import type {Features} from '../features/features.ts';
import {type Creep, typical} from '../features/openings.ts';
import {cordCaution, glueCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Way} from './fault.ts';
import {asShare, figure, inPercent, percentFs, percentOf} from './figures.ts';
import {hasCompany, isFinger, wholeHand} from './gates/fingers.ts';
import {atLeast, atMost, chances, type Gate, type Limit, waitsFor} from './gates/gate.ts';

const openingsLimit: Limit = {
	raise: 6,
	must: 6,
	mustNot: null,
	unit: 'openings after the whole hand closed',
	because: 'an open hand never returns to quite the same pose; six show a trend (check-values D5.4)',
};

const changeLimit: Limit = {
	raise: 10,
	clear: 5.5,
	must: 10,
	mustNot: 3,
	unit: '% of span, slope of all openings (Theil, Sen) times their number',
	because: '10 % is seen by anyone using the glove, 3 % is what cloth and skin do; over at their geometric mean',
};

const rankLimit: Limit = {
	raise: 0.6,
	clear: 0.4,
	must: 0.6,
	mustNot: null,
	unit: 'rank correlation with time',
	because: 'a hand that is held otherwise now and then does not move on from opening to opening (check-values D5.4)',
};

const errorsLimit: Limit = {
	raise: 3,
	clear: 2,
	must: null,
	mustNot: null,
	unit: 'standard errors of that change',
	because:
		'ends of real strokes scatter by 5 to 30 % of span (check-values H-real); by chance three standard errors come once in 370 times. A change without any scatter has 3.9 after six openings',
};

const beyondChanceLimit: Limit = {
	raise: 3,
	clear: 2,
	must: null,
	mustNot: null,
	unit: 'normal deviates beyond chance',
	because:
		'by chance three come once in 370 times, with what few openings tell of their scatter taken into account: where only the open end has moved nothing else speaks for it',
};

const othersLimit: Limit = {
	raise: 3,
	clear: 5.5,
	must: 3,
	mustNot: null,
	unit: "% of span, median change of the other fingers' open level",
	because: 'what all fingers do is a hand that lies otherwise, or is used for something else (check-values D5.4)',
};

const steadinessLimit: Limit = {
	raise: 3,
	clear: 5.5,
	must: null,
	mustNot: null,
	unit: "% of span, median standard error of the other fingers' change",
	because: 'the others have to be known as well as that to say of them that they changed by at most 3 %',
};

const shared = {
	openings: openingsLimit,
	change: changeLimit,
	rank: rankLimit,
	others: othersLimit,
	steadiness: steadinessLimit,
};

const alikeLimit: Limit = {
	raise: 5,
	clear: 10,
	must: null,
	mustNot: null,
	unit: '% of span between the changes of both ends',
	because:
		'a cord that slipped shifts both ends alike; hands change both ends the same way within 5 % in 0 to 5 % of cases (check-values H-real)',
};

const allOthersLimit: Limit = {
	raise: 3,
	clear: 5.5,
	must: null,
	mustNot: null,
	unit: "% of span, greatest change of the other fingers' open level",
	because:
		'only the open end changes where the spring is weak, and where a finger is held half open: with the closed end not to go by, no other finger may do so',
};

function creep(features: Features, a: number): Creep | undefined {
	return features.openings.creep(features, a);
}

function changeOf(features: Features, a: number): number | undefined {
	const change = features.openings.changeAsShare(features, a);
	return change === undefined ? undefined : inPercent(Math.abs(change));
}

function hasChangedBy(features: Features, a: number, percent: number): boolean {
	if (features.openings.hasChangedLess(features, a, asShare(percent))) return false;
	return (changeOf(features, a) ?? 0) >= percent;
}

function rankOf(features: Features, a: number): number | undefined {
	const own = creep(features, a);
	return own === undefined ? undefined : Math.abs(own.rank);
}

function errorsOf(features: Features, a: number): number | undefined {
	const own = creep(features, a);
	return own === undefined || own.error <= 0 ? undefined : Math.abs(own.change) / own.error;
}

function typicalOf(figureOf: (creep: Creep) => number): (features: Features, a: number) => number | undefined {
	return (features, a) => {
		const typically = typical(features.openings.creepOfOthers(features, a), figureOf);
		return typically === undefined ? undefined : inPercent(typically);
	};
}

function greatestOf(features: Features, a: number): number | undefined {
	const others = features.openings.creepOfOthers(features, a);
	return others.length > 0 ? inPercent(Math.max(...others.map(other => Math.abs(other.change)))) : undefined;
}

function apartOf(features: Features, a: number): number | undefined {
	const own = creep(features, a);
	return own === undefined ? undefined : inPercent(Math.abs(own.change - own.changeClosed));
}

/** Two other fingers that opened as often. */
const othersKnown = waitsFor(
	'others known',
	'two other fingers that have opened as often',
	(features, a) => {
		const known = features.openings.othersKnown(features, a);
		return known > 1 ? undefined : `${known} of them`;
	},
	wholeHand,
);

const gates: readonly Gate[] = [
	isFinger,
	hasCompany,
	chances('openings', ({openings}, a) => openings.count[a], wholeHand),
	othersKnown,
	atLeast('change', changeOf, hasChangedBy),
	atLeast('rank', rankOf),
	atMost(
		'others',
		typicalOf(other => other.change),
	),
	atMost(
		'steadiness',
		typicalOf(other => other.error),
	),
];

function signOf(what: string): Way['sign'] {
	return (features, a) => {
		const {openings, analog} = features;
		const own = creep(features, a);
		const span = analog.spans.of(a);
		const change = own?.change ?? 0;
		return {
			from: openings.leftAt(a, asShare(changeLimit.mustNot ?? changeLimit.raise) * span),
			seenAt: openings.latestAt(a),
			summary: `${features.analogName(a)}'s ${what} by ${percentOf(change)} % of its span over ${openings.count[a]} openings.`,
			evidence: evidenceOf({
				changePercentOfSpan: percentOf(change),
				changePercentFs: percentFs(features, change * span),
				closedChangePercentOfSpan: percentOf(own?.changeClosed ?? 0),
				rankCorrelation: figure(own?.rank ?? 0),
				openings: openings.count[a],
			}),
		};
	};
}

/** maintenance: still usable after a new zero, and getting worse. */
export const baselineDrift: Fault<'baseline-drift'> = {
	code: 'baseline-drift',
	status: 'maintenance',
	scope: 'finger',
	listedAfter: 'narrow-span',
	sees: 'wrong way, wrong place or wrong scale',
	title: 'open-hand level creeps',
	definition: 'The level of the open hand moves on from one movement to the next.',
	physics:
		'Each pull that slips a little, or each return that stops a little short, leaves the spool at a new angle. Temperature moves a ratiometric pot hardly at all.',
	causes: [
		'The cord slips on the spool a little with each pull.',
		'The return spring is too weak or loses turns, so the spool stops short.',
		'The knot or the anchor at the fingertip creeps.',
		'The spool creeps on the shaft.',
		'The glove shifts on the hand.',
	],
	measurements: [
		{measure: 'Mark spool and shaft with a pen, make ten fists', expect: 'marks still in line; apart: the spool slips'},
		{measure: 'Mark the cord where it leaves its guide, make ten fists', expect: 'returns within 1 mm'},
		{measure: 'Open-hand reading before and after ten fists', expect: 'the same within 3 % of the span'},
		{measure: 'Spring pull on the cord with the hand open, by a spring balance', expect: 'never slack; about 0.5–3 N'},
	],
	remedy: [
		'Fix the cord through a hole in the spool, two turns staying on at full pull.',
		'Wind the spring one turn more, or replace it.',
		'Glue the spool; re-tie the knot and seal it.',
	],
	caution: `${cordCaution} ${glueCaution}`,
	ways: [
		{
			name: 'both ends',
			limits: {...shared, errors: errorsLimit, alike: alikeLimit},
			gates: [...gates, atLeast('errors', errorsOf), atMost('alike', apartOf)],
			sign: signOf('whole travel has moved'),
		},
		{
			name: 'open end',
			limits: {...shared, beyondChance: beyondChanceLimit, allOthers: allOthersLimit},
			gates: [
				...gates,
				atLeast('beyondChance', (features, a) => creep(features, a)?.beyondChance),
				atMost('allOthers', greatestOf),
			],
			sign: signOf('open level has moved'),
		},
	],
};
