import {gatherSource} from '../../source/fit/gather-source.ts';
import {Random} from '../../source/simulator/random.ts';
import {drawGlove} from '../../source/simulator/random-glove.ts';
import {type SimulationSpec, simulate} from '../../source/simulator/simulate.ts';
import {declaredBy, simulation} from '../fit/simulated.ts';
import {memorySource} from '../gloves/memory-source.ts';

const script = 'rest 2s, fist 5x, each 1x, stick around 2x, stick sides 1x, press 2x, rest 1s';

/** The theatre's glove: quiet board, clear of the rails. */
export function theatreGlove() {
	return drawGlove(new Random(12), {
		board: 'avr',
		fingerCount: 5,
		stick: true,
		buttonCount: 2,
		firmware: 'raw',
		clearance: 0.05,
		span: [0.5, 0.6],
	});
}

/** One session with it. */
export async function session(changes: Partial<SimulationSpec> & {rate?: number; words?: string} = {}) {
	const {words = script, glove = theatreGlove(), ...rest} = changes;
	const {items, truth} = simulate(simulation(12, glove, words, {durationSeconds: 45, ...rest}));
	return gatherSource(memorySource(items, {name: 'fox.gbrec', kind: 'recording'}), {session: declaredBy(truth)});
}
