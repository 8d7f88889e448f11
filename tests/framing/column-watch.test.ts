import {expect, test} from 'vitest';
import {ColumnWatch} from '../../source/framing/column-watch.ts';

/** Frames of a watch whose first column takes these values, beside one that reads counts. */
function watching(values: readonly number[]): ColumnWatch {
	const watch = new ColumnWatch(2);
	for (const [i, value] of values.entries()) watch.take(i / 100, Float64Array.of(value, 500 + ((i * 37) % 91)));
	return watch;
}

/** Four frames at each of two values in turn. */
const toAndFro = (one: number, other: number): number[] =>
	Array.from({length: 40}, (_, i) => (i % 8 < 4 ? one : other));

// A button reads 0 or 1, or goes between 0 and the top of some scale (check-values D6: two-valued); the tops of converters and of firmware begin at 100.
test.each([
	['0 and 1', 0, 1, true],
	['1 and 0', 1, 0, true],
	['0 and the top of 10 bits', 0, 1023, true],
	['0 and the top of percent', 0, 100, true],
	['0 and a single step of five', 0, 5, false],
	['0 and a step of 45', 0, 45, false],
	['1 and the top', 1, 1023, false],
	['two counts side by side', 511, 512, false],
	['0 and −1', 0, -1, false],
])('a column that goes to and fro between %s is a button, or none', (_title, one, other, isButton) => {
	const watch = watching(toAndFro(one, other));
	expect(watch.isPressed(0)).toBe(isButton);
	expect(watch.kinds.isTwoValued(0)).toBe(isButton);
});

/** Frames `seconds` apart from what each column is at frame number `i`. */
function columns(
	frames: number,
	seconds: (i: number) => number,
	...of: readonly ((i: number) => number)[]
): ColumnWatch {
	const watch = new ColumnWatch(of.length);
	for (let i = 0; i < frames; i++) {
		watch.take(
			seconds(i),
			Float64Array.from(of, column => column(i)),
		);
		if (i === 20) watch.guess();
	}
	return watch;
}

const sways = (i: number): number => 500 + Math.round(90 * Math.sin(i / 7));

test.each([
	['0 to 360', 0],
	['−180 to 180', -180],
])('a heading of %s degrees that rises like a clock is none once it has gone round to its bottom', (_title, from) => {
	const step = 5;
	const heading = (i: number): number => from + ((step * i) % 360);
	const round = 360 / step;
	const watch = (frames: number) => columns(frames, i => (i * step) / 1000, heading, sways);
	expect(watch(round).isClock(0)).toBe(true);
	expect(watch(round + 1).isClock(0)).toBe(false);
});

test('a clock keeps the unit that a second of it showed, however late its frames come from then on', () => {
	// Milliseconds, though steps of 600 look like microseconds; from the two hundredth frame on, ten times as far apart.
	const clock = (i: number): number => 600 * i;
	const seconds = (i: number): number => 0.6 * (i < 200 ? i : 200 + 10 * (i - 200));
	expect(columns(200, seconds, clock, sways).steps.clockUnitSeconds(0)).toBe(0.001);
	expect(columns(4000, seconds, clock, sways).steps.clockUnitSeconds(0)).toBe(0.001);
});

test('a finger that has moved for a few seconds, and then rises by one count a frame, is no counter', () => {
	const finger = (i: number): number => (i < 256 ? sways(i) : 400 + i);
	const watch = columns(512, i => i / 100, finger, sways);
	expect(watch.isCounter(0)).toBe(false);
	// One that counts from the first frame on is.
	expect(
		columns(
			512,
			i => i / 100,
			i => i,
			sways,
		).isCounter(0),
	).toBe(true);
});

test.each([
	['0 to 7', (i: number) => i % 8, true],
	['3 to 9', (i: number) => 3 + (i % 7), true],
	['0 to 7 with a start too soon', (i: number) => (i < 5 ? i : (i - 5) % 8), false],
	['0 and 1', (i: number) => i % 2, false],
])('a column that goes round and round is a counter after a few lines, or none: %s', (_title, column, isCounter) => {
	expect(columns(24, i => i / 100, column, sways).isCounter(0)).toBe(isCounter);
});

test.each([
	['4095, where a 12-bit finger may be', 4095, true],
	['4096, beyond any finger: a clock', 4096, false],
])('a few more lines tell what a column is that rises evenly from %s', (_title, from, isUndecided) => {
	expect(
		columns(
			24,
			i => i / 100,
			i => from + 10 * i,
			sways,
		).undecided,
	).toBe(isUndecided);
});

test('a counter beside a clock of microseconds is no second time, though it runs like milliseconds', () => {
	const watch = columns(
		24,
		i => i / 1000,
		i => i,
		i => 5000 + 1000 * i,
		sways,
	);
	expect([watch.isCounter(0), watch.isClock(0), watch.isClock(1)]).toEqual([true, false, true]);
});

test('behind a counter a clock of milliseconds is one, though frames seem to come a fifth too slowly', () => {
	const finger = (c: number) => (i: number) => 500 + Math.round((90 + c) * Math.sin(i / (3 + c) + c));
	const clock = (i: number): number => 2000 + 10 * i;
	const watch = columns(
		24,
		i => i / 80,
		i => i,
		clock,
		finger(0),
		finger(1),
		finger(2),
		finger(3),
		finger(4),
	);
	expect([watch.isCounter(0), watch.isClock(1)]).toEqual([true, true]);
});

test.each([
	['goes on at one pace', (i: number) => 5 * i, true],
	['gets faster and faster', (i: number) => i * i, false],
])('a column that swayed at first and only rises from then on is a clock where it %s', (_title, rise, isClock) => {
	const column = (i: number): number => (i < 30 ? sways(5 * i) : 5000 + rise(i));
	expect(columns(512, i => i / 100, column, sways).isClock(0)).toBe(isClock);
});
