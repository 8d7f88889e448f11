import {expect, test} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import {Random} from '../../source/simulator/random.ts';
import {type Course, type Drawing, fists, found, sessionOver, sum, through} from '../gloves/draw.ts';

// Check-values D5.4, rough-track: at least 60 kinks a minute of movement and 1.6 times their rate outside it, in 6 s of movement.

/** Slowly to and fro without a rest, two seconds a way. */
const sweeps = (closed: number, ways = 12): Course =>
	through(...Array.from({length: ways + 1}, (_, k) => [1 + 2 * k, k % 2 === 0 ? 25 : closed] as const));

const glove = (ring: Course, more: Partial<Drawing> = {}, others: Record<string, Course> = {}): Drawing => ({
	channels: {thumb: sweeps(50), index: sweeps(72), middle: sweeps(80), ring, little: sweeps(66), ...others},
	seconds: 26,
	rate: 50,
	...more,
});

/** One frame (at 50 a second) off by `height`, so many times a minute, from one time to another. */
const crackling =
	(course: Course, perMinute: number, height: number, from = 0, to = 1000): Course =>
	t => {
		const gap = 60 / perMinute;
		const k = Math.floor((t - from) / gap);
		const isKink = t >= from && t < to && t - from - k * gap < 0.02 - 1e-9;
		return course(t) + (isKink ? (k % 2 === 0 ? height : -height) : 0);
	};

/** Through `[time, level]` in order, each way at one speed: where it is not on a way it rests. */
const evenly =
	(...points: readonly (readonly [t: number, level: number])[]): Course =>
	t => {
		const next = points.findIndex(([at]) => at > t);
		if (next <= 0) return points[next < 0 ? points.length - 1 : 0][1];
		const [[from, low], [to, high]] = [points[next - 1], points[next]];
		return low + ((high - low) * (t - from)) / (to - from);
	};
/** The same to and fro from 1 s on, two seconds a way. */
const evenSweeps = evenly(...Array.from({length: 16}, (_, k) => [1 + 2 * k, k % 2 === 0 ? 25 : 75] as const));

/** Like `crackling`, at uneven gaps, where `when` says so. */
function grainy(course: Course, perMinute: number, height: number, when: (t: number) => boolean): Course {
	const random = new Random(11);
	const off = new Map<number, number>();
	const gap = 60 / perMinute;
	for (let t = 0; t < 40; t += random.uniform(0.75, 1.25) * gap)
		if (when(t)) off.set(Math.round(50 * t), off.size % 2 === 0 ? height : -height);
	return t => course(t) + (off.get(Math.round(50 * t)) ?? 0);
}

/** Ways from 25 to 75 % FS and back, two seconds each; the first is to 25. */
const toAndFro = (from: number, ways: number): [number, number][] =>
	Array.from({length: ways}, (_, k) => [from + 2 * k, k % 2 === 0 ? 25 : 75]);

/** Crackles in each of its two movements, and so much at rest between them. */
const inBoth = evenly([1, 25], [3, 75], [5, 25], [6, 50], [20, 50], [21, 75], ...toAndFro(23, 7));
const atRestToo = (moving: number, resting: number): Drawing =>
	glove(
		grainy(
			grainy(inBoth, moving, 6, t => (t > 1.1 && t < 6) || t > 20.1),
			resting,
			6,
			t => t > 6.5 && t < 19.7,
		),
		{seconds: 33},
	);

/** Crackles 110 times a minute while it moves, on a channel of this noise. */
const noisy = (rms: number): Drawing =>
	glove(
		grainy(
			evenly([2, 25], [4, 75], [6, 25], [10, 25], [12, 75], ...toAndFro(14, 5)),
			110,
			8,
			t => (t > 2 && t < 6) || (t > 10 && t < 22),
		),
		{noise: {ring: rms}},
	);

/** Crackles while it moves; in every so manieth half second of the movement the supply of all channels leaps. */
function beside(every: number): Drawing {
	const random = new Random(7);
	const leaps = Array.from({length: 1500}, () => 0.03 * random.normal());
	const isShaken = (t: number): boolean => t >= 2 && Math.floor(2 * t + 1e-9) % every === 0;
	const isWithin = (t: number): boolean => [t - 0.06, t, t + 0.06].every(near => !isShaken(near));
	const ring = grainy(evenSweeps, 150, 6, t => t > 1.1 && Math.abs(((t - 1) % 2) - 1) < 0.85 && isWithin(t));
	const drawing = glove(ring, {seconds: 30});
	return {
		...drawing,
		channels: Object.fromEntries(
			Object.entries(drawing.channels).map(([name, course]) => [
				name,
				t => course(t) * (isShaken(t) ? 1 + leaps[Math.round(50 * t)] : 1),
			]),
		),
	};
}

/** Ten seconds of movement, then rest. */
const moved = sweeps(75, 5);

const fires: readonly [title: string, drawing: Drawing][] = [
	['80 kinks a minute of movement', glove(crackling(sweeps(75), 80, 6))],
	['after eight seconds of movement', glove(crackling(sweeps(75), 110, 6), {seconds: 9.8})],
	['twice as many as at rest', glove(crackling(crackling(moved, 150, 6, 0, 11), 70, 6, 11.5), {seconds: 26})],
	['1.8 times as many as at rest', atRestToo(100, 55)],
	['noise of 0.5 % FS beside it', noisy(0.5)],
	['a supply that leaps in one of seven half seconds', beside(7)],
	['two frames off at a time', {...glove(crackling(sweeps(75), 80, 6)), rate: 100}],
	['a finger that uses 20 % of the scale', glove(crackling(sweeps(45), 80, 2.5))],
];

