import {describe, expect, it} from 'vitest';
import {fitRow, row, rowText, rowWidth, spreadRow, trimRow} from '../../source/screen/rows.ts';

describe('rows', () => {
	it('are cut and filled to exactly the width asked for', () => {
		const pieces = [{text: 'ring ', tone: 'strong' as const}, {text: '操り人形'}];
		for (let width = 0; width < 20; width++) expect(rowWidth(fitRow(pieces, width))).toBe(width);
		expect(rowText(fitRow(pieces, 8))).toBe('ring 操 ');
	});

	it('carry an alert’s inverse to the end of the line', () => {
		expect(fitRow(row('NEW', 'alert'), 6)).toEqual([
			{text: 'NEW', tone: 'alert'},
			{text: '   ', tone: 'alert'},
		]);
	});

	it('spread to both ends, the left giving way', () => {
		expect(rowText(spreadRow(row('left hand'), row('0:12'), 15))).toBe('left hand  0:12');
		expect(rowText(spreadRow(row('left hand'), row('0:12'), 8))).toBe('left0:12');
		expect(rowText(spreadRow(row('left hand'), row('0:12'), 3))).toBe('0:1');
	});

	it('lose the blanks at their ends, and know what is left', () => {
		expect(trimRow(fitRow([{text: '糸 ', tone: 'strong'}], 9), 9)).toEqual({
			row: [{text: '糸', tone: 'strong'}],
			columns: 2,
		});
		expect(trimRow(fitRow(row('NEW', 'alert'), 6), 6).columns).toBe(6);
		expect(trimRow(fitRow([], 6), 6)).toEqual({row: [], columns: 0});
	});
});
