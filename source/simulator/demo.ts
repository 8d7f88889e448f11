import {boards} from './boards.ts';
import type {FaultSpec} from './fault-model.ts';
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

/** Faults of one round: what, where, and between which seconds of it. */
const scenes: readonly (readonly [
	code: string,
	channel: string | null,
	from: number,
	to: number,
	severity: number,
	variant: string,
])[] = [
	['dropout', 'ring', 2, 14, 1.1, 'to-rail'],
	['floating-input', 'little', 22, 34, 0.35, 'hum'],
	['stall', null, 39, 41, 0.45, 'board-hangs'],
	['broken-frames', null, 45, 54, 0.4, 'mixed'],
	['excess-noise', 'index', 57, 68, 0.55, 'rustle'],
	['stray-text', null, 71, 73, 0.6, 'debug'],
];

/**
 * The demonstration: a puppet theatre's glove, healthy at first, then with faults that come and go: a ring finger that
 * drops out, an open wire on the little finger, a hang, broken lines, a noisy index; and repaired again. Rounds of
 * `demoRoundSeconds`; `durationSeconds` may be Infinity.
 */
export function demoSpec(durationSeconds: number, seed = 1): SimulationSpec {
	const faults = scenes.map(
		([code, channel, from, to, severity, variant]): FaultSpec => ({
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
		script: parseScript(
			'rest 1s, fist 3x, rest 1.5s, stick around 1x + press button-1 2x, each 1x, rest 1.5s, play 8s, rest 1.5s, fist 4x + press button-2 1x, rest 2s, roll 2x, stick sides 1x',
		),
		faults,
		start: 'boot',
		declared: {fullScale: 1023},
	};
}
