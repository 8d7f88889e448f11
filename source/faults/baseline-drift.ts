import type {EndLevels} from '../features/cycles.ts';
import type {Features} from '../features/features.ts';
import {cordCaution, glueCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {figure, percentFs} from './figures.ts';

/** maintenance: still usable after a new zero, and getting worse. */
export const baselineDrift: Fault = {
	code: 'baseline-drift',
	status: 'maintenance',
	scope: 'finger',
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
	checks: [
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
	thresholds:
		'10 % of the span over six movements is seen by anyone using the glove; 3 % is what cloth and skin do. Six movements, because the open hand never returns to quite the same pose. Common practice, no source.',
	everyTicks: 4,
	detect,
};

/** Near the geometric mean of the definition's must (10 % of span) and must not (3 %). */
const leastShare = 0.06;
const goneShare = 0.04;

/** With fewer turns the two medians share a turn and scatter more: nearer to the must. */
const surerTurns = 7;
const shareOfFew = 0.09;

/** The definition's six cycles; with fewer only a shift of both ends is believed. */
const cyclesOfDefinition = 6;

/** A hand lies open longer than closed, unless it works without a pause. */
const restRatio = 1.3;

/** A shift must stand out of how well the hand repeats that end: the medians of three have about σ/1.5 each. */
const scatterFactor = 2.5;

function detect(features: Features, a: number): Verdict {
	const bottom = features.cycles.levels(a, false);
	const top = features.cycles.levels(a, true);
	// Shares of a span that is only a neighbour's following say nothing.
	if (!features.hand.isMover(features.analog, a)) return undefined;
	const span = features.analog.ends.span(a);
	if (span < 0.1 * features.scale.fullScale) return undefined;
	const open = openEnd(features, a, bottom, top);
	if (open === undefined) return undefined;
	const other = open === bottom ? top : bottom;
	const drift = driftOf(open);
	const share = Math.abs(drift) / span;
	const clear = Math.abs(drift) > scatterFactor * open.scatter;
	const otherDrift = other === undefined ? 0 : driftOf(other);
	const both = otherDrift * drift > 0 && Math.abs(otherDrift) >= 0.5 * Math.abs(drift);
	if (share < goneShare) return 'gone';
	const least = open.turns < surerTurns ? shareOfFew : leastShare;
	if (open.turns < cyclesOfDefinition && !both) return undefined;
	if (share < least || !(clear || (both && Math.abs(drift) > 1.5 * open.scatter))) return undefined;
	return {
		from: open.since,
		confidence: Math.min(0.95, 0.6 + 2 * share),
		summary: `${features.analogName(a)}'s ${open === bottom ? 'lower' : 'upper'} end has moved by ${figure((100 * drift) / span)} % of its span over ${open.turns} cycles.`,
		evidence: {
			driftPercentOfSpan: figure((100 * drift) / span),
			driftPercentFs: percentFs(features, drift),
			otherEndPercentOfSpan: figure((100 * otherDrift) / span),
			cycles: open.turns,
		},
	};
}

function driftOf(end: EndLevels): number {
	return end.latest - end.first;
}

/**
 * The end at which the hand is open: where it dwells; if it dwells at neither, the end that is repeated better, because
 * fists differ while an open hand is held by its tendons.
 */
function openEnd(
	features: Features,
	a: number,
	bottom: EndLevels | undefined,
	top: EndLevels | undefined,
): EndLevels | undefined {
	const {lowFrames, highFrames} = features.movements;
	const upward = features.hand.sign[a] >= 0;
	if (lowFrames > restRatio * highFrames) return upward ? bottom : top;
	if (highFrames > restRatio * lowFrames) return upward ? top : bottom;
	return top === undefined || (bottom !== undefined && bottom.scatter <= top.scatter) ? bottom : top;
}
