import {describe, expect, it} from 'vitest';
import {drawTrend, scaleOf, type TrendInput, trendAxisWidth, trendBuckets} from '../../source/dashboard/trend-chart.ts';
import {rowText} from '../../source/screen/rows.ts';
import {glyphs} from './sample-picture.ts';

const flat = (values: readonly number[]) => values.map(value => ({low: value, high: value}));

function draw(fields: Partial<TrendInput>): string[] {
	return drawTrend({
		series: [],
		from: 0,
		to: 10,
		marks: [],
		width: 26,
		height: 8,
		glyphs,
		scale: {low: 0, high: 50},
		...fields,
	}).map(rowText);
}

/** Chart columns without the value axis. */
const plotOf = (lines: readonly string[]) => lines.slice(0, -2).map(line => [...line].slice(trendAxisWidth).join(''));

describe('drawTrend', () => {
	it('draws a step where it happens, on the rows its values belong to', () => {
		const values = [...Array(10).fill(0), ...Array(10).fill(50)];
		const lines = draw({series: [{name: 'ring', buckets: flat(values)}]});
		expect(plotOf(lines)).toEqual(
			['         ╭──────────', '         │', '         │', '         │', '         │', '─────────╯'].map(line =>
				line.padEnd(20),
			),
		);
	});

	it('shows a dip of one frame however far it is zoomed out', () => {
		const buckets = flat(Array(20).fill(50)).map((bucket, index) => (index === 7 ? {low: 0, high: 50} : bucket));
		const plot = plotOf(draw({series: [{name: 'ring', buckets}]}));
		expect(plot.map(line => line[7])).toEqual(expect.arrayContaining(['│']));
		expect(plot.at(-1)![7]).toBe('│');
		expect(plot.at(-1)!.replaceAll(' ', '')).toBe('│');
	});

	it('interrupts the line where nothing was received', () => {
		const values = Array(20).fill(25).fill(Number.NaN, 5, 12);
		const plot = plotOf(draw({series: [{name: 'ring', buckets: flat(values)}]}));
		expect(plot.some(line => /^─{5} {7}─{8}$/.test(line))).toBe(true);
	});

	it('tells several channels apart by their lines, not by tone alone', () => {
		const rows = draw({
			series: [
				{name: 'ring', buckets: flat(Array(20).fill(0))},
				{name: 'little', buckets: flat(Array(20).fill(50))},
			],
		});
		expect(plotOf(rows)[0]).toBe('━'.repeat(20));
		expect(plotOf(rows)[5]).toBe('─'.repeat(20));
	});

	it('labels the ends of both axes and marks what happened', () => {
		const rows = draw({
			series: [{name: 'ring', buckets: flat(Array(20).fill(0))}],
			from: 60,
			to: 70,
			marks: [
				{t: 60, kind: 'finding'},
				{t: 70, kind: 'note'},
				{t: 71, kind: 'finding'},
			],
		});
		expect(rows[0].slice(0, 6)).toBe('   50│');
		expect(rows[5].slice(0, 6)).toBe('    0│');
		expect(rows.at(-2)).toContain('┴1:00');
		expect(rows.at(-1)).toBe(`${' '.repeat(6)}▼${' '.repeat(18)}◆`);
	});

	it('has the size it was asked for, whatever the readings', () => {
		for (const [width, height] of [
			[20, 4],
			[53, 6],
			[100, 30],
		] as const) {
			const buckets = Array.from({length: trendBuckets(width)}, (_, index) => ({
				low: (index * 37) % 900,
				high: (index * 71) % 1023,
			}));
			const lines = drawTrend({series: [{name: 'x', buckets}], from: 0, to: 1, marks: [], width, height, glyphs}).map(
				rowText,
			);
			expect(lines).toHaveLength(height);
			for (const line of lines) expect([...line].length).toBeLessThanOrEqual(width);
		}
	});
});

describe('scaleOf', () => {
	it('ends on round numbers around the readings', () => {
		expect(scaleOf([{name: 'x', buckets: [{low: 129, high: 893}]}])).toEqual({low: 0, high: 1000});
	});

	it('gives noise of a count or two no more than a few rows', () => {
		const {low, high} = scaleOf([{name: 'x', buckets: [{low: 511, high: 513}]}]);
		expect(high - low).toBeGreaterThanOrEqual(8);
	});

	it('does without readings', () => {
		expect(scaleOf([{name: 'x', buckets: [{low: Number.NaN, high: Number.NaN}]}])).toEqual({low: 0, high: 1});
	});
});
