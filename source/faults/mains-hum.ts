import type {Features} from '../features/features.ts';
import {isHandLike, showsMains} from '../features/mains-lines.ts';
import {mainsCaution, rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Sign} from './fault.ts';
import {figure, percentFs} from './figures.ts';
import {notLearning, wholeHand} from './gates/fingers.ts';
import {followsFinger, isProvenStick} from './gates/follows.ts';
import {atLeast, chances, ground, waitsFor} from './gates/gate.ts';
import {isNarrow, narrow} from './gates/narrow-line.ts';

/** Sampled at the mains frequency or a whole part of it hum is a plain offset. */
const showsAtRate = ground(
	'rate',
	'a frame rate at which 50 or 60 Hz shows as a line',
	({framesPerSecond}) => framesPerSecond === undefined || showsMains(framesPerSecond),
);

/** A line where a hand scratches, taps or trembles itself has to go on while the hand does something else. */
const seenInMotion = waitsFor(
	'motion',
	'a line that goes on while the hand moves',
	(features, a) => {
		const hertz = aliasNow(features, a);
		if (!isHandLike(hertz) || !Number.isNaN(features.mainsLines.inMotion(a))) return undefined;
		return `at ${figure(hertz)} Hz a hand could do it itself`;
	},
	wholeHand,
);

function aliasNow({mainsLines, framesPerSecond}: Features, a: number): number {
	return mainsLines.alias(a, framesPerSecond ?? 0);
}

function inMotion({mainsLines}: Features, a: number): number {
	const share = mainsLines.inMotion(a);
	return Number.isNaN(share) ? Number.POSITIVE_INFINITY : share;
}

function sign(features: Features, a: number): Sign {
	const {mainsLines, framesPerSecond} = features;
	const hertz = mainsLines.hertz(a, framesPerSecond ?? 0);
	const alias = aliasNow(features, a);
	const peak = percentFs(features, mainsLines.peak(a));
	const isSeenAsIs = typeof hertz === 'number' && Math.abs(alias - hertz) < 1;
	const seen = isSeenAsIs ? '' : `, seen at ${figure(alias)} Hz at this frame rate`;
	return {
		from: mainsLines.since(a),
		seenAt: mainsLines.seenAt(a),
		summary: `${features.analogName(a)} carries ${hertz} Hz mains hum of ${peak} % FS peak${seen}.`,
		evidence: evidenceOf({
			mainsHertz: hertz,
			aliasHertz: figure(alias),
			peakPercentFs: peak,
			framesPerSecond: figure(framesPerSecond ?? 0),
			timesHigherThanBeside: figure(mainsLines.narrow(a)),
			windowsAtRest: mainsLines.windows(a),
		}),
	};
}

/** out-of-spec: the finger is still visible, under a disturbance. */
export const mainsHum: Fault<'mains-hum'> = {
	code: 'mains-hum',
	status: 'out-of-spec',
	scope: 'analog',
	listedAfter: 'excess-noise',
	sees: 'noisy, or moves by itself',
	title: 'mains pickup',
	definition: 'A 50 or 60 Hz line, or what remains of it at this frame rate, on a channel that follows its finger.',
	physics:
		'Mains fields couple into long, weakly driven leads. Sampled at f_s, a line at f shows up at |f − f_s·round(f/f_s)|: 50 Hz appears at 10 Hz in 60 frames/s and at 0 Hz, as a plain offset, in 50 frames/s. The alias is as large as the hum.',
	causes: [
		'The ground of the pots is poor, so the wiper is driven weakly and the leads act as an antenna.',
		'A laptop on its charger without earth: its leakage rides on the USB ground and the wearer couples it in.',
		'Sensor wires along a mains lead, a transformer or a lamp.',
		'A pot of 100 kΩ or more.',
	],
	measurements: [
		{measure: 'Run the computer from its battery, charger pulled out', expect: 'hum gone: it comes in by the charger'},
		{measure: "Unplugged: resistance from the pot's ground lug to the board's ground", expect: 'under 1 Ω'},
		{measure: 'Move the glove a metre away from mains leads and lamps', expect: 'less: pickup by field'},
		{measure: 'Unplugged: resistance between the outer lugs', expect: '8–12 kΩ (10 kΩ ±20 %)'},
		{
			measure: 'Meter on AC volts from the input pin to ground, pot at mid-travel',
			expect: 'a few mV; 53 mV rms is 1.5 % of 5 V peak',
		},
	],
	remedy: [
		'Mend the ground; run it beside each sensor wire, twisted.',
		'Use an earthed or another charger, or a battery.',
		'Solder 100 nF from the input to ground at the board.',
		'Average over whole mains periods (20 ms at 50 Hz, 16.7 ms at 60 Hz).',
	],
	caution: `${mainsCaution} ${rewiringCaution}`,
	ways: [
		{
			name: 'line',
			limits: {
				windows: {
					raise: 2,
					must: null,
					mustNot: null,
					unit: 'windows of two seconds at rest',
					because:
						'two that begin half a second apart agree; what a hand does to and fro at rest has to go on in motion besides',
				},
				peak: {
					raise: 1.2,
					clear: 0.87,
					must: 1.5,
					mustNot: 0.5,
					unit: '% FS peak',
					because:
						'four fifths of the must: a line 0.1 Hz off what is tried loses 6 % in two seconds, and arrival that wobbles by 2 ms loses 18 % at 50 Hz (exp(−(2π·50·0.002)²/2)). It closes at the geometric mean of the two, 0.87.',
				},
				narrow,
				inMotion: {
					raise: 0.5,
					clear: 0.3,
					must: null,
					mustNot: null,
					unit: 'of the windows in which the hand moves',
					because: 'mains goes on whatever the hand does, but a quick stroke hides it where the alias is low',
				},
			},
			gates: [
				showsAtRate,
				notLearning,
				chances('windows', (features, a) => features.mainsLines.windows(a), 'rest the hand for three seconds'),
				atLeast('peak', (features, a) => features.percentOfConverter(features.mainsLines.peak(a))),
				isNarrow,
				followsFinger,
				isProvenStick,
				seenInMotion,
				atLeast('inMotion', inMotion),
			],
			sign,
		},
	],
};