test.each(fires)('is raised: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing))).toContain('rough-track ring');
});

const shared = (closed: number): Course => crackling(sweeps(closed), 120, 6);
const tapping: Course = t => 30 + 25 * (1 - Math.cos(2 * Math.PI * 5 * t));

/**
 * Bends and stretches slowly, with a rest after each way; on its way it flicks back by 14 % FS and on again three times, each as
 * long as a tap at 7 Hz takes there and back. At 25 frames a second two of them lie off the path.
 */
const flicking: Course = t => {
	const onWay = (t + 3) % 4;
	const fromMiddle = ((onWay + 0.08) % 0.6) - 0.3;
	const isFlick = onWay < 1.9 && Math.abs(fromMiddle) < 0.5 / 7;
	return slowly(t) - (isFlick ? 7 * (1 + Math.cos(2 * Math.PI * 7 * fromMiddle)) : 0);
};
const slowly = evenly(
	...[1, 5, 9, 13, 17, 21].flatMap((at, k): [number, number][] => [
		[at, k % 2 === 0 ? 25 : 75],
		[at + 2, k % 2 === 0 ? 75 : 25],
	]),
);

const quiet: readonly [title: string, drawing: Drawing][] = [
	['a smooth track', glove(sweeps(75))],
	['45 kinks a minute of movement', glove(crackling(sweeps(75), 45, 6))],
	['five seconds of movement', glove(crackling(sweeps(75), 110, 6), {seconds: 6})],
	[
		'150 a minute in movement beside 115 at rest',
		glove(
			crackling(
				crackling(
					sum(moved, t => moved(t - 20) - 25),
					115,
					6,
					11.5,
					20.5,
				),
				150,
				6,
				21,
			),
			{seconds: 31},
		),
	],
	['1.4 times as many as at rest', atRestToo(80, 55)],
	['noise of 0.9 % FS beside it, a tenth of its height', noisy(0.9)],
	['a supply that leaps in one of four half seconds', beside(4)],
	['kinks of 1.3 % FS', glove(crackling(sweeps(45), 120, 1.3))],
	['kinks of 4 % of its span', glove(crackling(sweeps(90), 120, 2.6))],
	['kinks that another channel shares', glove(shared(75), {}, {index: shared(72)})],
	['noise of 1 % FS, which has kinks of its own size', glove(sweeps(75), {noise: {ring: 1}})],
	['fists at three a second', glove(fists({open: 25, closed: 75, times: 60, period: 0.33, way: 0.16}))],
	[
		'fists at three a second, at 33 frames a second',
		glove(fists({open: 25, closed: 75, times: 60, period: 0.33, way: 0.16}), {rate: 33}),
	],
	['tapping at five a second, at 20 frames a second', glove(tapping, {rate: 20})],
	['tapping at five a second, at 33 frames a second', glove(tapping, {rate: 33})],
	['a finger that flicks on its way, at 25 frames a second', glove(flicking, {rate: 25})],
	['steps of a firmware that smooths over a grid of 2 % FS', glove(t => 2 * Math.round(sweeps(75)(t) / 2), {noise: 0})],
];

test.each(quiet)('is silent: %s', (_title, drawing) => {
	expect(found(sessionOver(drawing)).filter(name => name.startsWith('rough-track'))).toEqual([]);
});

test('what was quiet before it began to crackle, in motion and at rest, does not make it a worn track', () => {
	const still = (t: number) => t < 8 || (t > 16 && t < 20);
	const course = (t: number) => (still(t) ? 25 : 50 - 25 * Math.cos(Math.PI * (t < 16 ? t - 8 : t - 20)));
	const ring = grainy(course, 110, 6, t => t > 7.5);
	expect(found(sessionOver(glove(ring, {seconds: 40})))).not.toContain('rough-track ring');
	const inMotionAlone = grainy(course, 110, 6, t => t > 7.5 && !still(t));
	expect(found(sessionOver(glove(inMotionAlone, {seconds: 40})))).toContain('rough-track ring');
});

test('ends with its last kink', () => {
	// Not where the wiper turns and so stands: there a worn track is quiet.
	const onItsWay = (t: number) => t < 20 && Math.abs(((t - 1) % 2) - 1) < 0.7;
	const session = sessionOver(glove(grainy(sweeps(75, 40), 150, 6, onItsWay), {seconds: 80}));
	const [finding] = session.findings.filter(({code}) => code === 'rough-track');
	expect(finding.to).toBeGreaterThan(19);
	expect(finding.to).toBeLessThan(20.1);
});

test('waits for six seconds of movement', () => {
	const row = checkRows(sessionOver(glove(through([1, 25], [3, 75], [5, 25])))).find(
		({code, channel}) => code === 'rough-track' && channel === 'ring',
	);
	expect(row).toMatchObject({state: 'waiting', needed: 6, next: 'bend and stretch ring slowly for some seconds'});
});
