import {describe, expect, it} from 'vitest';
import {drawStickField as drawField, fieldColumns, reachRows, stickLine} from '../../source/dashboard/stick-field.ts';
import {rowText} from '../../source/screen/rows.ts';
import type {ChannelView, StickView} from '../../source/session/snapshot.ts';
import {channelNamed, glyphs, healthy} from './sample-picture.ts';

const still: StickView = {
	x: 'stick-x',
	y: 'stick-y',
	restX: null,
	restY: null,
	reach: [0, 0, 0, 0, 0, 0, 0, 0],
	deadZone: null,
};

const axis = (now: number): ChannelView => ({
	...channelNamed(healthy, 'stick-x'),
	fullScale: 1024,
	min: 0,
	max: 1024,
	now,
});

/** The field's text. */
const drawStickField = (...given: Parameters<typeof drawField>) => drawField(...given).map(rowText);

function find(field: readonly string[], character: string): [column: number, row: number][] {
	return field.flatMap((line, row) =>
		[...line].flatMap((each, column): [number, number][] => (each === character ? [[column, row]] : [])),
	);
}

describe('the stick’s field', () => {
	it('puts mid-scale in the middle, more x to the right, more y up', () => {
		const middle = find(drawStickField(still, axis(512), axis(512), 9, glyphs), glyphs.stickNow);
		expect(middle).toEqual([[8, 4]]);
		expect(find(drawStickField(still, axis(1024), axis(1024), 9, glyphs), glyphs.stickNow)).toEqual([[15, 1]]);
		expect(find(drawStickField(still, axis(0), axis(0), 9, glyphs), glyphs.stickNow)).toEqual([[1, 7]]);
	});

	it('is twice as many columns wide as rows high, less one, so that a circle is round', () => {
		for (const height of [7, 9, 12, 17]) {
			const field = drawStickField(still, axis(512), axis(512), height, glyphs);
			expect(field).toHaveLength(height);
			for (const line of field) expect([...line]).toHaveLength(2 * height - 1);
			expect(fieldColumns(height)).toBe(2 * height - 1);
		}

		// Full reach in all directions: cells are 1 wide and 2 high, and the farthest marks lie equally far off.
		const round = {...still, reach: Array(8).fill(0.9)};
		const marks = find(drawStickField(round, axis(512), axis(512), 17, glyphs), glyphs.reach);
		expect(marks).toHaveLength(8);
		const distances = marks.map(([column, row]) => Math.hypot(column - 16, 2 * (row - 8)));
		expect(Math.max(...distances) - Math.min(...distances)).toBeLessThanOrEqual(2);
	});

	it('draws the dead zone around the rest point', () => {
		const stick = {...still, restX: 512, restY: 512, deadZone: 128};
		const field = drawStickField(stick, axis(900), axis(512), 17, glyphs);
		// The first row is the frame, with the name of the axis in it.
		expect(find(field, glyphs.stickRest).filter(([, row]) => row > 0)).toEqual([[16, 8]]);
		// A quarter of half scale: a quarter of 15 columns and of 7 rows off the middle.
		const columns = find(field, glyphs.deadZone).map(([column]) => column);
		expect([Math.min(...columns), Math.max(...columns)]).toEqual([12, 20]);
	});

	it('keeps a reading that is not there off the field', () => {
		expect(find(drawStickField(still, axis(Number.NaN), axis(512), 9, glyphs), glyphs.stickNow)).toEqual([]);
	});

	it('says in a table which directions fall short', () => {
		const rows = reachRows({...still, reach: [0.93, 0.9, 0.9, 0.9, 0.5, 0.9, 0.9, 0]}).map(line =>
			rowText(line).trimEnd(),
		);
		expect(rows).toEqual([
			'x+      93 %       x-      50 % short',
			'x+ y+   90 %       x- y-   90 %',
			'y+      90 %       y-      90 %',
			'x- y+   90 %       x+ y-    0 %',
		]);
	});

	it('fits one line on a small screen', () => {
		const row = stickLine({...still, restX: 510, restY: 515}, axis(512), axis(300), healthy, glyphs);
		const mark = axis(0).state === 'proven' ? '✓' : '·';
		expect(rowText(row)).toBe(`stick   x ····█····  y ··█······   512  300 rest 510 515  ${mark} ${axis(0).state}`);
	});
});
