import {scaleLinear} from 'd3-scale';
import {describe, expect, test} from 'vitest';
import {bendingTable} from '../../source/ruler/bending-table.ts';

const curve = [100, 130, 160, 310, 460, 610, 760].map((level, i) => ({mm: 5 * i, level}));

describe('nine readings at even lengths of cord', () => {
	test('are those of d3-scale, piece by piece', () => {
		const levelAt = scaleLinear()
			.domain(curve.map(({mm}) => mm))
			.range(curve.map(({level}) => level));
		const table = bendingTable(curve, 100, 760)!;
		expect(table).toEqual(Array.from({length: 9}, (_, i) => expect.closeTo(levelAt((30 * i) / 8), 9)));
	});

	test('begin and end at the range of the hand, within the ruler or a little beyond it', () => {
		const inside = bendingTable(curve, 130, 610)!;
		expect([inside[0], inside[8]]).toEqual([expect.closeTo(130, 9), expect.closeTo(610, 9)]);
		// 80 counts beyond the last mark are 80 / 30 mm of the last step: the middle lies at (0 + 32.67) / 2 mm.
		const beyond = bendingTable(curve, 100, 840)!;
		expect(beyond[8]).toBeCloseTo(840, 9);
		expect(beyond[4]).toBeCloseTo(310 + ((16 + 1 / 3 - 15) / 5) * 150, 9);
	});

	test('rise where the reading falls as the cord is pulled, too', () => {
		const falling = curve.map(({mm, level}) => ({mm, level: 860 - level}));
		const table = bendingTable(falling, 100, 760)!;
		expect(table).toEqual([...bendingTable(curve, 100, 760)!].reverse().map(level => expect.closeTo(860 - level, 9)));
	});

	test('are none where the ruler covers less than four fifths of the range, or the curve turns back', () => {
		expect(bendingTable(curve, 100, 1000)).toBeUndefined();
		expect(bendingTable([...curve, {mm: 35, level: 500}], 100, 760)).toBeUndefined();
	});
});
