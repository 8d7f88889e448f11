import {describe, expect, it} from 'vitest';
import {EndVisits} from '../../source/fit/end-visits.ts';
import {confidenceOfVisits, robustRange} from '../../source/fit/robust-range.ts';
import {minimumJerk} from '../../source/simulator/axis.ts';

/** One reading more; full scale is 1000. */
function push(visits: EndVisits, t: number, reading: number): void {
	visits.take({times: Float64Array.of(t), readings: Float64Array.of(reading), count: 1}, 1000);
}

/** Half a second to each level in turn and as long a stay there, at 100 frames/s. */
function visiting(levels: readonly number[]): EndVisits {
	const visits = new EndVisits();
	let t = 0;
	let from = levels[0];
	for (const to of levels) {
		for (let i = 1; i <= 100; i++) {
			push(visits, t, from + (to - from) * minimumJerk(i / 50));
			t += 0.01;
		}

		from = to;
	}

	return visits;
}

describe('robustRange', () => {
	it('is the farthest readings that a second visit confirms', () => {
		const {low, high} = robustRange(visiting([200, 780, 205, 800, 210, 790, 200]), 0, 1000);
		expect(low).toMatchObject({visits: 4, isAtRail: false});
		expect(low!.level).toBeCloseTo(200, 6);
		expect(high!.visits).toBe(3);
		expect(high!.level).toBeCloseTo(800, 6);
		expect(high!.uncertainty).toBeCloseTo(10, 6);
	});

	it('does not believe a lone visit that came by a jump, however long it lasted', () => {
		const visits = new EndVisits();
		const levels = [200, 800, 200, 800, 200];
		let t = 0;
		const stay = (level: number, seconds: number) => {
			for (let i = 0; i < 100 * seconds; i++) push(visits, (t += 0.01), level);
		};
		for (const [i, level] of levels.entries()) {
			// Slowly enough that no single step is a jump.
			const from = i === 0 ? level : levels[i - 1];
			for (let step = 1; step <= 50; step++) push(visits, (t += 0.01), from + ((level - from) * step) / 50);
			stay(level, 0.3);
		}

		stay(0, 0.5);
		stay(200, 0.3);
		const {low, high} = robustRange(visits, 0, 1000);
		expect(low!.level).toBeCloseTo(200, 6);
		expect(high!.level).toBeCloseTo(800, 6);
	});

	it('believes a lone visit that was come to by a movement and held', () => {
		const {high} = robustRange(visiting([200, 780, 205, 950, 210, 790, 200]), 0, 1000);
		expect(high!.level).toBeCloseTo(950, 6);
		expect(high!.visits).toBe(1);
	});

	// At 30 frames/s a full opening in a quarter of a second steps by more than a fifth of full scale.
	it('believes a lone visit that a fast finger came to, or left, in large steps', () => {
		const visits = new EndVisits();
		let t = 0;
		const move = (...levels: number[]) => {
			for (const level of levels) push(visits, (t += 1 / 30), level);
		};
		const stay = (level: number) => move(...new Array(12).fill(level));
		for (const low of [200, 205, 60, 200]) {
			stay(low);
			// Closes at once, opens the fast way, and brakes before it comes to rest.
			move(low + 300, 700);
			stay(800);
			move(790, 560, 340, 250, 215);
		}

		stay(200);
		const {low} = robustRange(visits, 0, 1000);
		expect(low!.level).toBeCloseTo(60, 6);
		expect(low!.visits).toBe(1);
	});

	it('gives no end that was never reached', () => {
		expect(robustRange(visiting([200, 200, 200]), 0, 1000)).toEqual({low: undefined, high: undefined});
	});

	it('says that an end lies at a rail', () => {
		const {low, high} = robustRange(visiting([300, 1000, 300, 1000, 300]), 0, 1000);
		expect([low!.isAtRail, high!.isAtRail]).toEqual([false, true]);
	});

	// (n + 1) / (n + 2), worked by hand.
	it('is the surer of an end the more visits agree', () => {
		expect([0, 1, 2, 3, 8].map(confidenceOfVisits)).toEqual([0, 2 / 3, 0.75, 0.8, 0.9]);
	});
});
