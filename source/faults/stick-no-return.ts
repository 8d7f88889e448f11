import type {Features} from '../features/features.ts';
import {rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {figure, percentFs} from './figures.ts';

/** out-of-spec: the rest point is uncertain, so a small deflection cannot be told from none. */
export const stickNoReturn: Fault = {
	code: 'stick-no-return',
	status: 'out-of-spec',
	scope: 'stick',
	title: 'does not come back to one place',
	definition: 'The places where the released stick comes to rest scatter.',
	physics:
		'Two springs pull the stick to its middle; near the middle their force is small, and any friction or play stops it where it likes. The dead zone has to cover that scatter.',
	causes: [
		'Worn or slack centring springs.',
		'Dirt, hair or glue in the gimbal.',
		'The cap rubs on the case.',
		'Loose pot clips: the wiper stays behind.',
		'A worn track in the middle.',
	],
	checks: [
		{measure: 'Let the stick snap back ten times from all sides', expect: 'rest readings within 2 % of full scale'},
		{measure: 'Move the stick through the middle by hand', expect: 'no rubbing, no dead play'},
		{measure: 'Look under the cap and around its collar', expect: 'clear all round, clean'},
		{
			measure: 'Unplugged: resistance wiper to one end, rocking about the middle',
			expect: 'returns to the same value within 2 %',
		},
	],
	remedy: [
		'Clean the gimbal; widen the hole in the case.',
		'Press the pot clips home.',
		'Replace the stick; meanwhile widen the dead zone (radial 5–10 % usual, 20–25 % on worn sticks).',
	],
	caution: rewiringCaution,
	thresholds:
		'A dead zone of 5–10 % of half scale is usual (common practice): scatter of 2 % of full scale lies inside it, 6 % of full scale (12 % of half scale) does not.',
	everyTicks: 4,
	detect,
};

/**
 * Standard deviation of the rest positions. The definition's 6 % scatter is a range over a few releases or a deviation;
 * its must-not of 2 % likewise. 2.3 % lies above the deviation of the one and below that of the other: a range of 6 %
 * over five releases is a deviation of 2.6 % (range/σ = 2.33 for five values, tables of the relative range).
 */
const leastDeviation = 0.023;
const goneDeviation = 0.015;
const leastReleases = 4;

/** Rests within this share of full scale of the rest point are releases; farther out the stick is being held. */
const releaseReach = 0.25;

function detect(features: Features, a: number): Verdict {
	const {stick, scale} = features;
	if (stick === null || (a !== stick.x && a !== stick.y)) return undefined;
	const rests = stick.releases(a === stick.x ? 'x' : 'y', releaseReach * scale.fullScale);
	if (rests.length < leastReleases) return undefined;
	const mean = rests.reduce((sum, rest) => sum + rest, 0) / rests.length;
	const deviation = Math.sqrt(rests.reduce((sum, rest) => sum + (rest - mean) ** 2, 0) / (rests.length - 1));
	if (deviation < goneDeviation * scale.fullScale) return 'gone';
	if (deviation < leastDeviation * scale.fullScale) return undefined;
	const range = Math.max(...rests) - Math.min(...rests);
	return {
		from: stick.restFrom[stick.oldestRest % stick.restFrom.length],
		confidence: 0.8,
		summary: `${features.analogName(a)} came to rest at places ${percentFs(features, range)} % FS apart after ${rests.length} releases.`,
		evidence: {
			releases: rests.length,
			rangePercentFs: percentFs(features, range),
			deviationPercentFs: figure(features.percent(deviation)),
		},
	};
}
