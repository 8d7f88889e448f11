import {type SimulationSpec, simulate, type Truth} from '../../source/simulator/simulate.ts';
import {simulationFromOptions} from '../../source/simulator/simulation-from-options.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {learnRanges} from './learning-firmware.ts';

/** Streams of gloves whose firmware learns each finger's range from power-on. */
export type LearningStream = {readonly items: readonly SourceItem[]; readonly truth: Truth; readonly seconds: number};

export const bitsOf = {10: ['avr', 'avr-noisy'], 12: ['esp32', 'arm-12bit']} as const;

/** Seconds the hand rests before it moves. */
export const rests = [0, 1, 3] as const;

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

/** One with a fault from some time on, as the simulator's own learning firmware sends it. */
export function faultyLearning(seed: number, bits: 10 | 12, fault: string, seconds = 90): LearningStream {
	return {...simulate(specOf(seed, bits, 1, seconds, {fault: [fault], firmware: 'learns'})), seconds};
}
