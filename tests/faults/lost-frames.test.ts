import {expect, test} from 'vitest';
import {answer, frames, type Heard, type Listening, together} from '../gloves/heard.ts';

// Check-values D5.4, lost-frames: by a counter alone, 0.5 % over the whole or 2 % in the worst 20 s.

/** Counted frames at 100 a second; those for which `isLost` holds do not come. */
const counted = (seconds: number, isLost: (n: number) => boolean, modulus = Number.POSITIVE_INFINITY): Heard[] =>
	frames(0, seconds, 100)
		.map(({t}, n): Heard => ({t, frame: true, counter: n % modulus}))
		.filter((_, n) => !isLost(n));
const every =
	(nth: number) =>
	(n: number): boolean =>
		n % nth === nth - 1;
const counter: Listening = {columns: ['counter']};

const fires: readonly [title: string, heard: readonly Heard[], options?: Listening][] = [
	['one frame in 190, over a minute', counted(60, every(190))],
	['one frame in 45 for twenty seconds', counted(20, every(45))],
	['a second of nothing in an hour is 5 % of its 20 s', counted(40, n => n >= 2500 && n < 2600)],
	['an eight-bit counter', counted(60, every(150), 256)],
	['after 410 frames', counted(4.2, every(130))],
	['after 260 frames, where it is heavy', counted(2.7, every(30))],
	[
		'in clumps: delivery withdraws nothing',
		counted(60, every(150)).map(what => ({...what, t: Math.ceil(10 * what.t) / 10 + (what.t % 0.1) / 50})),
	],
	['where times are made up as well', counted(60, every(150)), {timing: 'assumed'}],
];

test.each(fires)('is raised: %s', (_, heard, options) => {
	expect(answer('lost-frames', heard, {...counter, ...options}).state).toBe('raised');
});

const others: readonly [title: string, heard: readonly Heard[], state: string, options?: Listening][] = [
	['is silent without a skip', counted(60, () => false), 'clear'],
	['is silent at one frame in 215', counted(60, every(215)), 'clear'],
	['is silent at 1.8 % of twenty seconds of 90', counted(90, n => n >= 7000 && every(56)(n)), 'clear'],
	['is silent where the counter wraps', counted(60, () => false, 100), 'clear'],
	[
		'is silent about damaged lines, which came',
		together(
			counted(60, every(40)),
			frames(0, 60, 100)
				.filter((_, n) => every(40)(n))
				.map(({t}): Heard => ({t, bad: 'short'})),
		),
		'clear',
	],
	['is silent where the board sends only what has changed', counted(60, every(40)), 'clear', {sendsOnChange: true}],
	['waits for 250 frames', counted(2.4, every(150)), 'waiting'],
	['waits for 250 frames, however many are lost', counted(2, every(30)), 'waiting'],
	['waits for 400 frames', counted(3.8, every(150)), 'waiting'],
	['does not apply without a counter', frames(0, 60, 100).filter((_, n) => n % 20 !== 0), 'absent', {columns: []}],
];

test.each(others)('%s', (_, heard, state, options) => {
	expect(answer('lost-frames', heard, {...counter, ...options}).state).toBe(state);
});

test('keeps the evidence of its worst stretch', () => {
	const heard = counted(100, n => (n >= 4000 && n < 6000 && n % 5 === 0) || (n >= 8000 && n % 100 === 0));
	const {sign} = answer('lost-frames', heard, counter);
	expect(sign?.evidence).toMatchObject({worstPercent: 20, worstFrom: 40, worstTo: 60});
});
