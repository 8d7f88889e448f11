import {expect, test} from 'vitest';
import {type Drawing, found, sessionOver} from '../gloves/draw.ts';
import {pace, turnTo} from '../gloves/strokes.ts';

// Check-values D5.4, baseline-drift: over at least six openings after whole-hand closings the level of the open hand moves by at
// least 10 % of span with a rank correlation of 0.6, while the others move by at most 3 %; silent at 3 %.

const fingers = {
	thumb: {closed: 60, way: 0.5},
	index: {closed: 75, way: 0.4},
	middle: {closed: 80, way: 0.46},
	ring: {closed: 70, way: 0.38},
	little: {closed: 72, way: 0.43},
};
const open = 20;

/** Where an end lies at fist number `k`, % of the finger's span from where it should be. */
type Shift = (k: number) => number;
type Ends = {readonly open: Shift; readonly closed: Shift};

const none: Shift = () => 0;
const both = (shift: Shift): Ends => ({open: shift, closed: shift});
/** By so much more each time; every other time off by `jitter` to either side. */
const creeping =
	(each: number, jitter = 0): Shift =>
	k =>
		each * k + (k % 2 === 0 ? -jitter : jitter);
/** First the other way for some fists. */
const turning =
	(fists: number, back: number, each: number): Shift =>
	k =>
		each * (k <= fists ? -back * k : -back * fists + k - fists);

function glove(fists: number, ends: Partial<Record<keyof typeof fingers, Ends>>): Drawing {
	const channels = Object.entries(fingers).map(([name, {closed, way}]) => {
		const shift = ends[name as keyof typeof fingers] ?? both(none);
		const unit = (closed - open) / 100;
		const levels = Array.from({length: fists}, (_, k) => [
			closed + unit * shift.closed(k),
			open + unit * shift.open(k),
		]);
		return [name, turnTo(open + unit * shift.open(0), levels.flat(), () => ({way}))] as const;
	});
	return {channels: Object.fromEntries(channels), seconds: 2 * fists * pace + 3, fullScale: 4095, rate: 50};
}

/** Hum that comes up on the ring finger while the hand works, 4.7 % FS peak. */
function humming(fists: number): Drawing {
	const drawing = glove(fists, {});
	const {ring} = drawing.channels;
	const hum: typeof ring = t => (t > fists * pace ? 4.7 * Math.sin(2 * Math.PI * 50.03 * t) : 0);
	return {...drawing, channels: {...drawing.channels, ring: t => ring(t) + hum(t)}, rate: 330};
}

const drifting = both(creeping(2.2));
const allOthers = (shift: Shift): Partial<Record<keyof typeof fingers, Ends>> => ({
	thumb: both(shift),
	index: both(shift),
	middle: both(shift),
	little: both(shift),
});

test.each<[string, Drawing]>([
	['both ends move on by 11 % over ten fists', glove(10, {ring: both(creeping(1.25))})],
	['after six openings, each 2 % farther than the last', glove(6, {ring: both(creeping(2))})],
	['the other way round', glove(8, {ring: both(creeping(-2.2))})],
	['the open end alone moves: a weak spring', glove(8, {ring: {open: creeping(2.2), closed: none}})],
	['openings that scatter by 1 % to either side', glove(8, {ring: both(creeping(2.2, 1))})],
	['seven openings that scatter by 1.5 % to either side', glove(7, {ring: both(creeping(2.2, 1.5))})],
	[
		'the open end alone, in seven openings that scatter by 1 % to either side',
		glove(7, {ring: {open: creeping(2.2, 1), closed: none}}),
	],
	['a cord that first goes back a little: rank correlation 0.7', glove(9, {ring: both(turning(2, 1.5, 2))})],
	['the other fingers move on by 2.4 %', glove(8, {...allOthers(creeping(0.3)), ring: drifting})],
	[
		'the others scatter so that their change is known to 2.5 %',
		glove(8, {...allOthers(creeping(0, 1)), ring: drifting}),
	],
	[
		'both ends, by 15.7 and 10.8 %, while another finger moves too',
		glove(8, {ring: {open: creeping(2.2), closed: creeping(1.5)}, thumb: both(creeping(0.8))}),
	],
	[
		'the open end alone, while another finger moves by 2.6 %',
		glove(8, {ring: {open: creeping(2.2), closed: none}, thumb: both(creeping(0.33))}),
	],
])('is raised: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(name => !name.endsWith('thumb'))).toEqual(['baseline-drift ring']);
});

test.each<[string, Drawing]>([
	['3 % over ten fists, the must not', glove(10, {ring: both(creeping(0.3))})],
	['hum that comes up after half of twelve fists: readings go farther, the level does not', humming(12)],
	['9 % over ten fists', glove(10, {ring: both(creeping(1))})],
	['five openings', glove(5, {ring: drifting})],
	['every third opening is a relaxed one', glove(12, {ring: {open: k => (k % 3 === 2 ? 25 : 0), closed: none}})],
	['another grasp from the fifth fist on', glove(9, {ring: {open: none, closed: k => (k > 4 ? -30 : 0)}})],
	['a cord that first goes back for three fists: rank correlation 0.5', glove(9, {ring: both(turning(3, 1, 2.9))})],
	['openings that scatter by 2.5 % to either side: two standard errors', glove(8, {ring: both(creeping(2.2, 2.5))})],
	[
		'the other fingers move on by 4 % as well: the hand lies otherwise',
		glove(8, {...allOthers(creeping(0.55)), ring: drifting}),
	],
	[
		'the others scatter so that their change is known to 4 % only',
		glove(8, {...allOthers(creeping(0, 1.5)), ring: drifting}),
	],
	[
		'both ends, 7.1 % apart, while another finger moves too: it is held otherwise',
		glove(8, {ring: {open: creeping(2.2), closed: creeping(1.2)}, thumb: both(creeping(0.8))}),
	],
	[
		'the open end alone, while another finger moves by 4.6 %',
		glove(8, {ring: {open: creeping(2.2), closed: none}, thumb: both(creeping(0.6))}),
	],
	[
		'ranges that widen at both ends, on all fingers',
		glove(8, {
			...Object.fromEntries(Object.keys(fingers).map(name => [name, {open: creeping(-1.5), closed: creeping(1.5)}])),
		}),
	],
])('is silent: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(name => name.startsWith('baseline-drift'))).toEqual([]);
});

test('waits for six openings', () => {
	const {checks} = sessionOver(glove(5, {ring: drifting})).snapshot();
	expect(checks.find(({code, channel}) => code === 'baseline-drift' && channel === 'ring')).toMatchObject({
		state: 'waiting',
		seen: 5,
		needed: 6,
		next: 'open and close the whole hand',
	});
});

test('is dated back to the last opening before the level had moved by 3 % of span', () => {
	// The ring finger opens at 1 + (2k + 1) × 1.2 s: to the same level up to fist number 4, then by 4 % farther each time.
	const session = sessionOver(glove(10, {ring: both(k => 4 * Math.max(0, k - 4))}));
	const drift = session.findings.find(({code}) => code === 'baseline-drift');
	expect(drift?.from).toBeCloseTo(1 + 9 * pace, 0);
});
