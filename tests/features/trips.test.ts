import {describe, expect, it} from 'vitest';
import {Trips} from '../../source/features/trips.ts';
import {runsOf} from './run-of.ts';

function walk(readings: readonly number[], threshold: number): Trips {
	const trips = new Trips(1);
	for (const run of runsOf(readings, 3)) trips.take(0, run, threshold, false);
	return trips;
}

describe('turning points', () => {
	it('there and back twice is four turns, each noted where it was reached', () => {
		// Bottom 100 (frame 0), top 500 (2), bottom 90 (5), top 510 (7); the last way down is 210 long so far.
		const trips = walk([100, 300, 500, 480, 200, 90, 300, 510, 300], 150);
		expect(trips.count[0]).toBe(4);
		expect([...trips.values.slice(0, 4)]).toEqual([100, 500, 90, 510]);
		expect([...trips.reachedAt.slice(0, 4)]).toEqual([0, 2, 5, 7]);
		expect([...trips.kinds.slice(0, 4)]).toEqual([-1, 1, -1, 1]);
		expect(trips.longestSince(0, 0)).toBe(420);
	});
	it('with the median of three, a lone reading is no turn', () => {
		const trips = new Trips(1);
		for (const run of runsOf([100, 101, 500, 102, 101, 103, 500, 501, 500], 4)) trips.take(0, run, 150, true);
		expect([...trips.values.slice(0, trips.count[0])]).toEqual([100]);
	});
	it('noise smaller than the threshold makes none', () => {
		expect(walk([100, 140, 95, 150, 101, 149], 60).count[0]).toBe(0);
	});
	it('counts only what was noted since', () => {
		const trips = walk([0, 200, 0, 200, 0], 100);
		expect(trips.turnsSince(0, 3)).toBe(2);
		expect(trips.sinceTurns(0, 2)).toBe(2);
	});
});
