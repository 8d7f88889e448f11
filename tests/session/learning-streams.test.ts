import {describe, expect, test} from 'vitest';
import {Session} from '../../source/session/session.ts';
import {healthyLearning, type LearningStream, rests} from '../gloves/learning-streams.ts';

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];

function sessionOver({items, seconds}: LearningStream): Session {
	const session = new Session({timing: 'measured', baud: 115200});
	for (const item of items) session.push(item);
	session.end(seconds);
	return session;
}

/** 20 seeds in all; 200 are measured by `npm run accuracy -- --learning`. */
const seeds = Array.from({length: 20}, (_, i) => 41_000 + i);

describe('a glove whose firmware learns each range from power-on has no finding', () => {
	for (const bits of [10, 12] as const)
		for (const rest of rests)
			test(`${bits} bit, ${rest === 0 ? 'moving at once' : `${rest} s of rest first`}`, () => {
				for (const seed of seeds) {
					const {findings, channels} = sessionOver(healthyLearning(seed, bits, rest, 25)).snapshot();
					expect({seed, findings: findings.map(({code, channel, from}) => `${code} ${channel} ${from}`)}).toEqual({
						seed,
						findings: [],
					});
					const learned = channels
						.filter(({name}) => fingers.includes(name))
						.filter(({learnedUntil}) => learnedUntil !== null);
					// Of a hand that moves from the first reading on one may not be told from others.
					if (rest > 0) expect(learned.length).toBe(5);
					for (const {learnedUntil} of learned) expect(learnedUntil).toBeLessThan(rest + 20);
				}
			}, 120_000);
});
