import type {Features} from '../features/features.ts';
import {rewiringCaution, shortedPotCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';

/** out-of-spec: every number is good, with the wrong sign for whoever uses it. */
export const reversedSensor: Fault = {
	code: 'reversed-sensor',
	status: 'out-of-spec',
	scope: 'finger',
	title: 'moves against the others',
	definition: 'The channel falls where the other fingers rise in movements of the whole hand.',
	physics:
		'With supply and ground exchanged the reading is full scale minus the true one. A cord wound the other way round does the same.',
	causes: [
		'Supply and ground wires exchanged at the outer lugs of this pot.',
		'The cord is wound onto the spool in the other direction, or the reel is mounted mirrored.',
		'The firmware inverts this channel, or forgot to.',
	],
	checks: [
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
	thresholds:
		"Movements of the whole hand carry all fingers together (neighbours follow even when one is moved: Zatsiorsky 2000), so correlation with the others' consensus is strongly positive; at −0.8 two thirds of the variance (0.8²) is shared with the wrong sign, which is not chance over a few movements. +0.3 and above is a finger doing its own part. A span of 20 % of full scale, so that noise is not correlated.",
	everyTicks: 2,
	detect,
};

/** Must at −0.8, must not at 0.3; −0.74 leaves room for a finger that lags a little. */
const reversedBelow = -0.74;
const rightAbove = 0.3;

function detect(features: Features, a: number): Verdict {
	const {analog, hand} = features;
	const agreement = hand.agreement[a];
	if (!(hand.companions >= 3) || Number.isNaN(agreement)) return undefined;
	if (agreement >= rightAbove) return 'gone';
	const since = before(features, 10);
	const full = analog.scale.smallest;
	if (agreement > reversedBelow || hand.window.range(a) < 0.18 * full) return undefined;
	// Two movements there and back, its own and two others': one may be a gesture.
	const turning = (b: number): boolean => analog.trips.turnsSince(b, since) >= 3;
	if (!turning(a) || hand.fingers.filter(b => b !== a && turning(b)).length < 2) return undefined;
	return {
		from: since,
		confidence: Math.min(0.95, -agreement),
		summary: `${features.analogName(a)} moves against the other fingers (correlation ${figure(agreement)}) over ${percentFs(features, hand.window.range(a))} % FS.`,
		evidence: {correlation: figure(agreement), rangePercentFs: percentFs(features, hand.window.range(a))},
	};
}
