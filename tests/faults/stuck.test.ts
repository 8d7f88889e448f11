import {expect, test} from 'vitest';
import {type Course, type Drawing, fists, found, held, sessionOver, through} from '../gloves/draw.ts';
import {fiveFingers} from '../gloves/five-fingers.ts';

// Check-values D5.4, stuck-low, stuck-high, stuck-mid: nothing but noise while the hand works since the channel last moved.

const closing = {from: 2, times: 6, open: 20, closed: 75};
const worked = (change: Partial<typeof closing> = {}): Course => fists({...closing, ...change});
const glove = (ring: Course, others: Record<string, Course> = {}): Drawing => ({
	channels: {thumb: worked({closed: 50}), index: worked(), middle: worked(), ring, little: worked(), ...others},
	seconds: 16,
});
/** Fingers pulled one after the other, thumb first, `times` each; a pull and its way back take two seconds. */
const pulled = (place: number, times = 3): Course =>
	fists({open: 20, closed: 75, from: 2 + place * times * 2, times, period: 2});

/** Two other fingers are all there is. */
const ofTwo = (times: number): Drawing => ({
	channels: {thumb: worked({closed: 50, times}), index: worked({times}), ring: held(40)},
	seconds: 4 + 2 * times,
});
/** So many % FS more, 5 unless it says, for two frames, now and then. */
const crackling =
	(level: number, more = 5): Course =>
	t =>
		level + (Math.floor(t * 4) % 9 === 0 && (t * 100) % 25 < 2 ? more : 0);
/** To and fro four times a second, once in each quarter second: its mean stays. */
const shaking =
	(level: number, range: number): Course =>
	t =>
		level - (range / 2) * Math.cos(8 * Math.PI * t);
/** A ring at zero beside four others that make two fists; of the last two each moves by itself or copies what is read before it. */
const beside = (areCopies: {readonly middle: boolean; readonly little: boolean}): Drawing => {
	const own = fiveFingers({}, {times: 2});
	const copy =
		(of: Course, gain: number): Course =>
		t =>
			6 + gain * of(t);
	const middle = areCopies.middle ? copy(own.index, 0.9) : own.middle;
	const little = areCopies.little ? copy(middle, 0.9) : own.little;
	return {channels: {ring: held(0), thumb: own.thumb, index: own.index, middle, little}, seconds: 6};
};
/** The stick's x axis at a level for the last seconds of sixteen, in the middle before. */
const stickAt = (level: number, seconds: number): Drawing => ({
	channels: {
		...glove(worked()).channels,
		'stick-x': t => (t < 16 - seconds ? 50 : level),
		'stick-y': held(50),
	},
	seconds: 16,
	noise: 0.05,
});

const fires: readonly [title: string, drawing: Drawing, code: string][] = [
	['a reading that has lain at zero from the start', glove(held(0)), 'stuck-low ring'],
	['one within a hundredth of zero', glove(held(0.8)), 'stuck-low ring'],
	['one that lies at full scale', glove(held(100)), 'stuck-high ring'],
	['one that lies in between', glove(held(40)), 'stuck-mid ring'],
	['one that settled after power-on and has not moved since', glove(t => 35 + 8 * Math.exp(-t)), 'stuck-mid ring'],
	[
		'one that worked, broke off and has lain still through two closings and two openings',
		glove(t => (t < 6.2 ? worked()(t) : 55)),
		'stuck-mid ring',
	],
	[
		'the noise of a 12-bit board: quarter-second means hold still',
		{...glove(held(40)), fullScale: 4095, noise: 0.34},
		'stuck-mid ring',
	],
	['a wire at zero that crackles up to 5 % now and then', glove(crackling(0)), 'stuck-low ring'],
	[
		'one beside three fingers that move by themselves and a pin that copies one of them',
		beside({middle: false, little: true}),
		'stuck-low ring',
	],
	[
		'what leaks into a pin from a neighbour that taps, 0.7 % FS',
		{...glove(shaking(40, 0.7)), noise: 0.03},
		'stuck-mid ring',
	],
	['one beside two fingers that close and open four times', ofTwo(4), 'stuck-mid ring'],
	[
		'a stick axis at a rail for three seconds',
		{channels: {...glove(worked()).channels, 'stick-x': held(100), 'stick-y': held(50)}, seconds: 16},
		'stuck-high stick-x',
	],
	['a stick axis within 0.8 % of full scale for 3.7 s', stickAt(99.2, 3.7), 'stuck-high stick-x'],
	['a stick axis within 0.8 % of zero for 3.7 s', stickAt(0.8, 3.7), 'stuck-low stick-x'],
];

