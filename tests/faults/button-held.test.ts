import {expect, test} from 'vitest';
import {type Course, type Drawing, held, sessionOver} from '../gloves/draw.ts';
import {digital, presses} from '../gloves/presses.ts';

// Check-values D5.4, button-held: pressed from the first frame on for 15 s while the others idle in the opposite state.

const fingers = Object.fromEntries(
	['thumb', 'index', 'middle', 'ring', 'little'].map((name, i) => [name, held(20 + 5 * i)]),
);
const glove = (buttons: readonly Course[], seconds = 16): Drawing => ({
	channels: {
		...fingers,
		'stick-x': held(50),
		'stick-y': held(51),
		...Object.fromEntries(buttons.map((button, i) => [`button-${i + 1}`, button])),
	},
	seconds,
	rate: 50,
	noise: digital,
});
const found = (drawing: Drawing) => sessionOver(drawing).findings.filter(({code}) => code === 'button-held');
const names = (drawing: Drawing) => found(drawing).map(({channel, to}) => `${channel}${to === null ? '' : ' over'}`);
const idle = presses([]);
const pressedOnce = presses([{at: 4}]);

test.each([
	['one of three', [idle, held(100), pressedOnce], ['button-2']],
	['one of three that nobody touches', [held(100), held(100), held(0)], ['button-3']],
	['of two, the one that never changed', [held(100), pressedOnce], ['button-1']],
	['of two that never changed, the one at ground', [held(100), held(0)], ['button-2']],
	[
		'two of four that never changed, those at ground',
		[held(100), held(0), held(100), held(0)],
		['button-2', 'button-4'],
	],
	['held for 15 s, then let go', [idle, presses([{at: 15.6}], 100), pressedOnce], ['button-2 over']],
])('is raised: %s', (_title, buttons, expected) => {
	expect(names(glove(buttons, expected[0].endsWith('over') ? 20 : 16))).toEqual(expected);
});

test.each([
	['pressed and let go', [idle, presses([{at: 3}], 100), pressedOnce], 16],
	['all idle alike', [held(100), held(100)], 16],
	['a lone button', [held(100)], 16],
	['two others that have never been read', [held(100), held(Number.NaN), held(Number.NaN)], 16],
	['held for fourteen seconds', [idle, held(100), pressedOnce], 14],
])('is silent: %s', (_title, buttons, seconds) => {
	expect(names(glove(buttons, seconds))).toEqual([]);
});

test('an unnamed constant column is spare until it changes, or turns out to be held', () => {
	const states = (buttons: readonly Course[], layout?: string) => {
		const drawing = glove(buttons);
		const named = layout === undefined ? Object.keys(drawing.channels).join(',') : undefined;
		return sessionOver(drawing, {layout: named})
			.snapshot()
			.channels.slice(7)
			.map(({state}) => state);
	};
	const buttons = [held(0), held(0), presses([{at: 3}, {at: 5}])];
	expect(states(buttons, 'none')).toEqual(['spare', 'spare', 'proven']);
	expect(states(buttons)).toEqual(['waiting', 'waiting', 'proven']);
	expect(states([held(0), held(100), presses([{at: 3}, {at: 5}])], 'none')).toEqual(['spare', 'faulty', 'proven']);
});
