import {expect, test} from 'vitest';
import {ask} from '../../source/faults/ask.ts';
import {findFault} from '../../source/faults/registry.ts';
import {Random} from '../../source/simulator/random.ts';
import type {Timing} from '../../source/stream/source-item.ts';
import {type Course, type Drawing, fists, found, held, sessionOver, sum, through} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';
import {type FingerName, fingerNames, fistsOf, fiveFingers} from '../gloves/five-fingers.ts';

// The signs of an open pin (check-values D5.2) just on either side of their limits: each sign is asked by itself, at the end of
// its drawing, of the ring finger's pin, or of the stick's where there is one. No finger counts as proven
// but where the others are said to be.

type Sign = 'noise' | 'pickup' | 'ghost' | 'sinking' | 'wander';
type Pin = {
	readonly sign: Sign;
	readonly title: string;
	readonly drawing: Drawing;
	readonly proven?: boolean;
	readonly timing?: Timing;
};

const still = Object.fromEntries(fingerNames.map(name => [name, held(20)])) as Record<FingerName, Course>;
/** Beside fingers that work until 9 s. */
const working = (ring: Course, more: Partial<Drawing> = {}): Drawing => ({
	channels: fiveFingers({ring}),
	seconds: 12,
	...more,
});
/** Beside fingers that rest. */
const resting = (ring: Course, more: Partial<Drawing> = {}): Drawing => ({
	channels: fiveFingers({...still, ring}),
	seconds: 8,
	...more,
});
const wave =
	(height: number, hertz: number): Course =>
	t =>
		height * Math.sin(2 * Math.PI * hertz * t);
const mains = 50.03;
/** White noise from one time on, at 100 frames a second. */
function noiseFrom(from: number, rms: number): Course {
	const random = new Random(3);
	const drawn = Array.from({length: 2000}, () => rms * random.normal());
	return t => (t < from ? 0 : drawn[Math.round(100 * t)]);
}
/** After the whole hand has moved twice, the ring finger is pulled twice alone; its wire comes off at 9 s. */
const loosensAt = 9;
const jitter = noiseFrom(0, 1);
const pulled = fists({open: 20, closed: 78, from: 5.5, times: 2, period: 1.6});
/** With noise of so many % FS rms while it has its wire, and so many after that; the others make fists again from 10.2 s on. */
const loosened = (seconds: number, after = 3, before = 0): Drawing => ({
	channels: fiveFingers({
		...Object.fromEntries(
			fingerNames.map(name => [
				name,
				(t: number) => fistsOf(name, t < 6 ? {times: 2} : {times: 10, from: loosensAt + 1.2})(t),
			]),
		),
		ring: t => {
			if (t >= loosensAt) return 45 + after * jitter(t);
			return (t < 5.4 ? fistsOf('ring', {times: 2}) : pulled)(t) + before * jitter(t);
		},
	}),
	seconds: loosensAt + seconds,
	noise: {ring: before > 0 ? 0 : 0.1},
});
/** Likewise, while the others go to and fro without a rest but for one pause of so many seconds. */
function loosenedBeside(pause: number): Drawing {
	const ways = (from: number, first: number, count: number): [number, number][] =>
		Array.from({length: count}, (_, k) => [from + 0.6 * k, (first + k) % 2]);
	const busy = through(...ways(9.15, 0, 6), ...ways(12.15 + pause, 1, 12));
	const far = {thumb: 45, index: 55, middle: 60, little: 52};
	const {channels} = loosened(9);
	const others = Object.entries(far).map(([name, way]): [string, Course] => [
		name,
		t => (t < 6 ? channels[name](t) : 20 + way * busy(t)),
	]);
	return {channels: {...channels, ...Object.fromEntries(others)}, seconds: 17.5};
}
/** An open pin's noise, and what copies of it show. */
const shaking = sum(held(45), noiseFrom(0, 3));
const shareOf =
	(share: number): Course =>
	t =>
		share * shaking(t);
/** A noisy copy of the finger before it; fists without a pause from the first frame on, until 8 s. */
const noisyCopy = (seconds: number): Drawing => {
	const busy = {from: 0, times: 7, period: 1.2};
	return {
		channels: fiveFingers({ring: t => 15 + 0.6 * fistsOf('middle', busy)(t)}, busy),
		seconds,
		noise: {ring: 0.5},
	};
};
const humming = (height: number, more: Partial<Drawing> = {}): Drawing =>
	resting(sum(held(46), wave(height, mains)), {rate: 125, ...more});
