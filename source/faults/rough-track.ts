import type {Features} from '../features/features.ts';
import {moving} from '../features/supply-leaps.ts';
import {rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, inPercent} from './figures.ts';
import {isFinger, isProvenFinger} from './gates/fingers.ts';
import {atLeast, atMost, chances} from './gates/gate.ts';

/** out-of-spec: the finger can be followed, but every movement of it crackles. */
export const roughTrack: Fault<'rough-track'> = {
	code: 'rough-track',
	status: 'out-of-spec',
	scope: 'finger',
	intermittent: true,
	listedAfter: 'dropout',
	sees: 'jumps',
	title: 'crackles while it moves',
	definition: 'The reading crackles while the finger travels and is quiet while it rests: a worn or dirty track.',
	physics:
		'Where the wiper rides over dirt, wear debris or a groove its contact resistance leaps from one grain to the next. At rest it stands on one spot and nothing shows. Standards for potentiometers call it rotational noise (IEC 60393, from memory).',
	causes: [
		'Dirt or dust on the track, or wear debris of its own: the commonest fault of a pot.',
		'A track worn through at the angles that are used most. Panel pots are made for 10 000–50 000 turns; at one curl a second 10 000 are 2.8 hours.',
		'Flux or cleaner that crept into the pot when it was soldered.',
		'A cheap carbon track, or a trimmer used as a sensor (made for about 200 turns).',
		'A wire or crimp that gives way a little with every movement of the finger.',
	],
	measurements: [
		{
			measure: 'Turn the shaft slowly to both ends, wires held still',
			expect: 'smooth; kinks at the same angles: the track',
		},
		{
			measure: 'Hold the finger still and wiggle the wires of this pot',
			expect: 'no kinks; kinks: a joint or wire, not the track',
		},
		{
			measure: 'Unplugged: resistance from the middle lug to one outer lug while turning slowly',
			expect: "no steps beyond 1 % of the pot's value",
		},
		{
			measure: 'Turn the shaft from stop to stop twenty times, then look again',
			expect: 'quieter: it was dirt; the same: it is wear',
		},
	],
	remedy: [
		'Turn the pot from end to end twenty times; often that wipes the track clean.',
		'A drop of contact cleaner made for potentiometers into the case, power off; let it dry before use.',
		'Replace a worn pot by one rated for many turns (conductive plastic).',
		'Move the spool on the shaft so that the finger uses another part of the track.',
	],
	caution: `Contact cleaner burns: power off, no flame, let it dry. ${rewiringCaution}`,
	ways: [
		{
			name: 'kinks',
			limits: {
				movement: {
					raise: 6,
					must: 6,
					mustNot: null,
					unit: 's of movement',
					because:
						'at the limit six kinks come in six seconds; what a sound track brings (15 a minute) gives that many once in 500 times',
				},
				rate: {
					raise: 60,
					clear: 30,
					must: 60,
					mustNot: 15,
					unit: 'kinks a minute of movement that no other channel shares',
					because:
						'a scratchy bend sensor on a public glove brought 169 a minute, its sound neighbours 43 and 6 (check-values H-real): raised at the definition itself; over at the geometric mean of must and must not',
				},
				shaken: {
					raise: 20,
					clear: 40,
					must: null,
					mustNot: null,
					unit: '% of the half seconds in motion in which the supply leaps, at the most',
					because:
						'beyond that the leaps of a shared supply may be the kinks (check-values D5.4); a poor joint in the common lead leaps in 14.5 % of them (check-values H-real) and cannot make half of all half seconds crackle',
				},
				noise: {
					raise: 0.6,
					clear: 1.5,
					must: null,
					mustNot: null,
					unit: '% FS rms of rest noise at the most',
					because:
						'a worn track is quiet at rest; what is noisier than a sound pot may be (excess-noise) has kinks of its own',
				},
				frames: {
					raise: 35,
					must: null,
					mustNot: null,
					unit: 'frames/s',
					because:
						'below that a quick tap lies within two frames and looks like a kink: half a tap at 7 Hz lasts 71 ms',
				},
				overRest: {
					raise: 1.6,
					clear: 1.2,
					must: 1.6,
					mustNot: null,
					unit: 'times their rate outside movement',
					because:
						'a wiper is quiet where it stands; what crackles at rest as well is a loose contact or noise (check-values D5.4)',
				},
			},
			gates: [
				isFinger,
				isProvenFinger,
				chances(
					'movement',
					({kinks}, a) => kinks.moved[a],
					(features, a) => `bend and stretch ${features.analogName(a)} slowly for some seconds`,
				),
				atLeast('frames', features => features.framesPerSecond),
				atMost('noise', (features, a) => features.percent(features.analog.noise.of(a))),
				atLeast('rate', ({kinks}, a) => kinks.perMinute(a)),
				atLeast('overRest', overRest),
				atMost('shaken', shakenShare),
			],
			sign: (features, a) => {
				const {kinks} = features;
				const rate = figure(kinks.perMinute(a) ?? 0);
				const atRest = figure(kinks.perMinuteAtRest(a));
				return {
					from: kinks.firstAt[a],
					seenAt: kinks.latestAt[a],
					summary: `${features.analogName(a)} crackles while it moves: ${rate} kinks a minute of movement, ${atRest} at rest.`,
					evidence: evidenceOf({
						kinksPerMinute: rate,
						kinksPerMinuteAtRest: atRest,
						secondsOfMovement: figure(kinks.moved[a]),
					}),
				};
			},
		},
	],
};

/** Kinks a minute of movement over those at rest; where there are none at rest, their number. */
function overRest({kinks}: Features, a: number): number | undefined {
	const rate = kinks.perMinute(a);
	return rate === undefined ? undefined : rate / Math.max(1, kinks.perMinuteAtRest(a));
}

/** Of the half seconds in motion that could show it, those in which the supply leaps; 0 before any. */
function shakenShare({supplyLeaps}: Features): number {
	const judged = supplyLeaps.judged[moving];
	return judged > 0 ? inPercent(supplyLeaps.leapt[moving] / judged) : 0;
}
