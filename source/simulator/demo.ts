import {boards} from './boards.ts';
import type {FaultSpec} from './fault-model.ts';
import type {Script} from './gesture.ts';
import type {FingerSpec, GloveSpec} from './glove.ts';
import {Random} from './random.ts';
import {drawHand} from './random-glove.ts';
import {parseScript} from './script-text.ts';
import type {SimulationSpec} from './simulate.ts';
import {plainLink, plainStream} from './stream-spec.ts';

/** What the demonstration shows, for its title line. */
export const demoName = 'left hand of the dragon';

/** One round of the demonstration, seconds; then it starts over. */
export const demoRoundSeconds = 84;

/** Rounds laid out in advance: an evening's worth. */
const rounds = 120;

const reels: readonly (readonly [name: string, cordMm: number, spoolMm: number, openDegrees: number, lagMs: number])[] =
	[
		['thumb', 22, 18, 40, 25],
		['index', 40, 20, 25, 20],
		['middle', 45, 20.5, 18, 22],
		['ring', 42, 20, 30, 28],
		['little', 36, 19, 34, 35],
	];

function demoGlove(): GloveSpec {
	const fingers = reels.map(
		([name, cordTravelMm, spoolDiameterMm, openAngleDegrees, lagMs], i): FingerSpec => ({
			name,
			cordTravelMm,
			spoolDiameterMm,
			electricalAngleDegrees: 270,
			openAngleDegrees,
			direction: 1,
			lagMs,
			curve: 0.95 + 0.04 * i,
			playShare: 0.008,
			returnScatter: 0.004,
			endResistance: 0.0008,
			loadRatio: 0,
		}),
	);
	return {
		board: boards.avr,
		fingers,
		stick: {
			restX: 0.488,
			restY: 0.507,
			reach: [0.95, 0.97, 0.96, 0.94],
			restScatter: 0.002,
			gate: 'round',
			deadCentre: 0.02,
		},
		stickFirst: false,
		buttons: {count: 2, activeLow: true, pressSeconds: [0.1, 0.35]},
		firmware: {
			kind: 'raw',
			averageOf: 1,
			filter: 'ema',
			filterStrength: 1,
			deadBandCounts: 0,
			decimals: 0,
			outputFullScale: 1023,
		},
		hand: {
			...drawHand(
				new Random(11),
				fingers.map(({name}) => name),
			),
			closeSeconds: 0.45,
			depth: 0.95,
			depthSpread: 0.03,
			stickTremor: 0.01,
			tremorHertz: 9.4,
			tremorShare: 0.0015,
			swayShare: 0.001,
		},
	};
}

/** A fault that one round of the demonstration plays. */
type DemoScene = {
	/** Code of the finding that it has to give. */
	readonly code: string;
	readonly channel: string | null;
	/** Seconds into the round. */
	readonly from: number;
	readonly to: number;
	readonly severity: number;
	readonly variant: string;
};

/**
 * Faults of one round. What may come again any moment is over when a minute has passed without it (broken-frames), so those
 * come first; what is judged against the hand (floating-input) or at rest (excess-noise) comes while the hand does that.
 */
export const demoScenes: readonly DemoScene[] = [
	{code: 'dropout', channel: 'ring', from: 2, to: 10, severity: 1.1, variant: 'to-rail'},
	{code: 'broken-frames', channel: null, from: 14, to: 20, severity: 0.4, variant: 'mixed'},
	{code: 'stall', channel: null, from: 25, to: 27, severity: 0.45, variant: 'board-hangs'},
	{code: 'floating-input', channel: 'little', from: 30, to: 41, severity: 1.15, variant: 'wander'},
	{code: 'excess-noise', channel: 'index', from: 48, to: 58, severity: 0.55, variant: 'white'},
	{code: 'stray-text', channel: null, from: 75, to: 76.4, severity: 0.6, variant: 'debug'},
];

/** What the hand does in a round, each from so many seconds into it; it rests until the next. */
const acts: readonly (readonly [at: number, script: string])[] = [
	[0.8, 'fist 3x'],
	[6.5, 'each 1x'],
	[14.5, 'play 5s'],
	[21, 'stick around 2x, press button-1 2x'],
	[30.5, 'fist 2x, rest 1.5s, fist 2x'],
	[42, 'stick sides 1x + press button-2 2x'],
	[54, 'fist 2x'],
	[70, 'roll 2x'],
	[77, 'fist 3x'],
];

/** The hand keeps time with the scenes, so that every round shows what the first one shows. */
const script: Script = acts.flatMap(
	([at, text]): Script => [[{kind: 'rest-until', at, round: demoRoundSeconds}], ...parseScript(text)],
);

/**
 * The demonstration: a puppet theatre's glove, healthy at first, then with faults that come and go: a ring finger that
 * drops out, an open wire on the little finger, a hang, broken lines, a noisy index; and repaired again. Rounds of
 * `demoRoundSeconds`; `durationSeconds` may be Infinity.
 */
export function demoSpec(durationSeconds: number, seed = 1): SimulationSpec {
	const faults = demoScenes.map(
		({code, channel, from, to, severity, variant}): FaultSpec => ({
			code,
			channel,
			severity,
			variant,
			windows: Array.from({length: rounds}, (_, round) => [
				round * demoRoundSeconds + from,
				round * demoRoundSeconds + to,
			]),
		}),
	);
	return {
		seed,
		durationSeconds,
		glove: demoGlove(),
		stream: {...plainStream, rate: 100, counter: 0},
		link: {...plainLink, delivery: 'poll', pollMs: 1, senderJitter: 0.004},
		script,
		faults,
		start: 'boot',
		declared: {fullScale: 1023},
	};
}
