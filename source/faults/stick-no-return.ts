import {rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {percentFs} from './figures.ts';
import {atLeast, chances, type Limit} from './gates/gate.ts';
import {isStick, stickOf} from './gates/stick.ts';

const latest: Limit = {
	raise: 16,
	must: null,
	mustNot: null,
	unit: 'latest releases are looked at',
	because: 'a stick that was mended shows it in as many; common practice, no source',
};

/** out-of-spec: the rest point is uncertain, so a small deflection cannot be told from none. */
export const stickNoReturn: Fault<'stick-no-return'> = {
	code: 'stick-no-return',
	status: 'out-of-spec',
	scope: 'stick',
	listedAfter: 'stick-off-centre',
	sees: 'wrong way, wrong place or wrong scale',
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
	measurements: [
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
	ways: [
		{
			name: 'releases',
			limits: {
				releases: {
					raise: 3,
					must: 3,
					mustNot: null,
					unit: 'releases from outside the middle quarter, both axes then still inside it for 0.2 s',
					because: 'of two places either may be the odd one',
				},
				scatter: {
					raise: 5,
					clear: 3.5,
					must: 6,
					mustNot: 2,
					unit: '% FS between the places of rest',
					because:
						'a dead zone of 5–10 % of half scale is usual (common practice) and holds 2 % of full scale, not 6 %; below the must by twice what a still stick may move (0.6 % FS), and closed at the geometric mean of the two',
				},
				latest,
			},
			gates: [
				isStick,
				chances('releases', features => stickOf(features).releaseCount, 'push the stick to a side and let it go'),
				atLeast('scatter', (features, a) => {
					const counts = stickOf(features).scatter(a, latest.raise);
					return counts === undefined ? undefined : features.percent(counts);
				}),
			],
			sign: (features, a) => {
				const stick = stickOf(features);
				const releases = Math.min(latest.raise, stick.releaseCount);
				const scatter = percentFs(features, stick.scatter(a, latest.raise) ?? Number.NaN);
				return {
					from: stick.releasesFrom(latest.raise),
					summary: `${features.analogName(a)} came to rest at places ${scatter} % FS apart in ${releases} releases.`,
					evidence: evidenceOf({releases, scatterPercentFs: scatter}),
				};
			},
		},
	],
};
