import {rewiringCaution, servoCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, percentFs} from './figures.ts';
import {isWired} from './gates/fingers.ts';
import {isProvenStick, isWiredFinger} from './gates/follows.ts';
import {atLeast, chances} from './gates/gate.ts';

/** out-of-spec: the signal is there, with more doubt than its user may expect. */
export const excessNoise: Fault<'excess-noise'> = {
	code: 'excess-noise',
	status: 'out-of-spec',
	scope: 'analog',
	listedAfter: 'rough-track',
	sees: 'noisy, or moves by itself',
	title: 'noisy at rest',
	definition: 'More noise at rest than a sound pot gives, on a channel that otherwise follows its finger.',
	physics:
		'Quantisation leaves 0.29 counts rms and a 10 kΩ pot adds little: its source resistance is at most a quarter of its value, 2.5 kΩ at mid-travel. More comes from contact noise, from a source too weak to charge the converter, or from what the leads pick up.',
	causes: [
		'A dirty or worn track, or a cold solder joint.',
		'A pot of too high a value: at 100 kΩ the source reaches 25 kΩ, above the 10 kΩ the ATmega328P converter is made for.',
		'Sensor wires running beside motor, radio or USB wires, or a long ground return.',
		"Noise of the board's own supply or converter (usual on ESP32 boards with the radio on).",
		'A hand in the glove: tremor of 8–12 Hz is anatomy, about one count on a 16 mm spool, and no fault.',
	],
	measurements: [
		{measure: 'Glove off and lying still: rest noise beside the other fingers', expect: 'alike, 1–3 counts at 10 bit'},
		{measure: 'Unplugged: resistance between the outer lugs', expect: '8–12 kΩ; 80–120 kΩ: too high a value'},
		{
			measure: 'Unplugged: resistance wiper to one end while turning slowly',
			expect: "no steps beyond 1 % of the pot's value",
		},
		{measure: 'Noise with motors unplugged and radio off', expect: 'the same; less: it comes from there'},
		{measure: 'Noise with a finger laid along the wiper wire', expect: 'the same; more: wire badly joined or too long'},
	],
	remedy: [
		'Re-solder; replace the pot if its track is noisy.',
		'Solder 100 nF from the input to ground at the board (with 2.5 kΩ: 0.25 ms).',
		'Keep sensor wires away from motor wires; run a ground wire beside them.',
		'Average 4–16 readings per frame in the firmware: noise falls by 2–4.',
	],
	caution: `${rewiringCaution} ${servoCaution}`,
	ways: [
		{
			name: 'noise',
			limits: {
				windows: {
					raise: 3,
					must: 3,
					mustNot: null,
					unit: 'seconds at rest',
					because: 'the rms of one second of 50 readings is known to a tenth only; three agree by chance hardly ever',
				},
				noise: {
					raise: 1.5,
					clear: 1,
					must: 1.5,
					mustNot: 0.6,
					unit: '% FS rms at rest',
					because:
						'15 counts at 10 bit, ten times a sound pot; raised at the definition itself, since real hands and radio boards reach 1.3 % for half a second in a hundred (check-values H-real) and the third quartile of many seconds is told',
				},
				lately: {
					raise: 1,
					clear: 0,
					must: null,
					mustNot: null,
					unit: '% FS rms in the latest second at rest, or of movement where that is quieter',
					because:
						'what an open pin or a range still being learned left behind is no noise of the channel that works since; where the finding closes',
				},
			},
			gates: [
				isWired,
				chances('windows', (features, a) => features.loudness.windows[a], 'rest the hand for a few seconds'),
				atLeast('noise', (features, a) => features.percent(features.loudness.of(a))),
				atLeast('lately', (features, a) => features.percent(features.loudness.latest(features, a))),
				isWiredFinger,
				isProvenStick,
			],
			sign: (features, a) => {
				const noise = features.loudness.of(a);
				return {
					from: features.loudness.since(a, noise / 2),
					seenAt: features.loudness.lastAt(features, a, noise / 2),
					summary: `${features.analogName(a)} jitters by ${percentFs(features, noise)} % FS rms while the hand rests.`,
					evidence: evidenceOf({
						noisePercentFs: percentFs(features, noise),
						noiseCounts: figure(noise),
						windows: features.loudness.windows[a],
					}),
				};
			},
		},
	],
};
