import {type BringUpRun, type RunBringUpOptions, runBringUp} from '../../source/bringup/run-bring-up.ts';
import {type Simulation, type SimulationSpec, simulate} from '../../source/simulator/simulate.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {memorySource} from '../gloves/memory-source.ts';
import {bringUpSample, type SampleFaults} from '../gloves/sample-script.ts';

const made = new Map<string, Simulation>();

/** A simulated routine; the same one is made once only. */
export function sampleSimulation(seed: number, faults: SampleFaults = {}): Simulation {
	const key = JSON.stringify([seed, faults]);
	const found = made.get(key) ?? simulate(bringUpSample(seed, faults));
	made.set(key, found);
	return found;
}

/** The same with changes of the simulation. */
export function changedSimulation(seed: number, changes: Partial<SimulationSpec>): Simulation {
	return simulate({...bringUpSample(seed), ...changes});
}

/** Runs the routine over items, as over a recording. */
export function runItems(
	items: readonly SourceItem[],
	options: Partial<RunBringUpOptions> = {},
): Promise<BringUpRun & {result: NonNullable<BringUpRun['result']>; bringUp: NonNullable<BringUpRun['bringUp']>}> {
	const source = memorySource(items, {name: 'routine.gbrec', kind: 'recording'}, 64);
	const run = runBringUp(source, {isPrompted: false, session: {fullScale: 1023}, ...options});
	return run as ReturnType<typeof runItems>;
}

const ran = new Map<string, ReturnType<typeof runItems>>();

/** The routine over a simulated one; the same one is run once only. Nobody may change what it comes to. */
export function sampleRun(
	seed: number,
	faults: SampleFaults = {},
	options: {readonly isPrompted?: boolean} = {},
): ReturnType<typeof runItems> {
	const key = JSON.stringify([seed, faults, options]);
	const found = ran.get(key) ?? runItems(sampleSimulation(seed, faults).items, options);
	ran.set(key, found);
	return found;
}