test.each(fires)('is raised: %s', (_title, drawing, code) => {
	expect(found(sessionOver(drawing))).toContain(code);
});

const quiet: readonly [title: string, drawing: Drawing][] = [
	['all fingers work', glove(worked())],
	['one beside two fingers that close and open three times', ofTwo(3)],
	['a wire at 1.3 % that crackles', glove(crackling(1.3))],
	['a wire at 1.3 % that crackles up to 4 % more', glove(crackling(1.3, 4))],
	[
		'one beside two fingers that move by themselves and two pins that copy what is read before them',
		beside({middle: true, little: true}),
	],
	['a finger that taps by half a millimetre of cord, 1.3 % FS', {...glove(shaking(40, 1.3)), noise: 0.03}],
	['one that sways by 0.4 %', {...glove(t => 40 + 0.2 * Math.sin(2 * t)), noise: 0.05}],
	['a stick axis at full scale for two seconds', stickAt(100, 2)],
	['a stick axis at zero for two seconds', stickAt(0, 2)],
	['a stick axis held 1.3 % below full scale', stickAt(98.7, 8)],
	['a stick axis held 1.3 % above zero', stickAt(1.3, 8)],
	[
		'reels pulled one after the other: four lie still while the fifth goes there and back',
		{
			channels: Object.fromEntries(['thumb', 'index', 'middle', 'ring', 'little'].map((name, i) => [name, pulled(i)])),
			seconds: 34,
		},
	],
	[
		'a whole hand that taps four times a second, once in each quarter second',
		{
			channels: Object.fromEntries(
				['thumb', 'index', 'middle', 'ring', 'little'].map((name, i) => [
					name,
					(t: number) => (t < 6 ? worked()(t) : 45 - (20 + i) * Math.cos(8 * Math.PI * t)),
				]),
			),
			seconds: 14,
			noise: 0.3,
		},
	],
	[
		'a hand that rests and sways',
		glove(held(40), {thumb: held(20), index: held(20), middle: held(20), little: held(20)}),
	],
	[
		'a finger that rests while one closing and one opening of the others go by',
		glove(through([2, 20], [2.4, 75], [3, 75], [3.4, 20]), {
			index: worked({times: 2}),
			middle: worked({times: 2}),
			little: worked({times: 2}),
			thumb: worked({times: 2}),
		}),
	],
	[
		'firmware that clips all its fingers to both rails: an open hand lies at zero',
		{
			channels: Object.fromEntries(
				['thumb', 'index', 'middle', 'little'].map(name => [
					name,
					(t: number) => Math.min(100, Math.max(0, worked({open: -10, closed: 110})(t))),
				]),
			),
			seconds: 16,
		},
	],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(code => code.startsWith('stuck'))).toEqual([]);
});

test('waits for the hand to work since the channel last moved, and says who has moved', () => {
	const session = sessionOver(
		glove(held(40), {
			little: worked({times: 1}),
			index: worked({times: 1}),
			middle: worked({times: 1}),
			thumb: worked({times: 1, closed: 50}),
		}),
	);
	const row = session.snapshot().checks.find(({code, channel}) => code === 'stuck-mid' && channel === 'ring');
	expect(row).toEqual({
		code: 'stuck-mid',
		channel: 'ring',
		state: 'waiting',
		seen: 2,
		needed: 4,
		next: 'ring has not moved yet, the others have: move it with the whole hand',
	});
});

test('closes when the channel moves again', () => {
	const session = sessionOver({...glove(t => (t < 9 ? 40 : worked({times: 10})(t))), seconds: 20});
	const [finding] = session.findings.filter(({code}) => code === 'stuck-mid');
	expect(finding.channel).toBe('ring');
	expect(finding.to).toBeGreaterThanOrEqual(9);
	expect(finding.to).toBeLessThan(11);
});
