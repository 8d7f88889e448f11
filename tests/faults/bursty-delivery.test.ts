import {expect, test} from 'vitest';
import {answer, frames, type Heard, type Listening, spread} from '../gloves/heard.ts';

// Check-values D5.4, bursty-delivery: 60 % of the frames in groups of three and more, spaced by less than a tenth of the mean.

/** Every 100 ms a clump of `size` frames 0.4 ms apart, and `alone` frames evenly between. */
const clumps = (seconds: number, size: number, alone: number): Heard[] =>
	frames(0, seconds, 10).flatMap(({t}) => [
		...frames(t, t + size * 0.0004, 2500),
		...frames(t + 0.1 / (alone + 1), t + 0.1, (alone + 1) / 0.1).slice(0, alone),
	]);

const fires: readonly [title: string, heard: readonly Heard[], options?: Listening][] = [
	['all frames in clumps of five', clumps(5, 5, 0)],
	['five in a clump, three between: 62 %', clumps(5, 5, 3)],
	['radio: twenty-five every half second', frames(0, 10, 2).flatMap(({t}) => frames(t, t + 0.025, 1000))],
	[
		'three clumps and sixty frames are enough',
		frames(0, 0.55, 10)
			.slice(0, 3)
			.flatMap(({t}) => frames(t, t + 0.0021, 10_000)),
	],
];

test.each(fires)('is raised: %s', (_, heard, options) => {
	expect(answer('bursty-delivery', heard, options).state).toBe('raised');
});

const others: readonly [title: string, heard: readonly Heard[], state: string, options?: Listening][] = [
	['is silent where five in nine come in clumps: 56 %', clumps(5, 5, 4), 'clear'],
	['is silent about pairs', clumps(5, 2, 0), 'clear'],
	['is silent at even spacing', frames(0, 5, 100), 'clear'],
	[
		'is silent at spacing that jitters by 70 %',
		frames(0, 10, 100, n => 0.007 * spread(n)).sort((a, b) => a.t - b.t),
		'clear',
	],
	[
		'is silent about a host that hung for two seconds once',
		[...frames(0, 4, 100), ...frames(6, 6.02, 10_000), ...frames(6.03, 10, 100)],
		'clear',
	],
	['is silent at two clumps', [...frames(0, 0.02, 2000), ...frames(1, 1.02, 2000)], 'clear'],
	['waits for sixty frames', clumps(1, 5, 0), 'waiting'],
	['does not apply where times are made up', clumps(5, 5, 0), 'absent', {timing: 'assumed'}],
];

test.each(others)('%s', (_, heard, state, options) => {
	expect(answer('bursty-delivery', heard, options).state).toBe(state);
});
