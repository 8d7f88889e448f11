import {describe, expect, test} from 'vitest';
import {healthyTrials} from '../accuracy/learning-trial.ts';
import {learningKinds} from '../gloves/learning-streams.ts';

// A fixed share; 200 of each healthy kind and 40 of each fault are measured by `npm run accuracy -- --learning`.

const healthySeeds = {first: 41_000, count: 6};

describe('a glove whose firmware learns each range from power-on has no finding', () => {
	test.each(learningKinds.filter(({bits}) => bits === 12))('$bits bit, $rest s of rest first', kind => {
		for (const {seed, findings, learnedUntil} of healthyTrials(kind, healthySeeds.first, healthySeeds.count, 25)) {
			expect({seed, findings}).toEqual({seed, findings: []});
			// Of a hand that moves from the first reading on one may not be told from others.
			if (kind.rest > 0) expect(learnedUntil, `seed ${seed}`).not.toContain(null);
			for (const end of learnedUntil) if (end !== null) expect(end).toBeLessThan(kind.rest + 20);
		}
	});
});
