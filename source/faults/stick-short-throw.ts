import type {Features} from '../features/features.ts';
import type {Side} from '../features/stick-pushes.ts';
import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Way} from './fault.ts';
import {figure, percentOf} from './figures.ts';
import {atMost, chances, type Limit, waitsFor} from './gates/gate.ts';
import {isStick, stickOf} from './gates/stick.ts';

const pushes: Limit = {
	raise: 3,
	must: 3,
	mustNot: null,
	unit: 'straight pushes to that side; two turns around, two pushes to each of four short sides or one that reaches are as good',
	because: 'of half pushes three hardly end alike, while a stop ends them all',
};

const reach: Limit = {
	raise: 64,
	clear: 72,
	must: 60,
	mustNot: 80,
	unit: '% of half scale, from the rest point or from mid-scale',
	because:
		'under 80 % on one side a stick counts as limited (common practice); a fifth of the way from the must, since thumbs turn a stick short of its stop, and one that rests 2 % FS beside the middle is as much nearer to one end',
};

const near: Limit = {
	raise: 0.03,
	must: 0.03,
	mustNot: null,
	unit: 'of half scale between pushes that end alike',
	because: 'what a gimbal and the thumb on it give; half pushes scatter by more (check-values D5.4)',
};

const alike: Limit = {
	raise: 66,
	must: 66,
	mustNot: null,
	unit: '% of the pushes to that side, and three of them',
	because: 'two thirds: a half push now and then is allowed for',
};

const turns: Limit = {
	raise: 2,
	must: 2,
	mustNot: null,
	unit: 'turns around',
	because: 'a direction that was not tried is not blamed',
};

const each: Limit = {
	raise: 2,
	must: 2,
	mustNot: null,
	unit: 'pushes to each of four sides that all stop short',
	because: 'all sides at once is a feed below the reference, and no habit of a thumb',
};

const chance: Limit = {
	raise: 0.02,
	must: null,
	mustNot: null,
	unit: 'chance that so many pushes end alike by themselves',
	because:
		'half pushes end anywhere between 22 % of half scale, from where on a push counts, and the furthest: of three up to 60 % all end within 3 % once in 160 times, up to 44 % once in 50, up to 30 % once in seven, and those up to 25 % always (binomial tail): the smaller they are, the more of them have to agree',
};

const smallReach: Limit = {
	raise: 35,
	must: null,
	mustNot: null,
	unit: '% of half scale that one side has to be pushed beyond, where turns or four short sides are to count',
	because:
		'no gimbal, however small its angle, turns its pot by less than a third of half of the track (common practice, no source)',
};

const limits = {pushes, reach, near, alike, chance, turns, each, smallReach};

/** out-of-spec: what it reads is right, but full deflection never comes. */
export const stickShortThrow: Fault<'stick-short-throw'> = {
	code: 'stick-short-throw',
	status: 'out-of-spec',
	scope: 'stick',
	listedAfter: 'stick-no-return',
	sees: 'does not move, or too little',
	title: 'does not reach far enough',
	definition: 'The stick does not reach far enough in some direction after two turns around.',
	physics:
		'Full tilt turns the pot by only part of its track; the rest depends on the gimbal. An obstacle, or a feed below the reference, shortens the reach: on one side if mechanical or by a poor leg, on all sides if electrical.',
	causes: [
		'The case or cap stops the stick early on one side.',
		'Resistance in one leg of the pot: that side falls short.',
		"Fed from a lower voltage than the converter's reference: all sides short and the centre low.",
		'The gimbal has a small angle: use its own end points.',
	],
	measurements: [
		{measure: 'Full tilt to the short side: volts at the axis pin', expect: 'within 10 % of the supply or of 0 V'},
		{measure: 'Watch the shaft at full tilt', expect: 'stopped by the gimbal, not by the case'},
		{measure: "Volts at the stick's supply pin beside the converter's reference", expect: 'the same within 20 mV'},
		{measure: 'Unplugged: resistance of each leg to the board', expect: 'under 1 Ω'},
	],
	remedy: [
		'Open up the case until the gimbal itself is the stop.',
		'Mend the leg; feed from the reference.',
		'Normalise each half-axis by its own end.',
	],
	caution: `${rewiringCaution} ${overvoltageCaution}`,
	ways: [towards(0), towards(1)],
};

/** One side of an axis: 0 towards low readings, 1 towards high ones. */
function towards(side: Side): Way {
	const name = side === 0 ? 'low side' : 'high side';
	return {
		name,
		limits,
		gates: [
			isStick,
			chances(
				'pushes',
				(features, a) => chancesOf(features, a, side),
				(features, a) => `push ${features.analogName(a)} to its end towards ${side === 0 ? 'low' : 'high'} readings`,
			),
			atMost('reach', (features, a) => reachOf(features, a, side)),
			waitsFor(
				'stop',
				'two turns around, pushes that end alike, or four short sides',
				(features, a) => (endsAtStop(features, a, side) ? undefined : 'pushes that end apart'),
				'turn the stick all the way round twice',
			),
		],
		sign: (features, a) => {
			const stick = stickOf(features);
			const percent = reachOf(features, a, side);
			return {
				from: stick.restFrom(a),
				summary: `${features.analogName(a)} reaches only ${percent} % of half scale towards ${side === 0 ? 'low' : 'high'} readings.`,
				evidence: evidenceOf({
					side: side === 0 ? 'low' : 'high',
					reachPercent: percent,
					pushes: stick.straightPushes(a, side, 0).pushes,
					turns: figure(stick.turns),
				}),
			};
		},
	};
}

const sides = [0, 1] as const;

/** How far a side was reached, percent of half scale. */
function reachOf(features: Features, a: number, side: Side): number {
	return percentOf(stickOf(features).reachTo(a, side, features.analog));
}

/** A push that reaches shows as much as three that stop. */
function chancesOf(features: Features, a: number, side: Side): number {
	const settled = reachOf(features, a, side) > reach.raise || isTurned(features) || areAllShort(features);
	return settled ? pushes.raise : stickOf(features).straightPushes(a, side, 0).pushes;
}

function isTurned(features: Features): boolean {
	return stickOf(features).turns >= turns.raise && isInEarnest(features);
}

/** Small circles about the rest point, and nudges to every side, show no end on any of them. */
function isInEarnest(features: Features): boolean {
	const {x, y} = stickOf(features);
	return [x, y].some(a => sides.some(side => reachOf(features, a, side) > smallReach.raise));
}

function areAllShort(features: Features): boolean {
	const stick = stickOf(features);
	if (!isInEarnest(features)) return false;
	return [stick.x, stick.y].every(a =>
		sides.every(
			side => stick.straightPushes(a, side, 0).pushes >= each.raise && reachOf(features, a, side) <= reach.raise,
		),
	);
}

function endsAtStop(features: Features, a: number, side: Side): boolean {
	if (isTurned(features) || areAllShort(features)) return true;
	const ends = stickOf(features).straightPushes(a, side, near.raise);
	return (
		ends.chance <= chance.raise && ends.alike >= pushes.raise && percentOf(ends.alike / ends.pushes) >= alike.raise
	);
}
