import {describe, expect, it} from 'vitest';
import {intoColumns, trendRows} from '../../source/dashboard/trend-rows.ts';
import {rowText} from '../../source/screen/rows.ts';
import type {Snapshot} from '../../source/session/snapshot.ts';
import {asciiLook, glyphs, healthy, makeFinding, makePicture} from './sample-picture.ts';

const trend = {
	from: 0,
	to: 20,
	series: [{name: 'ring', buckets: Array.from({length: 54}, (_, index) => ({low: index * 10, high: index * 10}))}],
};
const snapshot: Snapshot = {...healthy, findings: [], marks: []};
const text = (given = snapshot, width = 60, height = 12, look = glyphs) =>
	trendRows(makePicture(given, {trend}), width, height, look, true).map(rowText);

describe('trendRows', () => {
	it('draws the same history anew where a finding, a mark, the size or the signs are others', () => {
		const plain = text();
		expect(text()).toEqual(plain);
		const found = text({...snapshot, findings: [makeFinding({flaggedAt: 10})]});
		expect(found.join('\n')).toContain('▼');
		expect(text({...snapshot, marks: [{t: 10, mark: 'reel'}]}).join('\n')).toContain('◆');
		expect(text()).toEqual(plain);
		expect(text(snapshot, 60, 8)).toHaveLength(8);
		expect(text(snapshot, 40).every(line => line.length <= 40)).toBe(true);
		expect(text(snapshot, 60, 12, asciiLook.glyphs).join('')).toMatch(/^[ -~]*$/);
	});

	it('says so where there is nothing to draw', () => {
		expect(trendRows(makePicture(healthy), 60, 12, glyphs, true).map(rowText)).toEqual([' trend: nothing to draw yet']);
	});
});

describe('intoColumns', () => {
	it('keeps extremes, and holds a reading until the next one came', () => {
		expect(intoColumns([0, 1, 2, 10], [5, 1, 9, 4], 5)).toEqual([
			{low: 1, high: 5},
			{low: 9, high: 9},
			{low: 9, high: 9},
			{low: 9, high: 9},
			{low: 4, high: 4},
		]);
	});
});