/** A line with others beside it, of a share of its height. */
const besides = (share: number): Drawing =>
	resting(sum(held(45), wave(8, mains), wave(8 * share, mains + 1.5), wave(8 * share, mains - 1.5)), {rate: 125});
const copying = (gain: number, more: Course = held(0)): Drawing =>
	working(t => 10 + gain * fistsOf('middle')(t) + more(t));
/** Leaps up by a quarter of the scale and leaks away, every two seconds. */
const sinking =
	(times: number): Course =>
	t => {
		const k = Math.floor((t - 0.5) / 2);
		return 30 + (k >= 0 && k < times ? 25 * Math.exp(-(t - 0.5 - 2 * k) / 0.57) : 0);
	};
/** As often lifted as half a tap at 7 Hz goes, in 71 ms (check-values H16), and let go as slowly: a finger, however it relaxes. */
const flicked =
	(times: number): Course =>
	t => {
		const since = t < 0.5 ? 0 : (t - 0.5) % 2;
		if (t < 0.5 || t >= 0.5 + 2 * times) return 30;
		return (
			30 + 25 * (since < 0.071 ? (1 - Math.cos((Math.PI * since) / 0.071)) / 2 : Math.exp(-(since - 0.071) / 0.57))
		);
	};
const swaying = (height: number, hertz: number, seconds = 12): Drawing =>
	resting(sum(held(45), wave(height, hertz)), {seconds});
const stickSwaying = (height: number): Drawing => ({
	channels: {...still, 'stick-x': sum(held(45), wave(height, 0.7)), 'stick-y': held(50)},
	seconds: 10,
});

/** Whether this sign of an open pin shows. */
function shows({sign, drawing, proven = false, timing}: Pin): boolean {
	const fault = findFault('floating-input');
	if (fault === undefined) throw new Error('no such fault');
	const place = 'stick-x' in drawing.channels ? 5 : 3;
	const ways = fault.ways.filter(({name}) => name === sign);
	const features = featuresOver(drawing, undefined, timing);
	if (proven) for (const f of [0, 1, 2, 4]) features.proven[f] = 1;
	return ask({...fault, ways}, features, place, false).state === 'raised';
}

const open: readonly Pin[] = [
	{sign: 'noise', title: 'noise at 40 frames a second', drawing: working(held(45), {noise: {ring: 3}, rate: 40})},
	{
		sign: 'noise',
		title: 'noise for the first second and a quarter',
		drawing: resting(held(45), {noise: {ring: 3}, seconds: 1.25}),
	},
	{sign: 'noise', title: 'noise for the last second', drawing: working(sum(held(45), noiseFrom(11, 3)))},
	{sign: 'noise', title: 'noise for six seconds on a channel that has moved alone', drawing: loosened(6)},
	{
		sign: 'noise',
		title: 'noise on a channel that has moved alone, of which half a second lies in a rest of the others',
		drawing: loosenedBeside(0.7),
	},
	{
		sign: 'noise',
		title: 'noise 2.5 times what it was when the channel last moved by itself',
		drawing: loosened(5, 3.3, 1.3),
	},
	{
		sign: 'noise',
		title: 'noise for five and a half seconds where the rate is only assumed',
		drawing: resting(held(45), {noise: {ring: 3}, seconds: 5.5}),
		timing: 'assumed',
	},
	{
		sign: 'noise',
		title: 'noise of which the channel after it shows a share',
		drawing: resting(shaking, {channels: {...still, ring: shaking, little: shareOf(0.6)}}),
	},
	{sign: 'pickup', title: 'pickup of 3.6 % FS', drawing: humming(3.6)},
	{sign: 'pickup', title: 'pickup of 35 % FS', drawing: humming(35)},
	{sign: 'pickup', title: 'pickup in three and a quarter seconds', drawing: humming(6, {seconds: 3.25})},
	{sign: 'pickup', title: 'a line 3.5 times as high as what is beside it', drawing: besides(0.4)},
	{sign: 'ghost', title: 'a copy of 35 % of the channel before', drawing: copying(0.35)},
	{sign: 'sinking', title: 'three sinks in eight seconds', drawing: resting(sinking(3))},
	{
		sign: 'sinking',
		title: 'three sinks, each lifted half-way in one frame and the rest in the next',
		drawing: resting(t => sinking(3)(t) - ((t - 0.5) % 2 < 0.005 && t > 0.4 && t < 5 ? 12 : 0)),
	},
	{sign: 'wander', title: 'wander of 2.3 % FS rms', drawing: swaying(3.5, 0.7)},
	{sign: 'wander', title: 'wander of 20 % FS rms', drawing: swaying(30, 0.7)},
	{sign: 'wander', title: 'wander with five turns in five seconds', drawing: swaying(5, 0.55)},
	{sign: 'wander', title: 'wander in five and a quarter seconds', drawing: swaying(6, 0.7, 5.25)},
	{
		sign: 'wander',
		title: 'a noisy copy that has not rested in a second and a quarter in which the others did',
		drawing: noisyCopy(10.5),
		proven: true,
	},
	{
		sign: 'wander',
		title: 'wander through eleven seconds in which the fingers rest, which are proven',
		drawing: working(sum(held(45), wave(3.5, 0.7)), {seconds: 20}),
		proven: true,
	},
	{sign: 'wander', title: 'a stick axis that wanders by 6 % FS rms', drawing: stickSwaying(9)},
];

