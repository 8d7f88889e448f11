import {expect, test} from 'vitest';
import {hiddenMains, showsMains} from '../../source/features/mains-lines.ts';

// From the table of aliases, worked by hand: |f − fs·round(f/fs)| below 2 Hz.
test.each([
	[25, [50]],
	[50, [50]],
	[20, [60]],
	[30, [60]],
	[60, [60]],
	[59.94, [60]],
	[100, []],
	[64, []],
	[10, [50, 60]],
])('at %d frames a second the mains frequencies that cannot be told are %j', (rate, hidden) => {
	expect(hiddenMains(rate)).toEqual(hidden);
	expect(showsMains(rate)).toBe(hidden.length < 2);
});
