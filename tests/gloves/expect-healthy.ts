import {describe, expect, it} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {healthyCases, randomHealthy} from './healthy.ts';
import {sessionOf} from './simulated-session.ts';

// Gloves with nothing wrong that a careless detector may think so of: rest, one finger, tapping, tremor, followers, short
// thumbs, scaling and filtering firmware, any number of fingers, bits and frames. A finding here is a false alarm.

const longestSeconds = 30;

/** Tests that gloves drawn with a seed of those cases whose place in the list is told have no finding. */
export function expectHealthy(seed: number, isAsked: (place: number) => boolean): void {
	describe('a healthy glove gives no finding', () => {
		it.each(Object.keys(healthyCases).filter((_, place) => isAsked(place)))(`%s (glove ${seed})`, name => {
			const {spec} = randomHealthy(new Random(seed), name);
			const session = sessionOf(simulate({...spec, durationSeconds: Math.min(longestSeconds, spec.durationSeconds)}));
			expect(session.findings.map(({code, channel, summary}) => `${code} on ${channel}: ${summary}`)).toEqual([]);
			expect(session.link.frames).toBeGreaterThan(100);
		});
	});
}
