import {describe, expect, test} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';
import {Random} from '../../source/simulator/random.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {healthyCases, randomHealthy} from './healthy.ts';
import {randomScenario, type Scenario, scenarioCodes} from './scenario.ts';

function key(scenario: Scenario): string {
	const {glove, stream} = scenario.spec;
	return [glove.board.family, glove.fingers.length, glove.firmware.kind, stream.framing, stream.separator].join();
}

describe('randomScenario', () => {
	test('draws for every code a fault that a diagnosis must name', () => {
		for (const code of scenarioCodes) {
			for (let seed = 1; seed <= 5; seed++) {
				const {truth} = randomScenario(new Random(seed), {code});
				expect(truth.faults[0]).toMatchObject({code, expect: 'must'});
			}
		}
	});

	test('with a severity of −1 draws the healthy side of the limit', () => {
		for (const code of scenarioCodes) {
			const {truth} = randomScenario(new Random(3), {code, severity: -1});
			expect(truth.faults[0]).toMatchObject({code, expect: 'must-not'});
		}
	});

	test('draws gloves, boards and formats of many kinds', () => {
		const kinds = new Set(Array.from({length: 120}, (_, seed) => key(randomScenario(new Random(seed)))));
		expect(kinds.size).toBeGreaterThan(50);
	});

	test('runs every code to its end', () => {
		for (const code of scenarioCodes) {
			const {spec} = randomScenario(new Random(16), {code});
			const {items, truth} = simulate({...spec, durationSeconds: 16});
			expect(truth.faults.length).toBeGreaterThan(0);
			if (code !== 'silent') expect(items.length).toBeGreaterThan(20);
		}
	});
});

describe('randomHealthy', () => {
	test('covers boards from 8 to 16 bits, rates from 20 to 1000, and three to ten fingers', () => {
		const drawn = Object.keys(healthyCases).map(name => randomHealthy(new Random(5), name).spec);
		expect(new Set(drawn.map(({glove}) => glove.board.adcBits))).toEqual(new Set([8, 10, 12, 14, 16]));
		expect(new Set(drawn.map(({glove}) => glove.fingers.length))).toEqual(new Set([3, 4, 5, 10]));
		expect(Math.min(...drawn.map(({stream}) => stream.rate))).toBe(20);
		expect(Math.max(...drawn.map(({stream}) => stream.rate))).toBe(1000);
	});

	test('no healthy stream is slow, uneven or near the line’s limit', () => {
		for (const [i, name] of Object.keys(healthyCases).entries()) {
			const {spec, truth} = randomHealthy(new Random(100 + i), name);
			const {items} = simulate({...spec, start: 'mid-line', durationSeconds: 8});
			const times: number[] = [];
			let bad = 0;
			const nothing = (): void => undefined;
			const framer = new Framer(
				{layout: nothing, frame: t => void times.push(t), badLine: () => void bad++, strayLine: nothing},
				truth.declared.layout ? {layout: truth.declared.layout} : {},
			);
			let bytes = 0;
			for (const item of items) {
				if (!('bytes' in item)) continue;
				bytes += item.bytes.length;
				framer.push(item.t, item.bytes);
			}
			framer.end(8);
			const seconds = times[times.length - 1] - times[0];
			const gaps = times.slice(1).map((t, n) => t - times[n]);
			const spacing = [...gaps].sort((a, b) => a - b)[gaps.length >> 1];
			// Must not: mean |D| above 12 % of the median interval, load above 75 %, fewer frames than the target.
			const late = gaps.filter(gap => gap < 0.4).reduce((sum, gap) => sum + Math.abs(gap - spacing), 0) / gaps.length;
			expect({name, jitter: late / spacing <= 0.12}).toEqual({name, jitter: true});
			expect(times.length / seconds).toBeGreaterThan(truth.declared.targetRate ?? 45);
			if (spec.link.baud !== null) expect((bytes * 10) / spec.link.baud / 8).toBeLessThan(0.75);
			// Bytes before the layout is settled and the first cut line are no loss.
			if (!name.includes('merged')) expect(bad).toBeLessThanOrEqual(1);
		}
	});
});
