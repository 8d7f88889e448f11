import {expect, test} from 'vitest';
import {answer, frames, type Heard, together} from '../gloves/heard.ts';

// Check-values D5.4, stray-text: one line in the stream that is no frame.

const print: Heard = {t: 3.005, text: 'DONE POSITIONING'};

test('is raised by one line, told at its time', () => {
	const {state, sign} = answer('stray-text', together(frames(0, 6, 100), [print]));
	expect(state).toBe('raised');
	expect(sign).toMatchObject({from: 3.005, to: 3.005, evidence: {lines: 1, last: 'DONE POSITIONING'}});
});

test('is raised by a line after a single frame', () => {
	const heard = together(frames(0, 0.01, 100), [print]);
	expect(answer('stray-text', heard, {until: 6, goesOn: true}).state).toBe('raised');
});

test('counts the lines and tells the last', () => {
	const heard = together(frames(0, 9, 100), [print, {t: 5.005, text: 'DONE TWICE'}]);
	expect(answer('stray-text', heard).sign?.evidence).toEqual({lines: 2, last: 'DONE TWICE'});
});

const others: readonly [title: string, heard: readonly Heard[], until: number, state: string][] = [
	['is silent without one', frames(0, 6, 100), 6, 'clear'],
	['is silent about text before the first frame', [{t: 0, text: 'hello'}, ...frames(0.1, 6, 100)], 6, 'clear'],
	['waits a second, in which a restart may show', together(frames(0, 3.5, 100), [print]), 3.75, 'clear'],
	[
		'is silent about the text of a board that starts again',
		together(
			frames(0, 3, 100),
			[
				{t: 3.1, text: 'ets Jun  8 2016 00:22:57'},
				{t: 3.2, text: 'a line of its own'},
			],
			frames(4, 9, 100),
		),
		9,
		'clear',
	],
	['waits for the first frame', [{t: 0, text: 'hello'}], 2, 'waiting'],
];

test.each(others)('%s', (_, heard, until, state) => {
	expect(answer('stray-text', heard, {until, goesOn: true}).state).toBe(state);
});
