import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {StateBlock} from '../../source/features/state-block.ts';
import {Trips} from '../../source/features/trips.ts';
import {type Course, fists, readings, sum, through} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';
import {plainTrips} from './plain-reading.ts';
import {runsOf} from './run-of.ts';

// Check-values D2, trip: one way of one channel from one turning point to the next, counted from 10 rest noises and 20 % of its
// own span as known then; past trips are not counted anew when the span grows.

/** Trips of at least `least` counts in readings a second apart, in blocks of `length`. */
function walk(values: readonly number[], least: number, length = 3): Trips {
	const trips = new Trips(1, new StateBlock());
	for (const run of runsOf(values, length)) trips.take(0, run, least, 1, 1);
	return trips;
}

function waysOf(trips: Trips): number[] {
	return Array.from({length: trips.count[0]}, (_, number) => trips.way[trips.at(0, number)]);
}

describe('trips', () => {
	// Bottom 100 (frame 0), top 500 (2), bottom 90 (5), top 510 (7); the last way down is 210 long so far.
	const thereAndBack = [100, 300, 500, 480, 200, 90, 300, 510, 300];

	it('go from turning point to turning point', () => {
		const trips = walk(thereAndBack, 150);
		expect(waysOf(trips)).toEqual([400, -410, 420, -210]);
		expect([...trips.startFrame.slice(0, 4)]).toEqual([0, 2, 5, 7]);
		expect([...trips.endFrame.slice(0, 4)]).toEqual([2, 5, 7, 8]);
	});

	it('set out with the last reading below a tenth of the way and arrive with the first above nine tenths', () => {
		const trips = walk(thereAndBack, 150);
		// 480 is 20 of 410 counts down; 200 is 300, 90 all of them.
		expect([trips.outFrame[1], trips.inFrame[1]]).toEqual([3, 5]);
		expect([trips.outAt[1], trips.inAt[1]]).toEqual([3, 5]);
	});

	it('are the same however the readings fall into blocks', () => {
		const readings = fc.array(fc.integer({min: 0, max: 100}), {minLength: 3, maxLength: 60});
		fc.assert(
			fc.property(readings, fc.integer({min: 1, max: 20}), (values, length) => {
				expect(waysOf(walk(values, 30, length))).toEqual(waysOf(walk(values, 30, values.length)));
			}),
		);
	});

	it('are those of a plain reading of the whole', () => {
		fc.assert(
			fc.property(fc.array(fc.integer({min: 0, max: 100}), {minLength: 3, maxLength: 60}), values => {
				expect(waysOf(walk(values, 30, 7))).toEqual(plainTrips(values, 0, 30).map(({way}) => way));
			}),
		);
	});

	it('are none in noise that never comes back by the least way', () => {
		expect(waysOf(walk([100, 140, 95, 150, 101, 149], 60))).toEqual([]);
	});

	it('stay counted when the least way grows later', () => {
		const trips = new Trips(1, new StateBlock());
		let least = 50;
		for (const run of runsOf([100, 160, 100, 160, 100, 400, 100, 190, 100, 400], 5)) {
			trips.take(0, run, least, 1, 1);
			// From now on 200 counts: the 90 up and down again are no trip, and no turn.
			least = 200;
		}
		expect(waysOf(trips)).toEqual([60, -60, 60, -60, 300, -300, 300]);
	});

	it('settle 0.3 s after they hardly grow, and unsettle when they go on', () => {
		const trips = new Trips(1, new StateBlock());
		const seen: number[] = [];
		for (const run of runsOf([0, 0, 300, 310, 310, 500, 510], 1)) {
			trips.take(0, run, 100, 1, 1);
			seen.push(trips.count[0] === 0 ? -1 : trips.settled[0]);
		}
		// 310 is less than a twentieth beyond 300; 500 is far beyond.
		expect(seen).toEqual([-1, -1, 0, 1, 1, 0, 1]);
		expect(trips.way[0]).toBe(510);
	});

	it('count as changed whenever one begins, settles or goes on after all, and never back to a number that was', () => {
		const trips = new Trips(1, new StateBlock());
		let before = '';
		const numbers: number[] = [0];
		for (const run of runsOf([0, 0, 300, 310, 310, 500, 510, 510, 100, 90, 90, 90, 20, 20, 20], 1)) {
			trips.take(0, run, 100, 1, 1);
			const now = `${trips.count[0]} ${trips.settled.slice(0, trips.count[0]).join('')}`;
			if (now === before) continue;
			before = now;
			expect(trips.changes[0]).toBeGreaterThanOrEqual(Math.max(...numbers));
			numbers.push(trips.changes[0]);
		}
		expect(new Set(numbers).size).toBe(numbers.length - 1);
	});

	it('tell whether a channel was on one between two times, a trip under way until now', () => {
		const values = [0, 0, 0, 300, 600, 600, 600, 600, 300, 300];
		const trips = walk(values, 200, 1);
		// Up from the last reading at 0 (2 s) to the first from 540 on (4 s); down from the last at 600 (7 s) to 8 s.
		const on = (from: number, to: number): boolean => trips.isOnTrip(0, from, to);
		expect([on(0, 1.9), on(0, 2), on(4, 4.5), on(4.5, 6), on(6, 7), on(8.5, 9)]).toEqual([
			false,
			true,
			true,
			false,
			true,
			false,
		]);
		// Before it has settled, from its turning point on and for ever.
		const underWay = walk(values.slice(0, -1), 200, 1);
		expect([underWay.isOnTrip(0, 4.5, 6), underWay.isOnTrip(0, 20, 30)]).toEqual([true, true]);
	});

	it('keep the last 64', () => {
		const values = Array.from({length: 200}, (_, i) => (i % 2 === 0 ? 0 : 100 + i));
		const trips = walk(values, 50, 10);
		expect([trips.count[0], trips.oldest(0)]).toEqual([199, 135]);
		expect(trips.way[trips.at(0, 198)]).toBe(299);
	});
});

