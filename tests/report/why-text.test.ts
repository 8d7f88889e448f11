import {describe, expect, it} from 'vitest';
import {whyText} from '../../source/report/why-text.ts';
import type {Why} from '../../source/session/check-rows.ts';
import {sampleFinding} from './sample-run.ts';

const row: Why = {
	code: 'narrow-span',
	channel: 'ring',
	state: 'clear',
	seen: 6,
	needed: 6,
	next: null,
	way: null,
	gate: 'ratio',
	saw: 0.3004,
	asks: "at most 0.3 of the other fingers' median span",
};

describe('why a check was not raised', () => {
	it('tells what just misses the limit from the limit', () => {
		expect(whyText([row], [])).toBe(
			"ring  clear (ratio): saw 0.3004, asks at most 0.3 of the other fingers' median\n      span.\n",
		);
	});

	it('says of what waits which movement is next, and of which way it speaks', () => {
		const waiting: Why = {
			...row,
			state: 'waiting',
			seen: 2,
			way: 'ghost',
			gate: 'lastsAfterMoving',
			saw: 2,
			asks: 'at least 6 trips',
			next: 'bend it',
		};
		expect(whyText([waiting], []).replace(/\n +/g, ' ')).toBe(
			'ring  waits (ghost, lasts after moving): saw 2, asks at least 6 trips. Next: bend it (2 of 6).\n',
		);
	});

	it('says that it was found, or was before', () => {
		const over = sampleFinding({code: 'narrow-span', to: 9, spans: [[2.1, 9]]});
		const found: Why = {...row, state: 'found', gate: null, saw: null, asks: null};
		expect(whyText([found], [{...over, to: null, spans: [[2.1, null]]}])).toBe(
			'ring  found, from 2.1 s, still there at the end.\n',
		);
		expect(whyText([row], [over]).replace(/\n +/g, ' ')).toContain('It was found before: from 2.1 s to 9 s.');
	});

	it('leaves out what was not measured, and shows names of the device as text', () => {
		const hostile: Why = {...row, channel: '\u001b[2J', state: 'absent', saw: null, asks: 'a finger'};
		expect(whyText([hostile], [])).toBe('\\x1b[2J  not judged (ratio): asks a finger.\n');
	});
});
