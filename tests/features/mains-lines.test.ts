import {expect, test} from 'vitest';
import {showsMains} from '../../source/features/mains-lines.ts';

// From the table of aliases (check-values N8), worked by hand: |f − fs·round(f/fs)| is 2 Hz or more for 50 or for 60 Hz.
test.each([
	[10, false],
	[20, true],
	[25, true],
	[30, true],
	[50, true],
	[59.94, true],
	[60, true],
	[100, true],
])('at %s frames a second a mains line shows: %s', (rate, shows) => {
	expect(showsMains(rate)).toBe(shows);
});