/** A fist of `span` % FS, and then ways of these shares of it up and down. */
function waysFrom(span: number, shares: readonly number[]): Course {
	return sum(
		fists({open: 20, closed: 20 + span, times: 1}),
		through(
			...shares.flatMap((share, k): [number, number][] => [
				[4 + 2 * k, 0],
				[4.4 + 2 * k, share * span],
				[5 + 2 * k, share * span],
				[5.4 + 2 * k, 0],
			]),
		),
	);
}

describe('the least way of a trip', () => {
	const tripsOf = (index: Course, noise: number): number =>
		featuresOver({channels: {index}, seconds: 10, noise}).analog.trips.count[0];

	it('is 20 % of the span as known then', () => {
		expect(tripsOf(waysFrom(50, [0.23]), 0.1)).toBe(4);
		expect(tripsOf(waysFrom(50, [0.17]), 0.1)).toBe(2);
	});

	it('is the same share of a span of 5 % FS', () => {
		expect(tripsOf(waysFrom(5, [0.3]), 0)).toBe(4);
		expect(tripsOf(waysFrom(5, [0.15]), 0)).toBe(2);
	});

	it('is 10 rest noises where that is more', () => {
		// 1 % FS rms: 10 % FS, where 20 % of the span would be 6. Tips of noise add some 6 % to a way of 1.
		expect(tripsOf(waysFrom(25, [0.55]), 1)).toBe(4);
		expect(tripsOf(waysFrom(25, [0.04]), 1)).toBe(2);
	});

	it('finds the same trips in a drawn channel as a plain reading', () => {
		const drawing = {channels: {index: waysFrom(50, [0.5, 1, 0.1, 0.3])}, seconds: 14, noise: 0.2};
		const {trips} = featuresOver(drawing).analog;
		const values = readings(drawing).map(([value]) => value);
		const plain = plainTrips(values, 0, 0.2 * (Math.max(...values) - Math.min(...values)));
		const ours = plain.map((_, number) => ({out: trips.outFrame[number], way: trips.way[number]}));
		expect(trips.count[0]).toBe(plain.length);
		expect(ours.slice(1)).toEqual(plain.slice(1).map(({out, way}) => ({out, way})));
	});
});
