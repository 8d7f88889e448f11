import {describe, expect, test} from 'vitest';
import {chanceOfGrid, type Rounding, roundings, smallestGrid} from '../../source/features/learned-grid.ts';

function grid(values: readonly number[], rounding: Rounding, least = 1, fullScale = 1023): number {
	return smallestGrid(Float64Array.from(values), values.length, fullScale, rounding, least);
}

/** What firmware makes of 0…d raw counts of 1023. */
const made: Record<Rounding, (k: number, d: number) => number> = {
	down: (k, d) => Math.floor((k * 1023) / d),
	up: (k, d) => 1023 - Math.floor((k * 1023) / d),
	nearest: (k, d) => Math.round((k * 1023) / d),
};

describe('smallestGrid', () => {
	test('finds how many raw counts a learned range holds, however the firmware rounds', () => {
		for (const rounding of roundings) {
			for (const d of [2, 3, 7, 40, 128, 435]) {
				const values = Array.from({length: Math.min(60, d - 1)}, (_, i) =>
					made[rounding](((i * i * 7 + 3 * i) % (d - 1)) + 1, d),
				);
				expect(grid(values, rounding), `${rounding} ${d}`).toBe(d);
			}
		}
	});

	test('allows one number per grid point: 341 and 682 are thirds of 1023, 340 and 683 are not', () => {
		// 1023/3 is 341 and 2·1023/3 is 682, under every rounding.
		for (const rounding of roundings) expect(grid([341, 682], rounding)).toBe(3);
		for (const rounding of roundings) expect(grid([340, 683], rounding)).toBeGreaterThan(128);
	});

	test('neighbouring counts of a resting raw channel need as many steps as there are counts', () => {
		// Two steps at most hold two neighbours only where they lie less than two counts apart: d > 1023/2.
		for (const rounding of roundings) expect(grid([153, 154, 155], rounding)).toBeGreaterThan(511);
	});

	test('does not look below what is known already', () => {
		// 341 lies on the grids of 3, 6, 9 … steps.
		expect(grid([341], 'down', 4)).toBe(6);
	});
});

describe('chanceOfGrid', () => {
	test('one number in a thousand lies on a given grid of one step: three roundings of 1, 2 and 3 steps', () => {
		expect(chanceOfGrid(1, 3, 1023)).toBeCloseTo((3 * (1 + 2 + 3)) / 1023, 12);
		expect(chanceOfGrid(2, 3, 1023)).toBeCloseTo((3 * (1 + 4 + 9)) / 1023 ** 2, 12);
		expect(chanceOfGrid(0, 1, 1023)).toBe(1);
	});

	test('is about what random numbers show', () => {
		// Four random numbers on a grid of at most 100 steps; counted with a generator of its own.
		let state = 1;
		const random = (): number => {
			state = (Math.imul(state, 1103515245) + 12345) >>> 0;
			return Math.floor((state / 2 ** 32) * 1022) + 1;
		};
		let fitting = 0;
		for (let n = 0; n < 4000; n++) {
			const values = [random(), random(), random(), random()];
			if (roundings.some(rounding => grid(values, rounding) <= 100)) fitting++;
		}
		const chance = chanceOfGrid(4, 100, 1023);
		expect(fitting / 4000).toBeLessThan(2 * chance);
		expect(fitting / 4000).toBeGreaterThan(chance / 2);
	});
});
