import {expect} from 'vitest';
import {healthyTrials} from '../accuracy/learning-trial.ts';
import type {learningKinds} from '../gloves/learning-streams.ts';

const seeds = {first: 41_000, count: 6};

/**
 * Expects no finding on gloves of a kind whose firmware learns each range from power-on, and that it is seen when that is over. A
 * fixed share; 200 of each kind are measured by `npm run accuracy -- --learning`.
 */
export function expectLearnedQuietly(kind: (typeof learningKinds)[number]): void {
	for (const {seed, findings, learnedUntil} of healthyTrials(kind, seeds.first, seeds.count, 25)) {
		expect({seed, findings}).toEqual({seed, findings: []});
		// Of a hand that moves from the first reading on one may not be told from others.
		if (kind.rest > 0) expect(learnedUntil, `seed ${seed}`).not.toContain(null);
		for (const end of learnedUntil) if (end !== null) expect(end).toBeLessThan(kind.rest + 20);
	}
}
