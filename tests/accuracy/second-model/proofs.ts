import type {Must} from '../expectation.ts';
import {type CaseOptions, caseOf, type Drawn} from './case.ts';
import type {Take} from './take.ts';

/** What is known for sure of the states at the end of a session in which nothing is wrong (check-values D2). */
export function statesOf(take: Take): Record<string, readonly string[]> {
	const {plan, glove} = take;
	const states: Record<string, readonly string[]> = {};
	for (const finger of glove.fingers) {
		const ways = plan.ways[finger].filter(t => t < take.seconds).length;
		// There and back twice, and one way more, as logs may begin or end in one. What tells a finger from a ghost is to have
		// gone alone, or often enough together with the one before it to have differed from it.
		if (ways >= (plan.wentAlone.has(finger) ? 5 : 12)) states[finger] = ['proven'];
		else if (!plan.strokes.some(stroke => stroke.finger === finger)) states[finger] = ['waiting'];
	}
	if (glove.stick !== null) {
		for (const axis of ['x', 'y'] as const) {
			const deep = plan.pushes.filter(push => push.axis === axis && push.depth > 0.6);
			const [one, other] = [1, -1].map(side => deep.filter(push => push.side === side).length);
			if (one >= 2 && other >= 2) states[`stick-${axis}`] = ['proven'];
			else if (plan.stick.length === 0) states[`stick-${axis}`] = ['waiting'];
		}
	}
	for (const button of take.buttons.keys()) {
		const presses = plan.presses.filter(press => `button-${press.button}` === button).length;
		if (presses >= 2) states[button] = ['proven'];
		// A column that never changes is no button unless a label says so.
		else if (presses === 0) states[button] = ['waiting', 'spare'];
	}
	return states;
}

/** The verdict on such a session: `pass` where all is proven, `unproven` where something surely is not. */
export function verdictsOf(take: Take, states: Readonly<Record<string, readonly string[]>>): string[] {
	const judged = take.names.map(name => states[name]);
	if (judged.some(state => state?.length === 1 && state[0] === 'waiting')) return ['unproven'];
	return judged.every(state => state?.includes('proven')) ? ['pass'] : ['pass', 'unproven'];
}

/** Writes down a take in which nothing is wrong. */
export function healthyCase(take: Take, options: CaseOptions = {}): Drawn {
	const states = {...statesOf(take), ...options.expect?.states};
	return caseOf(take, {...options, expect: {verdicts: verdictsOf(take, states), ...options.expect, states}});
}

/**
 * Writes down a take with faults. Channels that no fault is named on are judged like those of a healthy glove; what a
 * faulty one should end as is only given where `options` says so.
 */
export function faultyCase(take: Take, musts: readonly Must[], options: CaseOptions = {}): Drawn {
	const hit = new Set(musts.flatMap(({channels}) => (channels === 'any' ? take.names : channels)));
	const others = Object.entries(statesOf(take)).filter(([channel]) => !hit.has(channel));
	return caseOf(take, {
		...options,
		expect: {
			verdicts: ['fail', 'attention'],
			musts,
			...options.expect,
			states: {...Object.fromEntries(others), ...options.expect?.states},
		},
	});
}
