import {describe, expect, test} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {randomScenario} from '../gloves/scenario.ts';

describe('simulate', () => {
	test('gives the same bytes and times for the same spec, and a spec survives JSON', () => {
		for (let seed = 1; seed <= 12; seed++) {
			const spec = {...randomScenario(new Random(seed)).spec, durationSeconds: 8};
			const first = simulate(spec);
			const second = simulate(JSON.parse(JSON.stringify(spec)));
			expect(second.items).toEqual(first.items);
			expect(second.truth).toEqual(first.truth);
		}
	});

	test('times never fall and never pass the end', () => {
		for (let seed = 20; seed < 40; seed++) {
			const spec = {...randomScenario(new Random(seed)).spec, durationSeconds: 10};
			const {items} = simulate(spec);
			for (let i = 1; i < items.length; i++) expect(items[i].t).toBeGreaterThanOrEqual(items[i - 1].t);
			if (items.length > 0) expect(items[items.length - 1].t).toBeLessThanOrEqual(spec.durationSeconds);
		}
	});
});
