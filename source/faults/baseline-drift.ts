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

/** Between the definition's must (10 % of span) and must not (3 %), nearer to the must: hands are held differently from time to time. */
const leastShare = 0.075;
const goneShare = 0.04;

/** With fewer turns the two medians share a turn and scatter more: nearer to the must. */
const surerTurns = 7;
const shareOfFew = 0.09;

/** The definition's six cycles; with fewer only a shift of both ends is believed. */
const cyclesOfDefinition = 6;

/** A hand lies open longer than closed, unless it works without a pause. */
const restRatio = 1.3;

/**
 * A shift must stand out of how well the hand repeats that end. With independent turns of deviation σ the median change
 * between neighbours is 0.95 σ, and the difference of two medians of three deviates by 0.95 σ as well: 4 is one in 15,000.
 */
const scatterFactor = 4;

/** Where both ends moved alike, half as much will do: two independent chances. */
const scatterFactorOfBoth = 2;

/** Fingers that move on together are a hand that lies differently, not a cord. */
const alikeShare = 0.5;

type Drift = {
	readonly drift: number;
	readonly share: number;
	readonly end: EndLevels;
	readonly name: string;
	readonly other: number;
};

function detect(features: Features, a: number): Verdict {
	const found = driftIn(features, a);
	if (found === undefined) return undefined;
	const {drift, end, other} = found;
	const share = Math.abs(found.share);
	if (share < goneShare) return 'gone';
	const both = other * drift > 0 && Math.abs(other) >= 0.5 * Math.abs(drift);
	if (end.turns < cyclesOfDefinition && !both) return undefined;
	if (share < (end.turns < surerTurns ? shareOfFew : leastShare)) return undefined;
	if (Math.abs(drift) < (both ? scatterFactorOfBoth : scatterFactor) * end.scatter) return undefined;
	if (othersDriftAlike(features, a, found)) return undefined;
	return {
		from: end.since,
		confidence: Math.min(0.95, 0.6 + 2 * share),
		summary: `${features.analogName(a)}'s ${found.name} end has moved by ${figure(100 * found.share)} % of its span over ${end.turns} cycles.`,
		evidence: {
			driftPercentOfSpan: figure(100 * found.share),
			driftPercentFs: percentFs(features, drift),
			otherEndPercentOfSpan: figure((100 * other) / features.analog.ends.span(a)),
			cycles: end.turns,
		},
	};
}

/** How far the end at which the hand is open has moved; undefined where that can't be told yet. */
function driftIn(features: Features, a: number): Drift | undefined {
	const bottom = features.cycles.levels(a, false);
	const top = features.cycles.levels(a, true);
	// Shares of a span that is only a neighbour's following say nothing.
	if (!features.hand.isMover(features.analog, a)) return undefined;
	const span = features.analog.ends.span(a);
	if (span < 0.1 * features.scale.fullScale) return undefined;
	const end = openEnd(features, a, bottom, top);
	if (end === undefined) return undefined;
	const otherEnd = end === bottom ? top : bottom;
	let drift = driftOf(end);
	// A cord that gave way in the very first movement: the rest before it is the only baseline.
	const first = features.cycles.firstRest(a);
	// Play looks alike there: the first fist takes it up and the open hand does not give it back.
	const play = features.movements.plays.play(a)?.play ?? 1;
	const near = Math.abs(first - end.latest) <= 0.5 * span && play < (0.5 * Math.abs(first - end.latest)) / span;
	if (
		near &&
		end.turns >= cyclesOfDefinition &&
		Math.abs(end.latest - first) > Math.max(Math.abs(drift), shareOfFew * span)
	)
		drift = end.latest - first;
	return {
		drift,
		share: drift / span,
		end,
		name: end === bottom ? 'lower' : 'upper',
		other: otherEnd === undefined ? 0 : driftOf(otherEnd),
	};
}

/** Whether the other fingers' open ends have moved the same way by half as much or more, in the median. */
function othersDriftAlike(features: Features, a: number, own: Drift): boolean {
	const {hand} = features;
	const way = (b: number): number => (hand.sign[b] < 0 ? -1 : 1);
	const shares: number[] = [];
	for (const b of hand.fingers) {
		const found = b === a ? undefined : driftIn(features, b);
		if (found !== undefined) shares.push((found.share * way(b)) / (own.share * way(a)));
	}
	// Most others must be there to be compared with.
	if (2 * shares.length < hand.fingers.length - 1) return true;
	if (shares.length === 0) return false;
	shares.sort((one, other) => one - other);
	return shares[shares.length >> 1] >= alikeShare;
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
