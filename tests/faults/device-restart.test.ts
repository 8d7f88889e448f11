import {expect, test} from 'vitest';
import {answer, frames, type Heard, type Listening} from '../gloves/heard.ts';

// Check-values D5.4, device-restart: its counter or clock near zero again, or text from before the first frame comes again.

const stopAt = 10;
/** Frames for ten seconds, a gap in which text comes, frames again; counter and clock from `value(t, n)`. */
const restarted = (
	texts: readonly Heard[],
	values: (t: number, n: number) => object = () => ({}),
	gap = 1,
): Heard[] => [
	...frames(0.1, stopAt, 100).map((what, n) => ({...what, ...values(what.t, n)})),
	...texts,
	...frames(stopAt + gap, stopAt + gap + 5, 100).map((what, n) => ({...what, ...values(what.t, n + 10_000)})),
];
const banner: Heard = {t: 0, text: 'Glove of the fox ready'};
const again = (text: string, t = stopAt + 0.5): Heard => ({t, text});
const anew = (n: number): number => (n < 10_000 ? 5000 + n : n - 10_000);

const fires: readonly [title: string, heard: readonly Heard[], options?: Listening][] = [
	['the counter starts again from zero', restarted([], (_, n) => ({counter: anew(n)})), {columns: ['counter']}],
	[
		'the clock falls back to 0.18 s',
		restarted([], (t, n) => ({clock: n < 10_000 ? 52_000 + 1000 * t : 180 + 10 * (n - 10_000)})),
		{columns: ['clock']},
	],
	['a chip says it has started', restarted([again('ets Jun  8 2016 00:22:57')])],
	['its own greeting comes again', [banner, ...restarted([again('Glove of the fox ready')])]],
	[
		'glued to a cut frame',
		[banner, ...restarted([{t: stopAt + 0.3, bad: 'garbled', text: '512,49Glove of the fox ready'}])],
	],
	['boot text glued to a cut frame', restarted([{t: stopAt, bad: 'garbled', text: '512,49ets Jul 29 2019 12:21:46'}])],
	[
		'two lines of its greeting come again',
		[
			{t: 0, text: 'The fox'},
			{t: 0.01, text: 'of the puppets'},
			...restarted([again('The fox'), again('of the puppets')]),
		],
	],
	[
		'a line that greets without saying so, and does not come a third time',
		[{t: 0, text: 'Fox 7'}, ...restarted([again('Fox 7')]), ...frames(16, 40, 100)],
	],
	['after a single frame', [banner, ...frames(0.1, 0.11, 100), again('ets Jun  8 2016 00:22:57', 1)], {until: 4}],
	[
		'a board that starts again every three seconds',
		[
			banner,
			...[3, 6, 9, 12].flatMap(t => [...frames(t - 2.9, t - 0.5, 100), again('Glove of the fox ready', t - 0.1)]),
			...frames(12, 13, 100),
		],
	],
];

test.each(fires)('is raised: %s', (_, heard, options) => {
	expect(answer('device-restart', heard, options).state).toBe('raised');
});

const others: readonly [title: string, heard: readonly Heard[], state: string, options?: Listening][] = [
	['is silent about the first boot', [again('ets Jun  8 2016 00:22:57', 0), banner, ...frames(0.1, 10, 100)], 'clear'],
	['is silent about a pause alone', restarted([]), 'clear'],
	[
		'is silent about a counter that wraps',
		restarted([], (_, n) => ({counter: (n < 10_000 ? n : n - 9010) % 256}), 0.01),
		'clear',
		{columns: ['counter']},
	],
	[
		'is silent about a counter that wraps at 720 where times are made up',
		frames(0, 30, 100).map(({t}, n): Heard => ({t, frame: true, counter: n % 720})),
		'clear',
		{columns: ['counter'], timing: 'assumed'},
	],
	[
		'is silent about a counter that leaps on by thousands over a pause',
		restarted([], (_, n) => ({counter: n < 10_000 ? n : 80_000 + n})),
		'clear',
		{columns: ['counter']},
	],
	[
		'is silent about a counter that falls back by thousands over a pause, far above zero',
		restarted([], (_, n) => ({counter: n < 10_000 ? 90_000 + n : 40_000 + n})),
		'clear',
		{columns: ['counter']},
	],
	[
		'is silent about one damaged counter',
		frames(0, 10, 100).map(({t}, n): Heard => ({t, frame: true, counter: n === 500 ? 5 : 3000 + n})),
		'clear',
		{columns: ['counter']},
	],
	['is silent about a text that was not there at the start', [banner, ...restarted([again('calibrated')])], 'clear'],
	[
		'is silent about a line that comes regularly: a name in a chat',
		[
			{t: 0, text: 'Renata'},
			...Array.from({length: 8}, (_, n) => [...frames(n + 0.1, n + 0.9, 100), again('Renata', n + 0.95)]).flat(),
		],
		'clear',
	],
	[
		'is silent about what opening the port does',
		[{t: 0, event: 'dtr'}, ...frames(0.01, 0.1, 100), again('ets Jun  8 2016 00:22:57', 0.5), ...frames(2, 9, 100)],
		'clear',
	],
	[
		'is silent about the boot of a board that was plugged in again',
		[
			banner,
			...frames(0.1, 5, 100),
			{t: 5.1, event: 'port-lost'},
			{t: 9, event: 'reattached'},
			again('Glove of the fox ready', 9.5),
			...frames(10, 12, 100),
		],
		'clear',
	],
	['waits for the first frame', [banner], 'waiting'],
];

test.each(others)('%s', (_, heard, state, options) => {
	expect(answer('device-restart', heard, options).state).toBe(state);
});

test('begins where the frames stopped, and counts restarts, not lines', () => {
	const {sign} = answer(
		'device-restart',
		restarted(
			['ets Jun  8 2016 00:22:57', 'rst:0xf (RTCWDT_BROWN_OUT_RESET),boot:0x13', 'entry 0x400805e4'].map((text, n) =>
				again(text, stopAt + 0.5 + n / 100),
			),
		),
	);
	expect(sign).toMatchObject({from: 9.99, evidence: {restarts: 1, sign: 'ets Jun  8 2016 00:22:57'}});
	expect(sign?.evidence.gapSeconds).toBe(1);
});

test('a supply that sagged is told, and what to measure then comes first', () => {
	const {sign} = answer('device-restart', restarted([again('Brownout detector was triggered')]));
	expect(sign?.summary).toContain('supply sag');
	expect(sign?.advice?.[0]).toContain('Supply voltage');
});
