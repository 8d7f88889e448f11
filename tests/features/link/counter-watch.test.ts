import {describe, expect, test} from 'vitest';
import {arrivalLength, counterNow, pauseBefore} from '../../../source/features/link/arrivals.ts';
import {ClockWatch} from '../../../source/features/link/clock-watch.ts';
import {CounterWatch} from '../../../source/features/link/counter-watch.ts';

function lostOver(values: readonly number[]): {lost: number; restarts: number} {
	const watch = new CounterWatch();
	const frame = new Float64Array(arrivalLength);
	let lost = 0;
	let restarts = 0;
	for (const value of values) {
		frame[counterNow] = value;
		frame[pauseBefore] = value < 5 ? 60 : 1;
		const step = watch.take(frame);
		if (step.kind === 'restart') restarts++;
		else lost += step.lost;
	}
	return {lost, restarts};
}

describe('frame counter', () => {
	test('an 8-bit counter that goes from 250 to 3 lost 8 frames', () => {
		// (3 − 250 − 1) mod 256
		expect(lostOver([249, 250, 3])).toEqual({lost: 8, restarts: 0});
	});

	test('a clean wrap loses nothing', () => {
		expect(lostOver([254, 255, 0, 1])).toEqual({lost: 0, restarts: 0});
		expect(lostOver([65_534, 65_535, 0])).toEqual({lost: 0, restarts: 0});
	});

	test('a fall to near zero in mid-count is a restart', () => {
		expect(lostOver([811, 812, 0, 1])).toEqual({lost: 0, restarts: 1});
	});

	test('a damaged number is no restart and loses nothing', () => {
		expect(lostOver([1522, 1523, 152, 1525, 1526])).toEqual({lost: 0, restarts: 0});
	});

	test('skips are counted', () => {
		expect(lostOver([1, 2, 5, 6, 8])).toEqual({lost: 3, restarts: 0});
	});
});

describe('board clock', () => {
	test('runs on across the 32-bit wrap', () => {
		// (4 − 4294967290) mod 2³² = 10
		const clock = new ClockWatch(0.001);
		clock.take(4_294_967_290);
		const before = clock.seconds;
		expect(clock.take(4)).toBe('runs');
		expect(clock.seconds - before).toBeCloseTo(0.01, 9);
	});

	test('falling to near zero is a restart, and time still does not run back', () => {
		const clock = new ClockWatch(0.001);
		clock.take(52_310);
		const before = clock.seconds;
		// One small value may be a damaged number; the next one tells.
		expect(clock.take(120)).toBe('odd');
		expect(clock.take(130)).toBe('restart');
		expect(clock.seconds).toBeGreaterThanOrEqual(before);
	});
});
