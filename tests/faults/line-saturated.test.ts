import {expect, test} from 'vitest';
import {answer, frames, type Heard, type Listening} from '../gloves/heard.ts';

// Check-values D5.4, line-saturated: 92 % of what the line carries; 75 % is silent.

/** Lines that fill `percent` of a line at 9600 baud, 960 bytes a second, over some seconds. */
const full = (percent: number, seconds = 8): Heard[] =>
	frames(0, seconds, 24).map(({t}) => ({t, frame: true, bytes: (percent / 100) * 40}));
const slow: Listening = {baud: 9600};

const fires: readonly [title: string, heard: readonly Heard[]][] = [
	['92.5 %', full(92.5)],
	['100 %', full(100)],
	['after five and a half seconds', full(100, 5.5)],
];

test.each(fires)('is raised: %s', (_, heard) => {
	expect(answer('line-saturated', heard, {...slow, goesOn: true}).state).toBe('raised');
});

const others: readonly [title: string, heard: readonly Heard[], state: string, options?: Listening][] = [
	['is silent at 75 %', full(75), 'clear'],
	['is silent at 87.5 %', full(87.5), 'clear'],
	['is silent at 1.3 times what a line can carry', full(130), 'clear'],
	['is silent at twice what a line can carry: it is none', full(200), 'clear'],
	[
		'is silent where a second was half empty and what was held back came at once',
		full(100).map(what =>
			what.t >= 5 && what.t < 6 ? {...what, bytes: 20} : what.t >= 6 && what.t < 7 ? {...what, bytes: 60} : what,
		),
		'clear',
	],
	['waits for five seconds', full(100, 4.5), 'waiting'],
	['does not apply where the speed of the line is not known', full(100), 'absent', {baud: null}],
	['does not apply where times are made up', full(100), 'absent', {timing: 'assumed'}],
];

test.each(others)('%s', (_, heard, state, options) => {
	expect(answer('line-saturated', heard, {...slow, goesOn: true, ...options}).state).toBe(state);
});
