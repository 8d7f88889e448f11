import {expect, test} from 'vitest';
import {answer, frames, type Heard, type Listening, together} from '../gloves/heard.ts';

// Check-values D5.4, broken-frames: 2 % of the lines; 0.1 % is silent; lost digits only with two channels or a wrong field count.

/** A stream of 100 lines a second in which every `nth` line from `first` on is another kind. */
function mixed(seconds: number, nth: number, odd: (t: number) => Heard, from = 0): Heard[] {
	return frames(0, seconds, 100).map((frame, n) => (n % nth === nth - 1 && frame.t >= from ? odd(frame.t) : frame));
}

const cut = (t: number): Heard => ({t, bad: 'short'});
const garbled = (t: number): Heard => ({t, bad: 'garbled'});
const eaten = (t: number): Heard => ({t, eaten: true});

/** So many cut lines, one every tenth of a second. */
const some = (count: number): Heard[] => Array.from({length: count}, (_, n) => cut(0.205 + n / 10));

const fires: readonly [title: string, heard: readonly Heard[], options?: Listening][] = [
	['every 48th line is cut, over a minute', mixed(60, 48, cut)],
	['every 96th line', mixed(60, 96, garbled)],
	['one line in ten, half a second after it began', mixed(0.6, 10, cut)],
	['every 40th line over six seconds', mixed(6, 40, garbled)],
	['2.5 % of 480 lines', mixed(4.8, 40, garbled)],
	['6 of 126 lines, a fifth more than chance brings', together(frames(0, 1.2, 100), some(6))],
	['lost digits on two channels', mixed(20, 48, eaten), {eatenChannels: 2}],
	[
		'lost digits and one line with a field too few',
		together(mixed(20, 48, eaten), [{t: 15.005, bad: 'short'}]),
		{eatenChannels: 1},
	],
];

test.each(fires)('is raised: %s', (_, heard, options) => {
	expect(answer('broken-frames', heard, options).state).toBe('raised');
});

const others: readonly [title: string, heard: readonly Heard[], state: string, options?: Listening][] = [
	['is silent at one line in a thousand', mixed(60, 1000, cut), 'clear'],
	['is silent at one line in 105', mixed(60, 105, cut), 'clear'],
	[
		'is silent at 3 lines of 300: chance brings as many',
		together(
			frames(0, 6, 100),
			[2, 3, 4].map(t => cut(t + 0.005)),
		),
		'clear',
	],
	['is silent at 3 of 123 lines: chance brings five', together(frames(0, 1.2, 100), some(3)), 'waiting'],
	['is silent at 1.6 % of 490 lines', mixed(4.9, 60, cut), 'waiting'],
	['waits for fifty lines, though one in seven is cut', mixed(0.3, 7, cut), 'waiting'],
	['is silent where jumps of one channel look like lost digits', mixed(20, 48, eaten), 'clear', {eatenChannels: 1}],
	[
		'is silent about what came before the first frame',
		[...Array.from({length: 30}, (_, n) => cut(n / 100)), ...frames(1, 8, 100)],
		'clear',
	],
	['is silent about a first partial line', [cut(0), ...frames(0.01, 8, 100)], 'clear'],
	['waits for 500 lines', frames(0, 4.9, 100), 'waiting'],
];

test.each(others)('%s', (_, heard, state, options) => {
	expect(answer('broken-frames', heard, options).state).toBe(state);
});

test('tells from the first damaged line to the last one', () => {
	const heard = together(
		frames(0, 30, 100),
		Array.from({length: 40}, (_, n) => cut(10.005 + n / 20)),
	);
	const {sign} = answer('broken-frames', heard);
	expect(sign?.from).toBe(10);
	expect(sign?.seenAt).toBe(12);
	expect(sign?.evidence).toMatchObject({damaged: 40, lines: 3040});
});
