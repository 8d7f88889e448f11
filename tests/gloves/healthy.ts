import type {FaultSpec} from '../../source/simulator/fault-model.ts';
import type {Script} from '../../source/simulator/gesture.ts';
import {type GloveSpec, travelShare} from '../../source/simulator/glove.ts';
import type {Random} from '../../source/simulator/random.ts';
import {drawGlove, type GloveWishes} from '../../source/simulator/random-glove.ts';
import {drawLink, drawStream, fitScan, type StreamWishes} from '../../source/simulator/random-stream.ts';
import {type SimulationSpec, truthOf} from '../../source/simulator/simulate.ts';
import {anyWork, declare, type Scenario} from './scenario.ts';

/** A glove that has nothing wrong with it though a careless detector may think so. */
type HealthyCase = {
	readonly glove?: GloveWishes;
	readonly stream?: StreamWishes;
	readonly change?: (glove: GloveSpec, random: Random) => GloveSpec;
	readonly script?: (random: Random, glove: GloveSpec) => Script;
	readonly faults?: readonly FaultSpec[];
	readonly seconds?: readonly [number, number];
};

/** Gives one finger a spool so small that its deepest closings just reach the end of the track. */
function shortReel(glove: GloveSpec, random: Random): GloveSpec {
	const which = random.integer(0, glove.fingers.length - 1);
	const {hand} = glove;
	return {
		...glove,
		fingers: glove.fingers.map((finger, i) => {
			if (i !== which) return finger;
			const open = finger.openAngleDegrees / finger.electricalAngleDegrees;
			// Where the converter's own dead end begins is the rail to anyone who reads the numbers.
			const {deadLow, deadHigh} = glove.board;
			const room = finger.direction > 0 ? 1 - deadHigh - open : open - deadLow;
			const deep = hand.depth ** finger.curve;
			return {...finger, spoolDiameterMm: finger.spoolDiameterMm * ((travelShare(finger) * deep) / room)};
		}),
	};
}

