import {expect, test} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import {type Course, type Drawing, fists, held, sessionOver, sum, through} from '../gloves/draw.ts';

// Check-values D5.4: a 50 or 60 Hz line of 1.5 % FS peak (found), of 0.5 % (silent), on a channel that follows its finger.

const names = ['thumb', 'index', 'middle', 'ring', 'little'] as const;
const worked = (place: number): Course => fists({open: 20, closed: 75, from: 4 + 0.03 * place, times: 4});
const hand = (change: Record<string, Course> = {}): Record<string, Course> => ({
	...Object.fromEntries(names.map((name, i) => [name, worked(i)])),
	...change,
});
const ring = worked(3);
/** A sine of so many Hz and % FS peak. */
const line =
	(hertz: number, peak: number): Course =>
	t =>
		peak * Math.sin(2 * Math.PI * hertz * t + 0.7);
/** The same in a part of the time only. */
const during =
	(from: number, to: number, course: Course): Course =>
	t =>
		t >= from && t < to ? course(t) : 0;
/** A line of 3 % FS with others beside it, of a share of its height, on the ring finger. */
const besides = (share: number): Drawing => ({
	channels: hand({ring: sum(ring, line(60, 3), line(61.5, 3 * share), line(58.5, 3 * share))}),
	rate: 125,
	seconds: 17,
});
/** Six fists at once, then rest from 11.8 s on: two seconds of it are known as such 0.75 s later. */
const longFists = (place: number, from: number): Course =>
	fists({open: 20, closed: 75, from: from + 0.03 * place, times: 6});
const restsAfterwards = (seconds: number): Drawing => ({
	channels: Object.fromEntries(
		names.map((name, i) => [name, name === 'ring' ? sum(longFists(i, 0.3), line(60, 2)) : longFists(i, 0.3)]),
	),
	rate: 125,
	seconds,
});
/** Six fists from 4 to 15.5 s, and a line that is there at rest, and in `share` of every three seconds of the movement. */
const hidden = (share: number): Drawing => ({
	channels: Object.fromEntries(
		names.map((name, i) => [
			name,
			name === 'ring'
				? sum(longFists(i, 4), t => (t < 3.9 || t > 16 || t % 3 < 3 * share ? line(60, 2)(t) : 0))
				: longFists(i, 4),
		]),
	),
	rate: 125,
	seconds: 20,
});
/** Both sides of a stick twice. */
const pushes: Course = through(
	[2, 50],
	[2.3, 95],
	[2.6, 50],
	[3.6, 50],
	[3.9, 5],
	[4.2, 50],
	[5.2, 50],
	[5.5, 95],
	[5.8, 50],
	[6.8, 50],
	[7.1, 5],
	[7.4, 50],
);

const hums = (drawing: Drawing): string[] =>
	sessionOver(drawing)
		.findings.filter(({code}) => code === 'mains-hum')
		.map(({channel, evidence}) => `${channel} ${evidence.mainsHertz}`);

const fires: readonly [title: string, drawing: Drawing, told: readonly string[]][] = [
	[
		'1.5 % FS peak at 60 Hz, 125 frames/s',
		{channels: hand({ring: sum(ring, line(60, 1.5))}), rate: 125, seconds: 17},
		['ring 60'],
	],
	[
		'1.5 % FS peak at 49.8 Hz, 125 frames/s',
		{channels: hand({ring: sum(ring, line(49.8, 1.5))}), rate: 125, seconds: 17},
		['ring 50'],
	],
	[
		'the same as 10 Hz in 60 frames/s, where it goes on in motion',
		{channels: hand({ring: sum(ring, line(50, 1.5))}), rate: 60, seconds: 17},
		['ring 50'],
	],
	[
		'the same in a stream of 500 frames/s',
		{channels: hand({ring: sum(ring, line(50, 1.5))}), rate: 500, seconds: 16},
		['ring 50'],
	],
	[
		'where 50 and 60 Hz look the same',
		{channels: hand({ring: sum(ring, line(50, 1.5))}), rate: 110, seconds: 17},
		['ring 50 or 60'],
	],
	[
		'beside noise of 1 % FS rms',
		{channels: hand({ring: sum(ring, line(50, 1.6))}), noise: {ring: 1}, rate: 125, seconds: 17},
		['ring 50'],
	],
	[
		'while the hand at rest sways by 2 % FS',
		{channels: hand({ring: sum(ring, line(50, 1.5), line(0.4, 2))}), rate: 125, seconds: 17},
		['ring 50'],
	],
	['a line 3.5 times as high as what is beside it', besides(0.4), ['ring 60']],
	['two windows of rest', restsAfterwards(15.5), ['ring 60']],
	['a line that movement hides half of the time', hidden(0.47), ['ring 60']],
	[
		'on an axis of a stick that has been pushed',
		{
			channels: {...hand(), 'stick-x': sum(pushes, line(60, 1.5)), 'stick-y': t => pushes(t - 0.6)},
			rate: 80,
			seconds: 17,
		},
		['stick-x 60'],
	],
];

