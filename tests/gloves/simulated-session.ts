import {Session} from '../../source/session/session.ts';
import type {SessionOptions} from '../../source/session/session-options.ts';
import {Random} from '../../source/simulator/random.ts';
import {type Simulation, simulate, type Truth} from '../../source/simulator/simulate.ts';
import {randomScenario} from './scenario.ts';

/** The session over all of a simulation, told what would be declared of such a glove. */
export function sessionOf({items, truth}: Simulation, more: Partial<SessionOptions> = {}): Session {
	const {baud, fullScale, layout, targetRate} = truth.declared;
	const session = new Session({
		timing: 'measured',
		baud,
		fullScale,
		...(layout !== null && {layout}),
		...(targetRate !== null && {targetRate}),
		...more,
	});
	for (const item of items) session.push(item);
	session.end(truth.durationSeconds);
	return session;
}

/**
 * A glove drawn with a fault of some severity (0 is the limit of its definition, −1 that of "must not"), there from the first
 * frame on: before one that begins late the glove may be anywhere between the limits.
 */
export function faultySession(code: string, severity: number, seed: number): {session: Session; truth: Truth} {
	const {spec} = randomScenario(new Random(seed), {code, severity});
	const simulation = simulate({...spec, faults: spec.faults?.map(fault => ({...fault, from: 0}))});
	return {session: sessionOf(simulation), truth: simulation.truth};
}
