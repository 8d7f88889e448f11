import type {Features} from '../features/features.ts';
import {cordCaution, rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';

/** out-of-spec: the reading is right but too coarse to use. */
export const narrowSpan: Fault = {
	code: 'narrow-span',
	status: 'out-of-spec',
	scope: 'finger',
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
	checks: [
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
	thresholds:
		'A thumb has about half the travel of the others and must pass, so silence at 0.5 of the median span; a quarter is less than any joint set explains (a finger using its middle joint alone still gives a third: 100° of 270°, hand-surgery reference tables). 8 % of full scale is 80 counts at 10 bit, below the 10 % that common practice calls unusable. Three movements of the whole hand, so that a finger moved alone or late is not blamed.',
	everyTicks: 4,
	detect,
};

/** A little above the definition's must (0.25 of the others' median), far below its must not (0.5): a finger may be holding back. */
const leastRatio = 0.31;
const rightRatio = 0.5;
const leastSpan = 0.08;

/** Three movements of the whole hand there and back; the sixth way may still be under way. */
const leastMovements = 6;

function detect(features: Features, a: number): Verdict {
	const {analog, hand, movements} = features;
	if (hand.fingers.length < 3 || movements.whole - movements.grownAt[a] < leastMovements) return undefined;
	const full = analog.scale.fullScale;
	const others = hand.fingers.filter(other => other !== a).map(other => analog.ends.span(other));
	others.sort((one, other) => one - other);
	const median = (others[(others.length - 1) >> 1] + others[others.length >> 1]) / 2;
	const span = analog.ends.span(a);
	// While most others are still finding out how far they go, nothing can be compared.
	const known = hand.fingers.filter(
		b => b !== a && movements.whole - movements.grownAt[b] >= leastMovements - 2,
	).length;
	if (2 * known < others.length) return undefined;
	// The whole hand must have worked: most of the others as far as each other, not one finger with followers.
	const movers = hand.fingers.filter(other => other !== a && hand.isMover(analog, other)).length;
	if (median < 0.1 * full || movers < 2 || movers < 0.6 * others.length) return undefined;
	// It took part: a finger held still through the cycles so far has not shown its travel.
	if (span >= 0.1 * full && analog.trips.turnsSince(a, before(features, 30)) < 6) return undefined;
	// And with all it has: one that is only taken along a little now and then has more.
	if (span >= 0.04 * full && movements.tookPart[a] < 0.7 * (movements.whole - movements.grownAt[a])) return undefined;
	const ratio = span / median;
	if (ratio >= rightRatio) return 'gone';
	if (ratio > leastRatio && !(span <= leastSpan * full)) return undefined;
	return {
		from: before(features, 10),
		confidence: Math.min(0.95, 1 - ratio),
		summary: `${features.analogName(a)} has travelled ${percentFs(features, span)} % FS; the other fingers' median is ${percentFs(features, median)} %.`,
		evidence: {
			spanPercentFs: percentFs(features, span),
			othersMedianPercentFs: percentFs(features, median),
			ratio: figure(ratio),
			movements: movements.whole,
		},
	};
}
