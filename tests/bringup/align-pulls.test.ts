import {describe, expect, it} from 'vitest';
import {alignPulls} from '../../source/bringup/align-pulls.ts';
import type {Pull} from '../../source/bringup/pull-tracker.ts';

/** Pulls of these columns one after the other, three of each unless said otherwise. */
function pulls(columns: readonly number[], times = 3): Pull[] {
	return columns.flatMap(column =>
		Array.from({length: times}, () => ({
			column,
			from: 0,
			peakAt: 0,
			to: 0,
			before: 0,
			after: 0,
			excursion: 600,
			wobble: 0,
			dropouts: 0,
		})),
	);
}

const own = [0, 1, 2, 3, 4];
const answers = (list: readonly Pull[]) => alignPulls(list, own).map(group => group[0]?.column ?? null);

describe('pulls told apart by their order', () => {
	it.each([
		['each in its place', [0, 1, 2, 3, 4], [0, 1, 2, 3, 4]],
		['two exchanged', [0, 3, 2, 1, 4], [0, 3, 2, 1, 4]],
		['neighbours exchanged', [0, 2, 1, 3, 4], [0, 2, 1, 3, 4]],
		['the whole hand mirrored', [4, 3, 2, 1, 0], [4, 3, 2, 1, 0]],
		['one dead in the middle', [0, 1, 3, 4], [0, 1, null, 3, 4]],
		['the first dead', [1, 2, 3, 4], [null, 1, 2, 3, 4]],
		['the last dead', [0, 1, 2, 3], [0, 1, 2, 3, null]],
		['two dead', [0, 2, 4], [0, null, 2, null, 4]],
		['one dead and two exchanged', [0, 3, 1, 4], [0, 3, null, 1, 4]],
	])('with %s', (_, order, expected) => {
		expect(answers(pulls(order))).toEqual(expected);
	});

	it('whether they were done once, thrice or more often', () => {
		expect(answers(pulls(own, 1))).toEqual(own);
		expect(answers([...pulls([0], 5), ...pulls([1, 2], 3), ...pulls([3], 2), ...pulls([4], 4)])).toEqual(own);
	});

	it('with a stray pull in between, or before', () => {
		expect(answers([...pulls([0, 1]), ...pulls([4], 1), ...pulls([2, 3, 4])])).toEqual(own);
		expect(answers([...pulls([0], 2), ...pulls([3], 1), ...pulls([0], 1), ...pulls([1, 2, 3, 4])])).toEqual(own);
	});

	it('with none at all', () => {
		expect(answers([])).toEqual([null, null, null, null, null]);
	});
});
