import {describe, expect, test} from 'vitest';
import {type Course, type Drawing, found, sessionOver} from '../gloves/draw.ts';
import {inTurn, pace, turnTo} from '../gloves/strokes.ts';

// Check-values D5.4, reversed-sensor: against the others (correlation with their consensus ≤ −0.8) in at least four whole-hand
// movements and 90 % of those in which it made a trip itself; span ≥ 12 rest noises and ≥ 0.3 of the others' median.

type Going = 'with' | 'against' | 'rests';

/** Four fingers close and open `ways.length` times in all; the index goes its own way each time, by `span` % FS. */
function glove(
	ways: readonly Going[],
	{span = 50, noise = 0.2, others}: {span?: number; noise?: number; others?: {readonly span: number}} = {},
): Drawing {
	const closes = (number: number): boolean => number % 2 === 0;
	let isHigh = ways[0] === 'against';
	const first = isHigh ? 30 + span : 30;
	const levels = ways.map((way, number) => {
		if (way !== 'rests') isHigh = closes(number) === (way === 'with');
		return isHigh ? 30 + span : 30;
	});
	// Where the others go by so much they are as quiet as sound pots.
	const other = turnTo(20, inTurn(ways.length, 20 + (others?.span ?? 55), 20));
	return {
		channels: {
			thumb: turnTo(20, inTurn(ways.length, 20 + (others?.span ?? 30), 20)),
			index: turnTo(first, levels),
			middle: other,
			ring: other,
			little: other,
		},
		seconds: 2.5 + ways.length * pace,
		noise: others === undefined ? noise : {index: noise},
		fullScale: 4095,
	};
}
const always = (way: Going, count: number): Going[] => Array.from({length: count}, () => way);

/** All fingers fall when the hand closes, but for those named. */
function falling(rising: readonly string[]): Drawing {
	const names = ['thumb', 'index', 'middle', 'ring', 'little'];
	const course = (name: string): Course =>
		rising.includes(name) ? turnTo(20, inTurn(8, 75, 20)) : turnTo(80, inTurn(8, 25, 80));
	return {channels: Object.fromEntries(names.map(name => [name, course(name)])), seconds: 12.5};
}

describe('is raised', () => {
	test.each<[string, Drawing, string[]]>([
		['for a finger that falls where the others rise', glove(always('against', 8)), ['index']],
		['after two closings and two openings', glove(always('against', 4)), ['index']],
		[
			'for one that goes against the others in nine of ten',
			glove([...always('against', 5), 'rests', 'with', ...always('against', 4)]),
			['index'],
		],
		[
			'whatever rests it makes between',
			glove([...always('against', 3), 'rests', 'rests', ...always('against', 3)]),
			['index'],
		],
		['with a span of 15 rest noises', glove(always('against', 8), {span: 24, noise: 1.6}), ['index']],
		[
			'with 14 rest noises of travel, beside others that go little farther',
			glove(always('against', 8), {span: 7, noise: 0.5, others: {span: 16}}),
			['index'],
		],
		['with a span of 0.38 of the median of the others', glove(always('against', 8), {span: 20}), ['index']],
		[
			'for two fingers of five',
			{
				...glove(always('against', 8)),
				channels: {...glove(always('against', 8)).channels, ring: glove(always('against', 8)).channels.index},
			},
			['index', 'ring'],
		],
		['for one that rises where all others fall', falling(['middle']), ['middle']],
		['for the two of five that rise', falling(['thumb', 'ring']), ['ring', 'thumb']],
	])('%s', (_title, drawing, channels) => {
		expect(found(sessionOver(drawing)).filter(name => name.startsWith('reversed'))).toEqual(
			channels.map(channel => `reversed-sensor ${channel}`),
		);
	});
});

/** A finger that follows the others late: by 0.35 s its correlation over a movement is weak, whichever way it goes. */
function late(seconds: number): Drawing {
	const drawing = glove(always('against', 8));
	const {index} = drawing.channels;
	return {...drawing, channels: {...drawing.channels, index: t => index(t - seconds)}};
}

describe('is silent', () => {
	test.each<[string, Drawing]>([
		['for fingers that go together', glove(always('with', 8))],
		['where all fall when the hand closes', falling([])],
		['after three movements', glove(always('against', 3))],
		[
			'for one that goes against the others in three of four',
			glove([...always('against', 3), 'rests', 'with', ...always('against', 3), 'rests', 'with']),
		],
		['with a span of 9 rest noises', glove(always('against', 8), {span: 22, noise: 2.5})],
		[
			'with 10 rest noises of travel, beside others that go little farther',
			glove(always('against', 8), {span: 5, noise: 0.5, others: {span: 16}}),
		],
		['with a span of 0.22 of the median of the others', glove(always('against', 8), {span: 11.5})],
		[
			'for a finger that points while the others close, twice, and makes fists else',
			glove([...always('with', 6), 'rests', 'against', 'with', 'rests', 'against', 'with', ...always('with', 4)]),
		],
		['for a finger that comes after the others: its correlation is −0.6', late(0.22)],
		[
			'while single fingers move',
			{
				channels: Object.fromEntries(
					['thumb', 'index', 'middle', 'ring', 'little'].map((name, f) => [
						name,
						(t: number) => turnTo(f === 1 ? 75 : 20, inTurn(6, f === 1 ? 20 : 75, f === 1 ? 75 : 20))(t - 8 * f),
					]),
				),
				seconds: 42,
			},
		],
	])('%s', (_title, drawing) => {
		expect(found(sessionOver(drawing)).filter(name => name.startsWith('reversed'))).toEqual([]);
	});
});

test('waits for four movements in which the finger moves itself', () => {
	const {checks} = sessionOver(glove([...always('against', 3), ...always('rests', 4)])).snapshot();
	expect(checks.find(({code, channel}) => code === 'reversed-sensor' && channel === 'index')).toEqual({
		code: 'reversed-sensor',
		channel: 'index',
		state: 'waiting',
		seen: 3,
		needed: 4,
		next: 'open and close the whole hand',
	});
});

test('begins with the first movement against the others and tells how many there were', () => {
	const [finding] = sessionOver(glove(always('against', 8))).findings;
	// The first closing begins at 1 s; a tenth of it is gone after 0.1 s.
	expect(finding.from).toBeCloseTo(1.1, 1);
	expect(finding.flaggedAt).toBeLessThan(7);
	expect(finding.evidence).toMatchObject({against: 8, of: 8, correlation: expect.closeTo(-1, 1)});
});

test('is over, since the last movement against the others, once three in a row go with them; two do not end it', () => {
	// Movement 8 is an opening; the finger rests in it and has changed ways by then.
	const turned = [...always('against', 8), 'rests', ...always('with', 3), 'rests'] as const;
	const [over] = sessionOver(glove(turned)).findings;
	expect(over.to).toBeCloseTo(1.1 + 7 * pace, 1);
	const twice = [...always('against', 8), 'rests', ...always('with', 2), 'rests', ...always('against', 4)] as const;
	const [open] = sessionOver(glove(twice)).findings;
	expect([open.code, open.to, open.spans]).toEqual(['reversed-sensor', null, [[expect.closeTo(1.1, 1), null]]]);
});