test.each(fires)('is raised: %s', (_title, drawing, expected) => {
	expect(hums(drawing)).toEqual(expected);
});

const quiet: readonly [title: string, drawing: Drawing][] = [
	['0.5 % FS peak', {channels: hand({ring: sum(ring, line(60, 0.5))}), rate: 125, seconds: 17}],
	['half of what has to be found', {channels: hand({ring: sum(ring, line(60, 0.75))}), rate: 125, seconds: 17}],
	['50 Hz in 50 frames/s is an offset', {channels: hand({ring: sum(ring, line(50, 3))}), rate: 50, seconds: 17}],
	['noise of 5 % FS rms has a bit of everything', {channels: hand(), noise: {ring: 5}, rate: 125, seconds: 17}],
	['a line at another frequency', {channels: hand({ring: sum(ring, line(54, 2))}), rate: 125, seconds: 17}],
	[
		'tremor of 0.5 % FS peak, 10 Hz in 60 frames/s',
		{channels: hand({ring: sum(ring, line(9.8, 0.5))}), rate: 60, seconds: 17},
	],
	[
		'scratching at 4 Hz in 46 frames/s, where 50 Hz would show, while the hand rests',
		{channels: hand({ring: sum(ring, during(13, 20, line(4, 3)))}), rate: 46, seconds: 22},
	],
	['a line 2.7 times as high as what is beside it', besides(0.55)],
	['one window of rest', restsAfterwards(15)],
	['a line that is there only while the hand rests', hidden(0)],
	['a pin that follows nothing', {channels: hand({ring: sum(held(45), line(60, 2.2))}), rate: 125, seconds: 17}],
	[
		'stick pins that nobody has pushed',
		{
			channels: {...hand(), 'stick-x': sum(held(50), line(60, 2.5)), 'stick-y': sum(held(48), line(60, 2.5))},
			rate: 125,
			seconds: 17,
		},
	],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(hums(drawing)).toEqual([]);
});

test('waits for a rest, and for a movement that shows whether the channel follows', () => {
	const rows = (drawing: Drawing) =>
		checkRows(sessionOver(drawing)).filter(({code, channel}) => code === 'mains-hum' && channel === 'ring');
	const short = {channels: hand({ring: sum(held(20), line(60, 2))}), rate: 125};
	expect(rows({...short, seconds: 1.5})).toMatchObject([{state: 'waiting', next: 'rest the hand for three seconds'}]);
	expect(rows({...short, seconds: 4})).toMatchObject([{state: 'waiting', next: 'open and close the whole hand'}]);
	expect(rows({channels: hand(), rate: 125, seconds: 17})).toMatchObject([{state: 'clear'}]);
});

test.each([
	['as it is', 125, 50, ''],
	['folded down', 60, 10, ', seen at 10 Hz at this frame rate'],
])('tells the line where it is seen %s', (_how, rate, alias, seen) => {
	const [found] = sessionOver({channels: hand({ring: sum(ring, line(50, 1.5))}), rate, seconds: 17}).findings;
	expect(found.evidence).toMatchObject({mainsHertz: 50, aliasHertz: alias});
	expect(found.summary).toMatch(new RegExp(`^ring carries 50 Hz mains hum of 1\\.[45]\\d* % FS peak${seen}\\.$`));
});

test('has no row where neither 50 nor 60 Hz shows', () => {
	const rows = checkRows(sessionOver({channels: hand(), rate: 10, seconds: 17}));
	expect(rows.filter(({code}) => code === 'mains-hum')).toEqual([]);
});

test('tells when it began and when it ended', () => {
	const [finding] = sessionOver({
		channels: hand({ring: sum(ring, during(13, 18, line(60, 2)))}),
		rate: 125,
		seconds: 26,
	}).findings.filter(({code}) => code === 'mains-hum');
	expect(finding.from).toBeGreaterThanOrEqual(12);
	expect(finding.from).toBeLessThanOrEqual(13.5);
	expect(finding.to).toBeGreaterThanOrEqual(17);
	expect(finding.to).toBeLessThanOrEqual(19);
});