test.each(open)('is an open pin: $title', pin => {
	expect(shows(pin)).toBe(true);
});

const none: readonly Pin[] = [
	{sign: 'noise', title: 'shaking at 15 Hz, which is smooth', drawing: working(sum(held(45), wave(15, 15)))},
	{sign: 'noise', title: 'noise for the last half second', drawing: working(sum(held(45), noiseFrom(11.4, 3)))},
	{
		sign: 'noise',
		title: 'one frame that leapt, the last but one of a quarter of a second',
		drawing: resting(t => (Math.round(100 * t) === 748 ? 95 : 20)),
		proven: true,
	},
	{sign: 'noise', title: 'noise for four seconds on a channel that has moved alone', drawing: loosened(4)},
	{
		sign: 'noise',
		title: 'noise on a channel that has moved alone, of which a quarter second lies in a rest of the others',
		drawing: loosenedBeside(0.45),
	},
	{
		sign: 'noise',
		title: 'noise 1.7 times what it was when the channel last moved by itself',
		drawing: loosened(5, 3, 1.8),
	},
	{
		sign: 'noise',
		title: 'noise for four seconds where the rate is only assumed',
		drawing: resting(held(45), {noise: {ring: 3}, seconds: 4}),
		timing: 'assumed',
	},
	{
		sign: 'noise',
		title: 'noise that two other channels share, as they do a supply',
		drawing: resting(shaking, {channels: {...still, middle: shareOf(0.8), ring: shaking, little: shareOf(0.6)}}),
	},
	{sign: 'pickup', title: 'pickup of 2.3 % FS', drawing: humming(2.3)},
	{
		sign: 'pickup',
		title: 'what looks like 57 % FS of pickup',
		drawing: resting(t => (wave(1, mains)(t) > 0 ? 95 : 5), {rate: 125}),
	},
	{sign: 'pickup', title: 'pickup in three seconds', drawing: humming(6, {seconds: 3})},
	{sign: 'pickup', title: 'a line 2.9 times as high as what is beside it', drawing: besides(0.5)},
	{sign: 'ghost', title: 'a copy of a quarter of the channel before', drawing: copying(0.25)},
	{
		sign: 'ghost',
		title: 'a copy that leaves a twentieth more than it may',
		drawing: copying(0.6, t => 0.8 * Math.sin(3 * t)),
	},
	{sign: 'sinking', title: 'two sinks', drawing: resting(sinking(2))},
	{sign: 'sinking', title: 'three flicks of a finger that relaxes slower and slower', drawing: resting(flicked(3))},
	{sign: 'wander', title: 'wander of 1.3 % FS rms', drawing: swaying(2, 0.7)},
	{sign: 'wander', title: 'from one end of the scale to the other, 27 % FS rms', drawing: swaying(40, 0.7)},
	{sign: 'wander', title: 'three turns in five seconds', drawing: swaying(5, 0.4)},
	{
		sign: 'wander',
		title: 'wander through eight seconds in which the fingers rest, which are proven',
		drawing: working(sum(held(45), wave(3.5, 0.7)), {seconds: 17}),
		proven: true,
	},
	{sign: 'wander', title: 'a stick axis that is moved by 9.5 % FS rms', drawing: stickSwaying(14)},
];

test.each(none)('is no open pin: $title', pin => {
	expect(shows(pin)).toBe(false);
});

test.each([
	['beside three quiet fingers', 4, ['floating-input middle']],
	['beside two', 3, []],
])('before any finger is proven a noisy pin is told only %s', (_title, fingers, told) => {
	const names = ['middle', 'index', 'ring', 'little'].slice(0, fingers);
	const channels = Object.fromEntries(names.map(name => [name, held(30)]));
	expect(found(sessionOver({channels, noise: {middle: 3}, seconds: 14}))).toEqual(told);
});
