import {expect, test} from 'vitest';
import {answer, frames, type Heard, type Listening} from '../gloves/heard.ts';

// Check-values D5.4, stall: a gap of 0.5 s and ten median intervals, where the median is 60 ms or less; five medians are silent.

/** Frames at `rate`, nothing for `gap` seconds, frames again. */
const stopped = (rate: number, gap: number, before = 3): Heard[] => {
	const first = frames(0, before, rate);
	const last = first[first.length - 1].t;
	return [...first, ...frames(last + gap, last + gap + 2, rate)];
};

const fires: readonly [title: string, heard: readonly Heard[], options?: Listening][] = [
	['0.52 s at 100 frames a second', stopped(100, 0.52)],
	['0.65 s at 17 a second: eleven intervals of 59 ms', stopped(17, 0.65)],
	['ten seconds', stopped(100, 10)],
	[
		'several frames on one stamp, then a second of nothing',
		[...frames(0, 3, 20), ...frames(0, 3, 20)]
			.sort((a, b) => a.t - b.t)
			.concat(stopped(100, 1).map(what => ({...what, t: what.t + 3}))),
		{timing: 'column'},
	],
	['the counter did not go on meanwhile', counted(0), {columns: ['counter']}],
	['after a quarter second of frames', [...frames(0, 0.25, 100), ...frames(1, 1.01, 100)]],
];

test.each(fires)('is raised: %s', (_, heard, options) => {
	expect(answer('stall', heard, options).state).toBe('raised');
});

const others: readonly [title: string, heard: readonly Heard[], state: string, options?: Listening][] = [
	['is silent at 0.48 s', stopped(100, 0.48), 'clear'],
	['is silent at nine intervals', stopped(17, 0.53), 'clear'],
	['is silent where frames come every 62 ms', stopped(16.1, 5), 'clear'],
	['is silent where the counter tells that they were sent and lost', counted(60), 'clear', {columns: ['counter']}],
	[
		'is silent about the time in which the port was gone',
		[...frames(0, 3, 100), {t: 3.1, event: 'port-lost'}, {t: 8, event: 'reattached'}, ...frames(9, 12, 100)],
		'clear',
	],
	['is silent as long as the stream has not gone on', frames(0, 3, 100), 'clear', {until: 7}],
	['waits for twenty intervals', frames(0, 0.15, 100), 'waiting'],
	['does not apply where times are made up', stopped(100, 2), 'absent', {timing: 'assumed'}],
];

test.each(others)('%s', (_, heard, state, options) => {
	expect(answer('stall', heard, options).state).toBe(state);
});

test('has both its ends, and is flagged when the stream goes on', () => {
	expect(answer('stall', stopped(100, 1.5)).sign).toMatchObject({
		from: 2.99,
		to: 4.49,
		flaggedAt: 4.49,
		evidence: {gapSeconds: 1.5, medianIntervalMs: 10},
	});
});

/** A stop of a second at 100 frames a second over which the counter goes on by `more`. */
function counted(more: number): Heard[] {
	return stopped(100, 1).map((what, n) => ({t: what.t, frame: true, counter: 1000 + n + (n >= 300 ? more : 0)}));
}
