import {describe, expect, test} from 'vitest';
import {ClockWatch} from '../../../source/features/link/clock-watch.ts';

type Row = readonly [title: string, values: readonly number[], answers: string, seconds: number];

/** r runs, o odd, s started again. Clocks in milliseconds; the limits are those of the class: 10 s, 1 s, 50 and 200 steps. */
const rows: readonly Row[] = [
	['counts on', [0, 10, 20], 'rrr', 0.02],
	['stands still for a frame', [10, 20, 20, 30], 'rrrr', 0.03],
	['what is no number leaves the time as it was', [10, 20, Number.NaN, Number.POSITIVE_INFINITY], 'rroo', 0.02],
	['a fall to near zero that goes on is a start, and time goes on', [60_000, 60_010, 5, 15], 'rros', 60.025],
	['a fall that goes on a second later still is one', [60_000, 60_010, 5, 1005], 'rros', 61.015],
	['a fall that goes on later than that is none', [60_000, 60_010, 5, 1006], 'rroo', 60.01],
	['of steps of a tenth of a second fifty on is still one', [60_000, 60_100, 5, 5005], 'rros', 65.105],
	['of such steps more than fifty on is none', [60_000, 60_100, 5, 5006], 'rroo', 60.1],
	['a fall that stands still is none', [60_000, 60_010, 5, 5], 'rroo', 60.01],
	['a fall that falls farther is none', [60_000, 60_010, 5, 4], 'rroo', 60.01],
	[
		'a fall to less than a quarter is a start, how far from zero it is',
		[100_000, 100_010, 20_000, 20_010],
		'rros',
		120.02,
	],
	['a fall to a third is none', [100_000, 100_010, 33_000, 33_010], 'rroo', 100.01],
	['a fall to near zero is one also where it is no quarter', [20_000, 20_010, 9000, 9010], 'rros', 29.02],
	['a damaged number between two good ones is forgotten', [60_000, 60_010, 600, 60_020], 'rror', 60.02],
	['after a damaged number the next fall is judged afresh', [60_000, 60_010, 600, 60_020, 5, 15], 'rroros', 60.035],
	['a leap that the next value does not confirm is forgotten', [0, 10, 20, 9999, 30], 'rrror', 0.03],
	['a leap that the next value confirms is taken', [0, 10, 20, 9999, 10_009], 'rrror', 10.009],
	['a leap is confirmed fifty steps on', [0, 10, 20, 9999, 10_499], 'rrror', 10.499],
	['a leap is not confirmed farther on than that', [0, 10, 20, 9999, 10_500], 'rrroo', 0.02],
	['a leap is not confirmed by the same value', [0, 10, 20, 9999, 9999], 'rrroo', 0.02],
	['each leap has to be confirmed by the next value', [0, 10, 20, 9999, 50_000, 50_010], 'rrroor', 50.01],
	['a leap that was forgotten confirms nothing', [0, 10, 20, 9999, 30, 10_000], 'rrroro', 0.03],
	['a leap of many steps within a second is none', [0, 1, 2, 1002], 'rrrr', 1.002],
	['a leap of many steps in more than a second is one', [0, 1, 2, 1003], 'rrro', 0.002],
	['two hundred steps are no leap', [0, 10, 20, 2020], 'rrrr', 2.02],
	['more than two hundred steps are one', [0, 10, 20, 2021], 'rrro', 0.02],
	['a step is the latest one forward', [0, 10, 10, 20, 2021], 'rrrro', 0.02],
	['a confirmed leap is no step', [0, 10, 20, 9999, 10_009, 12_020], 'rrroro', 10.009],
	// (4 − 65530) mod 2¹⁶ = 10
	['sixteen bits wrap', [65_530, 4, 14], 'rrr', 65.55],
	['sixteen bits wrap again', [65_530, 4, 65_530, 14], 'rrrr', 131.086],
	['what falls far short of the top does not wrap', [62_000, 4], 'ro', 62],
	['what lands far above zero does not wrap', [65_530, 3300], 'ro', 65.53],
	['a larger clock does not wrap at sixteen bits', [65_536, 4], 'ro', 65.536],
];

const short = {runs: 'r', odd: 'o', restart: 's'};

describe('board clock', () => {
	test.each(rows)('%s', (_title, values, answers, seconds) => {
		const clock = new ClockWatch(0.001);
		expect(values.map(value => short[clock.take(value)]).join('')).toBe(answers);
		expect(clock.seconds).toBeCloseTo(seconds, 9);
	});

	test('takes what comes after its unit is known in that', () => {
		const clock = new ClockWatch(0.001);
		clock.take(1_000_000);
		expect(clock.seconds).toBeCloseTo(1000, 9);
		clock.setUnit(1e-6);
		clock.take(1_000_100);
		expect(clock.seconds).toBeCloseTo(1.0001, 9);
	});
});
