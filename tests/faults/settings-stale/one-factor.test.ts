import {expect, test} from 'vitest';
import {fists, sessionOver} from '../../gloves/draw.ts';

// Check-values D5.4, settings-stale: all fingers by one factor are one finding, whose cause is the supply or the full scale.

test('all fingers by one factor: the supply is measured before anything is typed into the sheet', () => {
	const names = ['thumb', 'index', 'middle', 'ring', 'little'];
	const counts = (percent: number): number => Math.round(40.95 * percent);
	const ends = names.map((_, i) => [25 + 2 * i, 70 + 3 * i] as const);
	const fingers = Object.fromEntries(
		names.map((name, i) => [name, {min: counts(ends[i][0]), max: counts(ends[i][1]), inverted: false}]),
	);
	const channels = Object.fromEntries(
		names.map((name, i) => [
			name,
			fists({open: 0.86 * ends[i][0], closed: 0.86 * ends[i][1], times: 4, from: 1 + 0.04 * i}),
		]),
	);
	const {findings} = sessionOver({channels, seconds: 10, rate: 50, fullScale: 4095}, {fingers});
	expect(findings.map(({code, channel}) => [code, channel])).toEqual([['settings-stale', null]]);
	expect(findings[0].advice.slice(0, 2)).toEqual([
		"Supply at a pot's outer lugs, and full scale of the board — as when the sheet was made",
		expect.stringMatching(/glovebench fit.*index: min = \d+, max = \d+/),
	]);
});
