import {expect, test} from 'vitest';
import {firstClosed} from '../../source/faults/ask.ts';
import {findFault} from '../../source/faults/registry.ts';
import {answer, frames, type Heard, type Listening, listen} from '../gloves/heard.ts';

// Check-values D5.4, silent: 3 s at the start, or 5 s to the end.

const fires: readonly [title: string, heard: readonly Heard[], options: Listening, from: number, flaggedAt: number][] =
	[
		['nothing for three seconds', [], {until: 3}, 0, 3],
		['nothing for an hour, told from the third second on', [], {until: 3600}, 0, 3],
		['a stream that ended five seconds ago', frames(0, 2, 50), {until: 6.98}, 1.98, 6.98],
		[
			'a port that is back and sends nothing',
			[...frames(0, 2, 50), {t: 3, event: 'port-lost'}, {t: 20, event: 'reattached'}],
			{until: 25},
			20,
			25,
		],
	];

test.each(fires)('is raised: %s', (_, heard, options, from, flaggedAt) => {
	const {state, sign} = answer('silent', heard, options);
	expect(state).toBe('raised');
	expect(sign?.from).toBeCloseTo(from, 9);
	expect(sign?.flaggedAt).toBeCloseTo(flaggedAt, 9);
});

const others: readonly [title: string, heard: readonly Heard[], options: Listening, state: string][] = [
	['waits for the third second', [], {until: 2.75}, 'waiting'],
	['is silent after 4.7 s', frames(0, 2, 50), {until: 6.7}, 'clear'],
	['is silent while bytes come that are no frames', [{t: 0.1, bytes: 30, junk: 30}], {until: 4}, 'clear'],
	[
		'waits for the fifth second of a port that is back',
		[...frames(0, 4, 50), {t: 4, event: 'reattached'}],
		{until: 8.7},
		'clear',
	],
	['does not apply where times are made up', [], {timing: 'assumed', until: 10}, 'absent'],
];

test('a stream of which nothing has come has not ended: that is told as a start', () => {
	const [, end] = findFault('silent')!.ways;
	expect(firstClosed(end, listen([], {until: 10}), 0)?.name).toBe('bytes');
	expect(firstClosed(end, listen(frames(0, 2, 50), {until: 10}), 0)).toBeUndefined();
});

test.each(others)('%s', (_, heard, options, state) => {
	expect(answer('silent', heard, options).state).toBe(state);
});
