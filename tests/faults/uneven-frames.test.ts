import {expect, test} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {answer, frames, type Heard, type Listening} from '../gloves/heard.ts';

// Check-values D5.4, uneven-frames: RFC 3550 jitter between lines, 95th percentile, 30 % of the median interval; 12 % is silent.
// Lines that lie uniformly within ±a of their times differ in spacing by 2a/3 in the mean (the difference of two uniform
// numbers), 0.47a rms about that; smoothed over 16 (a factor of √31 on the rms) the 95th percentile is 0.667a + 1.645 × 0.085a.

const towards = 0.81;

/** A hundred lines a second whose jitter is `percent` of the interval. */
function uneven(percent: number, seconds = 20): Heard[] {
	const random = new Random(7);
	return frames(0, seconds, 100, () => (random.uniform(-1, 1) * percent) / 100 / 100 / towards).sort(
		(a, b) => a.t - b.t,
	);
}
const clocked = (heard: readonly Heard[], clock: (t: number, n: number) => number): Heard[] =>
	heard.map((what, n) => ({t: what.t, frame: true, clock: clock(what.t, n)}));

const fires: readonly [title: string, heard: readonly Heard[], options?: Listening][] = [
	['a jitter of 33 %', uneven(33), {goesOn: true}],
	['after 760 lines of it', uneven(40, 7.9), {goesOn: true}],
	['in a stream of two seconds that is over', uneven(40, 2.3)],
	['by the clock of the board, which is even', clocked(uneven(40), (_, n) => 10 * n), {columns: ['clock']}],
	[
		'a column that is used as arrival time is not also the clock',
		clocked(uneven(40), t => 1000 * t),
		{columns: ['clock'], timing: 'column'},
	],
	[
		'every sixth line is late by an interval, as a loop that updates a display',
		frames(0, 20, 100, n => (n % 6 === 0 ? 0.0095 : 0)),
	],
	// Intervals of 0, 10, 10, 0 and 30 ms about a median of 10: a mean deviation of 8 ms. No log's stamps, which may be coarse.
	[
		'two in five come at once with the one before, as measured',
		Array.from(
			{length: 2000},
			(_, n): Heard => ({t: (Math.floor(n / 5) * 50 + [0, 0, 10, 20, 20][n % 5]) / 1000, frame: true}),
		),
	],
];

test.each(fires)('is raised: %s', (_, heard, options) => {
	expect(answer('uneven-frames', heard, options).state).toBe('raised');
});

const others: readonly [title: string, heard: readonly Heard[], state: string, options?: Listening][] = [
	['is silent at 12 %', uneven(12), 'clear'],
	['is silent at 27 %', uneven(27), 'clear'],
	[
		'is silent where the board sends unevenly and its clock says so',
		clocked(uneven(40), t => 1000 * t),
		'clear',
		{columns: ['clock']},
	],
	['is silent about one hiccup of 480 ms', [...frames(0, 4, 100), ...frames(4.48, 9, 100)], 'clear', {goesOn: true}],
	[
		'is silent about what a port held back when it was opened',
		[...frames(0, 0.002, 10_000), ...frames(0.01, 9, 100)],
		'clear',
		{goesOn: true},
	],
	['is silent about stalls', Array.from({length: 8}, (_, n) => frames(4 * n, 4 * n + 3, 100)).flat(), 'clear'],
	[
		'is silent about damaged lines, which take their turn',
		frames(0, 20, 100).map((line, n): Heard => (n % 9 === 0 ? {t: line.t, bad: 'short'} : line)),
		'clear',
	],
	['waits for 750 lines', uneven(40, 7.4), 'waiting', {goesOn: true}],
	['waits in a stream of under 200 lines', uneven(40, 1.9), 'waiting'],
	[
		'does not apply where several frames share a stamp',
		frames(0, 20, 20).flatMap(({t}) =>
			frames(t, t, 1).concat([
				{t, frame: true},
				{t, frame: true},
			]),
		),
		'absent',
		{timing: 'column'},
	],
	['does not apply where times are made up', uneven(40), 'absent', {timing: 'assumed'}],
];

test.each(others)('%s', (_, heard, state, options) => {
	expect(answer('uneven-frames', heard, options).state).toBe(state);
});
