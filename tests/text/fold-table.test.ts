import {describe, expect, it} from 'vitest';
import {foldTable} from '../../source/text/fold-table.ts';

const rows = [
	['finger', 'low', 'span A', 'B', 'range'],
	['thumb', '117', '42', '43', 'sure'],
	['ring', '91', '38', '-', 'fair'],
];

describe('a table', () => {
	it('has its first column at the left, numbers at the right, and words where they are asked for', () => {
		expect(foldTable(rows, {width: 80, left: [4], indent: '  '})).toEqual([
			'  finger  low  span A   B  range',
			'  thumb   117      42  43  sure',
			'  ring     91      38   -  fair',
		]);
	});

	it('goes on below with its first column where it is too wide, a pair together', () => {
		// finger + low are 11 wide, the pair takes 12 more: 23; at 22 it goes below as a whole.
		expect(foldTable(rows, {width: 23, paired: [3]})[0]).toBe('finger  low  span A   B');
		expect(foldTable(rows, {width: 22, paired: [3]})).toEqual([
			'finger  low',
			'thumb   117',
			'ring     91',
			'finger  span A   B',
			'thumb       42  43',
			'ring        38   -',
			'finger  range',
			'thumb    sure',
			'ring     fair',
		]);
	});

	it('measures names as a terminal does', () => {
		expect(
			foldTable(
				[
					['', 'low'],
					['親指', '1'],
					['ring', '2'],
				],
				{width: 80},
			),
		).toEqual(['      low', '親指    1', 'ring    2']);
	});
});
