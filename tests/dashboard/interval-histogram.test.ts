import {describe, expect, it} from 'vitest';
import {binEdgeMs, drawHistogram} from '../../source/dashboard/interval-histogram.ts';
import {rowText} from '../../source/screen/rows.ts';
import {glyphs} from './sample-picture.ts';

const bins = (filled: Readonly<Record<number, number>>) => Array.from({length: 60}, (_, bin) => filled[bin] ?? 0);

describe('drawHistogram', () => {
	it('draws only the stretch that holds anything', () => {
		const rows = drawHistogram(bins({26: 100, 27: 50}), 60, 5, glyphs).map(rowText);
		expect(rows).toHaveLength(5);
		// One empty bin at each side, four columns a bin.
		expect(rows[0]).toBe(`    ████${' '.repeat(8)}`);
		expect(rows[3]).toBe(`    ████████${' '.repeat(4)}`);
	});

	it('keeps a rare long gap visible beside a hundred thousand usual ones', () => {
		const rows = drawHistogram(bins({26: 100_000, 45: 1}), 60, 5, glyphs).map(rowText);
		expect(rows[3].trimEnd().endsWith('▁▁')).toBe(true);
	});

	it('labels its bins with their lower edges', () => {
		// A bin is a quarter octave above 0.1 ms: bin 8 begins at 0.1 × 2² ms.
		expect(binEdgeMs(8)).toBeCloseTo(0.4, 12);
		expect(rowText(drawHistogram(bins({9: 1}), 60, 4, glyphs).at(-1)!)).toContain('0.40 ms');
	});

	it('says so before there is anything to draw', () => {
		expect(drawHistogram(bins({}), 60, 5, glyphs).map(rowText)).toEqual(['no intervals yet']);
	});
});