export const healthyCases: Readonly<Record<string, HealthyCase>> = {
	'any glove at any work': {},
	'rest for minutes': {
		script: random => [[{kind: 'fist', times: 2}], [{kind: 'rest', seconds: random.uniform(90, 150)}]],
		seconds: [100, 150],
	},
	'nothing but rest': {script: () => [[{kind: 'rest', seconds: 60}]]},
	'one finger only': {
		script: (random, glove) => [
			[{kind: 'curl', finger: random.pick(glove.fingers).name, times: random.integer(5, 12)}],
			[{kind: 'rest', seconds: 3}],
		],
	},
	'tapping at 6 a second': {
		script: (random, glove) => {
			const {name} = random.pick(glove.fingers);
			return [
				[{kind: 'tap', finger: name, times: random.integer(20, 40), hertz: random.uniform(5.5, 6.8)}],
				[{kind: 'rest', seconds: random.uniform(1, 3)}],
				[{kind: 'fist', times: 2}],
			];
		},
	},
	'tremor of one or two counts': {
		change: (glove, random) => ({
			...glove,
			hand: {...glove.hand, tremorHertz: random.uniform(8, 12), tremorShare: random.uniform(0.001, 0.003)},
		}),
		script: random => [
			[{kind: 'rest', seconds: random.uniform(5, 15)}],
			[{kind: 'pose', seconds: 6}],
			[{kind: 'fist', times: 3}],
		],
	},
	'neighbours that follow up to 40 %': {
		change: (glove, random) => ({
			...glove,
			hand: {
				...glove.hand,
				coupling: glove.hand.coupling.map((row, i) =>
					row.map((share, j) => (Math.abs(i - j) === 1 && i > 0 && j > 0 ? random.uniform(0.25, 0.4) : share)),
				),
			},
		}),
		script: random => [
			[{kind: 'each', times: 2}],
			[{kind: 'rest', seconds: 2}],
			[{kind: 'fist', times: random.integer(0, 4) + 1}],
		],
	},
	'thumb with half the travel': {
		glove: {shortThumb: true, fingerCount: 5},
		script: random => [
			[{kind: 'fist', times: random.integer(5, 9)}],
			[{kind: 'rest', seconds: 2}],
			[{kind: 'each', times: 1}],
		],
	},
	'firmware scaled to the rails': {
		glove: {firmware: 'scaled'},
		script: random => [
			[{kind: 'fist', times: random.integer(4, 9)}],
			[{kind: 'rest', seconds: 3}],
			[{kind: 'pose', seconds: 2}],
		],
	},
	'buttons active low': {glove: {buttonCount: 3, activeLow: true}},
	'buttons active high': {glove: {buttonCount: 3, activeLow: false}},
	'buttons tapped fast': {
		glove: {buttonCount: 2},
		script: () => [
			[{kind: 'press', button: 1, times: 25, hertz: 7}],
			[{kind: 'rest', seconds: 1}],
			[{kind: 'press', button: 2, times: 15, hertz: 5}],
			[{kind: 'fist', times: 2}],
		],
	},
	'button kept pressed for a while': {
		glove: {buttonCount: 2},
		script: random => [
			[{kind: 'rest', seconds: 2}],
			[
				{kind: 'keep-pressed', button: 1, seconds: random.uniform(4, 12)},
				{kind: 'fist', times: 3},
			],
			[{kind: 'press', button: 2, times: 3}],
		],
	},
	'filtered until rest is one number': {
		glove: {firmware: 'filtered'},
		script: random => [
			[{kind: 'rest', seconds: random.uniform(3, 10)}],
			[{kind: 'fist', times: 4}],
			[{kind: 'each', times: 1}],
		],
	},
	'half counts': {glove: {firmware: 'averaged'}},
	percent: {glove: {firmware: 'percent'}},
	millivolts: {glove: {firmware: 'mv'}},
	'a short reel now and then at its end': {
		glove: {firmware: 'raw', fingerCount: 5},
		change: shortReel,
		script: random => [
			[{kind: 'fist', times: random.integer(4, 8)}],
			[{kind: 'each', times: 1}],
			[{kind: 'play', seconds: 10}],
		],
	},
	'no stick': {glove: {stick: false}},
	'no buttons': {glove: {buttonCount: 0}},
	'three fingers': {glove: {fingerCount: 3}},
	'four fingers': {glove: {fingerCount: 4}},
	'ten reels': {glove: {fingerCount: 10}},
	'20 frames a second': {stream: {rate: 20}},
	'30 frames a second': {stream: {rate: 30}},
	'250 frames a second': {stream: {rate: 250}},
	'1000 frames a second': {stream: {rate: 1000}, seconds: [12, 20]},
	'8 bits': {glove: {board: 'avr-8bit'}},
	'10 bits': {glove: {board: 'avr'}},
	'12 bits': {glove: {board: 'arm-12bit'}},
	'14 bits': {glove: {board: 'arm-14bit'}},
	'16 bits': {glove: {board: 'external-16bit'}},
	'whole hand mounted the other way round': {glove: {mirrored: true}},
	'codes that never appear': {glove: {board: 'esp32-skips', firmware: 'raw'}},
	'flat near both ends': {
		glove: {board: 'esp32', firmware: 'raw'},
		// Relaxed hand a little inside the converter's dead end, as happens with reels mounted at their stops.
		change: (glove, random) => ({
			...glove,
			fingers: glove.fingers.map((finger, i) => {
				const {deadLow, deadHigh} = glove.board;
				const pulled = (glove.hand.relaxed[i] ?? 0.03) ** finger.curve * travelShare(finger);
				const at = (finger.direction > 0 ? deadLow : deadHigh) - random.uniform(0.006, 0.01) - pulled;
				return {...finger, openAngleDegrees: (finger.direction > 0 ? at : 1 - at) * finger.electricalAngleDegrees};
			}),
		}),
	},
	'one line in a thousand merged': {
		stream: {text: true, rates: [100, 300]},
		faults: [{code: 'broken-frames', severity: -1, variant: 'merged'}],
		seconds: [40, 60],
	},
	'a counter that wraps': {stream: {counter: true}},
	'the board’s clock as a column': {stream: {clock: true}},
	'stick centre 470 of 1023': {
		glove: {board: 'avr', stick: true},
		change: glove => ({...glove, stick: {...glove.stick!, restX: 470 / 1024, restY: 548 / 1024}}),
	},
	'fast fists': {
		script: random => [
			[{kind: 'fist', times: random.integer(8, 16), hertz: random.uniform(2.5, 3.3)}],
			[{kind: 'rest', seconds: 3}],
		],
	},
	'slow sweeps': {script: () => [[{kind: 'sweep', times: 3}], [{kind: 'rest', seconds: 3}]]},
	'stick played hard': {
		glove: {stick: true},
		script: () => [
			[{kind: 'stick-around', times: 3}],
			[{kind: 'stick-sides', times: 2}],
			[{kind: 'stick-jitter', seconds: 8}],
			[
				{kind: 'fist', times: 3},
				{kind: 'stick-around', times: 2},
			],
		],
	},
	'a puppet is played': {script: random => [[{kind: 'play', seconds: random.uniform(15, 40)}]]},
};

/** A healthy glove: one of `healthyCases`, drawn if `name` is left out. A right diagnosis finds nothing. */
export function randomHealthy(random: Random, name = random.pick(Object.keys(healthyCases))): Scenario {
	const wanted = healthyCases[name];
	if (!wanted) throw new RangeError(`no healthy case is called ${name}`);
	const drawn = drawGlove(random.fork('glove'), wanted.glove);
	const built = wanted.change ? wanted.change(drawn, random.fork('change')) : drawn;
	const stream = drawStream(random.fork('stream'), built, wanted.stream);
	const glove = fitScan(built, stream.rate);
	const link = drawLink(random.fork('link'), stream, glove, wanted.stream);
	const script = wanted.script?.(random.fork('script'), glove) ?? anyWork(random.fork('script'), glove);
	const spec: SimulationSpec = {
		seed: random.bits(),
		durationSeconds: random.uniform(...(wanted.seconds ?? [25, 45])),
		glove,
		stream,
		link,
		script,
		faults: wanted.faults ?? [],
		start: random.pick(['mid-line', 'clean', 'clean', 'boot'] as const),
		declared: declare(random, glove, stream),
	};
	return {name, spec, truth: truthOf(spec)};
}
