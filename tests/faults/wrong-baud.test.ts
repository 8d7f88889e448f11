import {expect, test} from 'vitest';
import {answer, frames, type Heard, type Listening, together} from '../gloves/heard.ts';

// Check-values D5.4, wrong-baud: 20 % of the bytes over a second are no text; at 1 % it is silent.

/** Every tenth of a second 50 bytes, of which a share is no text. */
const junk = (from: number, to: number, share: number): Heard[] =>
	Array.from({length: Math.round((to - from) * 10)}, (_, n) => ({t: from + n / 10, bytes: 50, junk: 50 * share}));

const fires: readonly [title: string, heard: readonly Heard[], options: Listening][] = [
	['a fifth of the bytes of a second is no text', junk(0, 1.25, 0.22), {}],
	['two thirds, as random bytes have', junk(0, 3, 0.6), {}],
	['mostly printable bytes that are neither digits nor words, for two seconds', printable(2.25, 0.012), {}],
	['two dozen bytes a second', [0.1, 0.3, 0.6, 0.8, 1.1].map((t): Heard => ({t, bytes: 6, junk: 6})), {until: 1.25}],
	['two chance frames in the second', together(junk(0, 3, 0.6), frames(2.2, 2.6, 5)), {}],
	['250 printable bytes in all', printable(2.25, 0.012).filter((_, n) => n % 5 === 0), {}],
];

test.each(fires)('is raised: %s', (_, heard, options) => {
	expect(answer('wrong-baud', heard, options).state).toBe('raised');
});

const others: readonly [title: string, heard: readonly Heard[], options: Listening, state: string][] = [
	['is silent at 18 % of lines of digits', junk(0, 3, 0.18).map(what => ({...what, fill: 0x35})), {}, 'clear'],
	['is silent after half a second of it: start-up text at another rate', junk(0, 0.5, 0.6), {until: 0.75}, 'clear'],
	[
		'is silent where it was over a second ago',
		[...junk(0, 1.5, 0.6), ...junk(1.5, 3, 0).map(what => ({...what, fill: 0x35}))],
		{},
		'clear',
	],
	['is silent where frames come through', together(junk(0, 3, 0.9), frames(0, 3, 50)), {}, 'clear'],
	['is silent at three frames in the second', together(junk(0, 3, 0.6), frames(2.2, 2.8, 5)), {}, 'clear'],
	['waits for more than 150 printable bytes', printable(2.25, 0.012).filter((_, n) => n % 8 === 0), {}, 'waiting'],
	['is silent at 0.8 % of printable bytes', printable(4, 0.008), {}, 'clear'],
	['is silent after a second and a half of printable junk', printable(1.5, 0.02), {}, 'clear'],
	[
		'is silent at 15 % of the bytes of a second, more at either end of it',
		[...junk(0, 0.25, 0.3), ...junk(0.3, 1, 0.1), ...junk(1.01, 1.25, 0.3)],
		{until: 1.25},
		'clear',
	],
	['waits for bytes', [], {until: 2}, 'waiting'],
	[
		'waits for more than fifteen bytes a second',
		[0.1, 0.3, 0.6, 0.8, 1.1].map((t): Heard => ({t, bytes: 3, junk: 3})),
		{until: 1.25},
		'waiting',
	],
	['waits for more than a dozen bytes', [{t: 1.9, bytes: 12, junk: 12}], {until: 2}, 'waiting'],
	['does not apply to binary packets', junk(0, 3, 0.6), {framing: 'slip'}, 'absent'],
];

test.each(others)('%s', (_, heard, options, state) => {
	expect(answer('wrong-baud', heard, options).state).toBe(state);
});

/** Bytes that are printable and say nothing; `share` of them is no text. */
function printable(seconds: number, share: number): Heard[] {
	return junk(0, seconds, share).map(what => ({...what, fill: 0x7e}));
}
