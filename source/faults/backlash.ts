import type {Features} from '../features/features.ts';
import {cordCaution, glueCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';

/** maintenance: usable, and a sign of friction or play that grows. */
export const backlash: Fault = {
	code: 'backlash',
	status: 'maintenance',
	scope: 'finger',
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
	checks: [
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
	thresholds:
		'Hysteresis is the largest difference between the two directions at one position, in percent of span (IEC 61298-2, from memory). 10 % is 27° on a full track, visible in any use; 4 % is what a cord over two bends does with a sound spring. The limits are common practice.',
	everyTicks: 4,
	detect,
};

/** Between the definition's must (10 % of span) and must not (4 %), above their geometric mean of 6.3 %. */
const leastPlay = 0.075;
const gonePlay = 0.04;

/** What the other fingers show as well is how this hand moves: a finger's own play stands out of it. */
const beyondOthers = 0.04;

/** Two standard errors and a half above the must not: by chance once in 160 fingers. */
const errors = 2.5;
/** Three each way, so that the extremes can be left out. */
const leastMovements = 6;

/** A leap in mid-travel is the same place each time to within this share of full scale, and elsewhere on the way back by more. */
const placeShare = 0.02;
const leastLeaps = 3;

function detect(features: Features, a: number): Verdict {
	const {analog, movements} = features;
	const leap = leaps(features, a);
	if (leap !== undefined) return leap;
	// Told anew only after another movement.
	if (!(movements.measuredAt >= features.now - 2)) return undefined;
	const play = movements.plays.play(a);
	if (play === undefined) return undefined;
	if (play.play < gonePlay) return 'gone';
	// A reading stopped dead at an end starts late and ends early by itself.
	if (analog.ends.sharpHigh(a, 3) >= 0.5 || analog.ends.sharpLow(a, 3) >= 0.5) return undefined;
	if (play.movements < leastMovements || play.play < leastPlay || play.play - errors * play.error < gonePlay)
		return undefined;
	if (play.play - othersPlay(features, a) < beyondOthers) return undefined;
	return {
		from: before(features, 20),
		confidence: Math.min(0.95, 0.6 + 2 * play.play),
		summary: `${features.analogName(a)} starts late after each reversal: closing and opening differ by ${figure(play.play * 100)} % of its span.`,
		evidence: {
			playPercentOfSpan: figure(play.play * 100),
			closingPercent: figure(play.closing * 100),
			openingPercent: figure(play.opening * 100),
			movements: play.movements,
		},
	};
}

/** Always the same leap in mid-travel, at another place on the way back. */
function leaps(features: Features, a: number): Verdict {
	const {analog} = features;
	const full = analog.scale.fullScale;
	const since = before(features, 60);
	const up = analog.leaps.since(a, true, since);
	const down = analog.leaps.since(a, false, since);
	if (up.count < leastLeaps || down.count < leastLeaps || analog.leaps.sharedSince(a, since) > 0.3) return undefined;
	if (up.stop - up.start < 8 * (analog.restNoise(a) ?? 0)) return undefined;
	const allowed = placeShare * full;
	if (up.scatter > allowed || down.scatter > allowed) return undefined;
	const apart = (up.start + up.stop - down.start - down.stop) / 2;
	// The two places of one crack or one hanging cord lie near each other; farther apart it is noise.
	if (Math.abs(apart) < placeShare * full || Math.abs(apart) > 3 * Math.abs(up.stop - up.start)) return undefined;
	return {
		from: since,
		confidence: 0.7,
		summary: `${features.analogName(a)} leaps from ${Math.round(up.start)} to ${Math.round(up.stop)} on the way up and from ${Math.round(down.start)} to ${Math.round(down.stop)} on the way down.`,
		evidence: {
			leapPercentFs: percentFs(features, up.stop - up.start),
			apartPercentFs: percentFs(features, Math.abs(apart)),
			leaps: up.count + down.count,
		},
	};
}

/** Median play of the other fingers, 0 where none is known. */
function othersPlay(features: Features, a: number): number {
	const known: number[] = [];
	for (const other of features.hand.fingers) {
		const play = other === a ? undefined : features.movements.plays.play(other);
		if (play !== undefined) known.push(play.play);
	}
	known.sort((one, other) => one - other);
	return known.length === 0 ? 0 : known[known.length >> 1];
}
