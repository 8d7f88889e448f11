import type {Features} from '../features/features.ts';
import {cordCaution, rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, percentFs} from './figures.ts';
import {hasCompany, isFinger, wholeHand} from './gates/fingers.ts';
import {atMost, chances, keepsBelow, waitsFor} from './gates/gate.ts';

/** A finger that is held back says nothing of its reel: movements count in which it made a trip itself, however small. */
const tookPart = chances('movements', ({movements}, a) => movements.tookPart[a], wholeHand);

/** What wanders by itself travels nowhere, however far. */
const goesAlong = waitsFor(
	'goesAlong',
	'a finger that goes with the hand',
	({follow}, a) => {
		const {same, of} = follow.standing(a);
		return follow.follows(a) ? undefined : `it went its usual way in ${same} of ${of} movements`;
	},
	wholeHand,
);

function ratio(features: Features, a: number): number | undefined {
	const others = features.handAt(a)?.medianSpan(a) ?? 0;
	return others > 0 ? features.analog.spans.of(a) / others : undefined;
}

/** out-of-spec: the reading is right but too coarse to use. */
export const narrowSpan: Fault<'narrow-span'> = {
	code: 'narrow-span',
	status: 'out-of-spec',
	scope: 'finger',
	listedAfter: 'clipped-range',
	sees: 'does not move, or too little',
	title: 'too little travel',
	definition: 'Far less travel than the neighbouring fingers after several movements of the whole hand.',
	physics:
		'Counts = cord travel / (π × diameter) × 360° / track angle × full scale. A cord that slips, stretches or catches loses travel; so does a spool too large or a pot with more turns.',
	causes: [
		'The cord slips on its spool or is slack when the hand is open.',
		'The cord or its guide catches: glove fabric moves instead of the cord.',
		'The cord is anchored before the fingertip, so that it sees one joint only.',
		'A spool much larger than the others, or a multi-turn pot.',
		'A poor joint in a leg of the pot, in series with the track.',
	],
	measurements: [
		{
			measure: 'Bend the finger fully and watch the spool',
			expect: 'as far as its neighbours; less: cord slack or caught',
		},
		{
			measure: 'Pull the cord by hand with a ruler: counts per 10 mm',
			expect: '271 counts at 10 bit on a 16 mm spool, 270° track',
		},
		{measure: 'Turn the shaft by hand from stop to stop', expect: 'reading spans over 90 % of full scale'},
		{
			measure: 'Unplugged: resistance between the outer lugs, and of each leg to the board',
			expect: '8–12 kΩ; under 1 Ω',
		},
		{measure: 'Cord travel open to fist', expect: '30–47 mm for a finger, about half for a thumb'},
	],
	remedy: [
		'Take up the slack: re-wind with one or two turns of tension.',
		'Free the cord; line the guide with smooth tube.',
		'Anchor the cord at the fingertip.',
		'Match the spool to the travel so that about 80 % of the track is used.',
	],
	caution: `${cordCaution} ${rewiringCaution}`,
	ways: [
		{
			name: 'ratio',
			limits: {
				movements: {
					raise: 6,
					must: 6,
					mustNot: null,
					unit: 'whole-hand movements in which the finger made a trip itself',
					because: 'three closings and three openings, so that a finger that went less far once or twice is not blamed',
				},
				ratio: {
					raise: 0.25,
					clear: 0.35,
					must: 0.25,
					mustNot: 0.5,
					unit: "of the other fingers' median span",
					because:
						'A thumb has about half the travel of the others and must pass; a quarter is less than any joint explains (a finger using its middle joint alone still gives a third: 100° of 270°, hand-surgery reference tables). Raised at the definition itself, since quick hands hold a finger back for several movements; over at the geometric mean of the two.',
				},
				atRail: {
					raise: 0.1,
					must: null,
					mustNot: null,
					unit: "of the hand's moving time at a rail",
					because: 'from here on the finger is clipped: how far it would have travelled is not seen',
				},
			},
			gates: [
				isFinger,
				hasCompany,
				tookPart,
				atMost('ratio', ratio, (features, a, raise) => keepsBelow(ratio(features, a), raise)),
				goesAlong,
				atMost('atRail', (features, a) => features.railTime.share(a)),
			],
			sign: (features, a) => {
				const span = features.analog.spans.of(a);
				const others = features.handAt(a)?.medianSpan(a) ?? 0;
				return {
					from: features.epochFrom,
					summary: `${features.analogName(a)} has travelled ${percentFs(features, span)} % FS; the other fingers' median is ${percentFs(features, others)} %.`,
					evidence: evidenceOf({
						spanPercentFs: percentFs(features, span),
						othersMedianPercentFs: percentFs(features, others),
						ratio: figure(span / others),
						movements: features.movements.tookPart[a],
					}),
				};
			},
		},
	],
};
