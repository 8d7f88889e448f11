import {type SimulationSpec, simulate, type Truth, truthOf} from '../../source/simulator/simulate.ts';
import {simulationFromOptions} from '../../source/simulator/simulation-from-options.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {learnRanges} from './learning-firmware.ts';

/** Streams of gloves whose firmware learns each finger's range from power-on. */
export type LearningStream = {readonly items: readonly SourceItem[]; readonly truth: Truth; readonly seconds: number};

export const bitsOf = {10: ['avr', 'avr-noisy'], 12: ['esp32', 'arm-12bit']} as const;

/** Seconds the hand rests before it moves. */
export const rests = [0, 1, 3] as const;

/** Every kind of healthy one: what the converter gives, and how long the hand rests first. */
export const learningKinds = ([10, 12] as const).flatMap(bits => rests.map(rest => ({bits, rest})));

/** Names of the fingers that learn, in scan order. */
export const learners = ['thumb', 'index', 'middle', 'ring', 'little'];

const fingers = [0, 1, 2, 3, 4];

function specOf(
	seed: number,
	bits: 10 | 12,
	rest: number,
	seconds: number,
	more: {fault?: string[]; firmware?: string},
): SimulationSpec {
	const first = rest > 0 ? `rest ${rest}s, ` : '';
	return simulationFromOptions({
		seed,
		board: bitsOf[bits][seed % 2],
		rate: 60,
		for: seconds,
		script: `${first}fist 6x, each 1x, rest 3s, fist 4x, index 2x, posture 6s, fist 3x`,
		...more,
	});
}

/** A healthy one: an ordinary glove's readings, stretched afterwards by what the fingers have sent so far. */
export function healthyLearning(seed: number, bits: 10 | 12, rest: number, seconds = 40): LearningStream {
	const {items, truth} = simulate(specOf(seed, bits, rest, seconds, {}));
	return {items: learnRanges(items, {columns: fingers, fullScale: 2 ** bits - 1}), truth, seconds};
}

/** When a fault begins: every finger has made its first fists and moved alone, so that its range has long been learned. */
const onset = 35;

/** The faults that come after the end of learning, as `--fault` takes them. */
export const laterFaults = ['dropout', 'floating-input/wander', 'floating-input/hum', 'reversed-sensor'] as const;

const severities = [0.2, 0.5, 0.8];

/**
 * The n-th glove with a fault that begins after the end of learning, as the simulator's own learning firmware sends it:
 * finger, severity, converter and seconds of rest go through all that there are. Undefined where that fault need not be found.
 */
export function faultyLearning(
	fault: string,
	firstSeed: number,
	n: number,
	seconds = 90,
): (LearningStream & {readonly told: string}) | undefined {
	const seed = firstSeed + n;
	const bits = n % 2 === 0 ? 10 : 12;
	const rest = rests[Math.floor(n / 3) % rests.length];
	const text = `${fault}:${learners[n % learners.length]}@${onset}s*${severities[n % severities.length]}`;
	const spec = specOf(seed, bits, rest, seconds, {fault: [text], firmware: 'learns'});
	if (truthOf(spec).faults[0].expect !== 'must') return undefined;
	return {...simulate(spec), seconds, told: `${text}, ${bits} bit, ${rest} s of rest first, seed ${seed}`};
}
