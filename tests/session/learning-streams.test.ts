import {describe, expect, test} from 'vitest';
import {faultyTrials, healthyTrials} from '../accuracy/learning-trial.ts';
import {laterFaults, learningKinds} from '../gloves/learning-streams.ts';

// A fixed share; 200 of each healthy kind and 40 of each fault are measured by `npm run accuracy -- --learning`.

const healthySeeds = {first: 41_000, count: 8};

describe('a glove whose firmware learns each range from power-on has no finding', () => {
	test.each(learningKinds)('$bits bit, $rest s of rest first', kind => {
		for (const {seed, findings, learnedUntil} of healthyTrials(kind, healthySeeds.first, healthySeeds.count, 25)) {
			expect({seed, findings}).toEqual({seed, findings: []});
			// Of a hand that moves from the first reading on one may not be told from others.
			if (kind.rest > 0) expect(learnedUntil, `seed ${seed}`).not.toContain(null);
			for (const end of learnedUntil) if (end !== null) expect(end).toBeLessThan(kind.rest + 20);
		}
	});
});

const faultySeeds = {first: 41_000, count: 4};

/** A fault that begins at 35 s is told by then. */
const seconds = 65;

describe('a fault that begins after the end of learning is found on its channel', () => {
	test.each(laterFaults)('%s', fault => {
		const trials = [...faultyTrials(fault, faultySeeds.first, faultySeeds.count, seconds)];
		expect(trials.length).toBeGreaterThan(0);
		for (const {told, isFound, wasLearned} of trials)
			expect({told, isFound, wasLearned}).toEqual({told, isFound: true, wasLearned: true});
	});
});
