import type {Features} from '../features/features.ts';
import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {figure} from './figures.ts';

/** out-of-spec: what it reads is right, but full deflection never comes. */
export const stickShortThrow: Fault = {
	code: 'stick-short-throw',
	status: 'out-of-spec',
	scope: 'stick',
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
	checks: [
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
	thresholds:
		'Under 80 % of half scale on one side a stick counts as limited (common practice); 60 % is beyond any tolerance of the pot (±20 % of its resistance does not matter in a divider). Two turns around, so that a direction not tried is not blamed.',
	everyTicks: 4,
	detect,
};

/** Geometric mean of the definition's must (60 % of half scale) and must not (80 %). */
const leastReach = 0.69;
const rightReach = 0.78;

/** Turns all the way round before a side that was not reached counts (definition). */
const leastTurns = 2;

function detect(features: Features, a: number): Verdict {
	const {stick} = features;
	if (stick === null || stick.turns < leastTurns || (a !== stick.x && a !== stick.y)) return undefined;
	const first = a === stick.x ? 0 : 2;
	// Reach was taken from the middle of the scale in force.
	const {scale} = features;
	const fullScale = likelyScale(features);
	const reach = (side: 0 | 1): number => reachOf(stick.axisReach[first + side], side, scale.fullScale, fullScale);
	const minus = reach(0);
	const plus = reach(1);
	const least = Math.min(minus, plus);
	if (least >= rightReach) return 'gone';
	if (least > leastReach) return undefined;
	return {
		from: Math.max(0, features.now - 5),
		confidence: 0.85,
		summary: `${features.analogName(a)} reaches only ${figure(least * 100)} % of half scale towards ${minus < plus ? 'low' : 'high'} readings.`,
		evidence: {lowSidePercent: figure(minus * 100), highSidePercent: figure(plus * 100), turns: stick.turns},
	};
}

/** Of the scales that the readings allow the one whose middle the stick rests nearest to: nearly all sticks do. */
function likelyScale(features: Features): number {
	const {stick, scale} = features;
	const rests = [stick?.restPoint('x'), stick?.restPoint('y')].filter(rest => rest !== undefined);
	const off = (fullScale: number): number =>
		rests.reduce((sum, rest) => sum + Math.abs((rest - scale.railLow) / fullScale - 0.5), 0);
	return scale.plausible.reduce((best, fullScale) => (off(fullScale) < off(best) ? fullScale : best));
}

/** A reach measured from mid-scale of one full scale, as a share of half of another: towards low (0) or high (1). */
function reachOf(share: number, side: 0 | 1, measured: number, fullScale: number): number {
	const end = side === 0 ? (measured / 2) * (1 - share) : (measured / 2) * (1 + share);
	return side === 0 ? 1 - end / (fullScale / 2) : end / (fullScale / 2) - 1;
}
