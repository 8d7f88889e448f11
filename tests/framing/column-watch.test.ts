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

// A button reads 0 or 1, or goes between 0 and the top of some scale (design §6: two-valued); the tops of converters and of firmware begin at 100.
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
	expect(watch.isTwoValued(0)).toBe(isButton);
});
