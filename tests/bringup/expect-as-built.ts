import {expect} from 'vitest';
import {simulate} from '../../source/simulator/simulate.ts';
import {rowsOf} from '../fit/simulated.ts';
import {bringUpSample} from '../gloves/sample-script.ts';
import {sampleRun, sampleSimulation} from './sample-run.ts';

export const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];

/** Two cords swapped and one reel reversed. */
export const swappedReversed = {swapped: ['index', 'ring'], reversed: ['little']} as const;

/**
 * Expects the routine to find the wiring of a glove that is swapped and reversed. Truth: the simulator's. Column order of the
 * stream stays; what moves a column does not. Over any number of gloves: node tests/tools/run.mjs tests/fit/measure.ts
 */
export async function expectOrderFound(seed: number): Promise<void> {
	const {truth} = sampleSimulation(seed, swappedReversed);
	const {result} = await sampleRun(seed, swappedReversed);
	for (const {name, column, isKnown} of result.fingers) {
		expect(isKnown, name).toBe(true);
		expect(truth.columns[column]).toBe(name);
	}

	expect(result.asBuilt.channels.map(({name}) => name)).toEqual(truth.columns);
	expect(result.findings.map(({code, channel}) => `${code} ${channel}`).sort()).toEqual([
		'reversed-sensor little',
		'swapped-channels index',
		'swapped-channels ring',
	]);
	expect(result.reels.map(({direction}) => direction)).toEqual([1, 1, 1, 1, -1]);
	expect(result.verdict).toBe('fail');
}

/**
 * Expects the ranges as built within a hundredth of full scale of the readings really used by the hand. Truth: the same movements
 * with a converter without noise, between the start of the fists and their end.
 */
export async function expectRangesUsed(seed: number): Promise<void> {
	const {truth} = sampleSimulation(seed);
	const {result} = await sampleRun(seed);
	const hand = result.records.find(({id}) => id === 'hand')!;
	const spec = bringUpSample(seed);
	const quiet = {...spec, glove: {...spec.glove, board: {...spec.glove.board, noiseRmsCounts: 0, noiseTail: 0}}};
	const rows = rowsOf(simulate(quiet).items);
	const during = rows.slice(Math.round(100 * hand.from), Math.round(100 * hand.to));
	for (const {name, low, high, column} of result.reels) {
		const readings = during.map(row => row[column]);
		const error = Math.max(Math.abs(low! - Math.min(...readings)), Math.abs(high! - Math.max(...readings)));
		expect(error / truth.outputFullScale, name).toBeLessThan(0.01);
	}
}
