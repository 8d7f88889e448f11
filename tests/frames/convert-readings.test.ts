import {expect, test} from 'vitest';
import {conversionsFor, toBits} from '../../source/frames/convert-readings.ts';
import type {FrameColumn} from '../../source/frames/frame-columns.ts';
import type {Sheet} from '../../source/sheet/sheet.ts';

const column = (name: string, role: 'finger' | 'stick' | 'button' | 'counter', index = 0): FrameColumn => ({
	heading: name,
	channel: {index, name, role},
});
const scale = {fullScale: 1023, lowOf: () => 0};

test('12 bits of 10 are ⌊v·4095/1023⌋, and going back gives every count again', () => {
	// Specification F: 1023 → 4095; 512·4095/1023 = 2049.50…, 1·4095/1023 = 4.002….
	expect([0, 1, 512, 1023].map(value => toBits(value, 1023, 12))).toEqual([0, 4, 2049, 4095]);
	for (let value = 0; value <= 1023; value++) expect(toBits(toBits(value, 1023, 12), 4095, 10)).toBe(value);
});

test('--bits leaves buttons and counters as they came, and counts of as many bits', () => {
	const columns = [column('thumb', 'finger'), column('button-1', 'button'), column('counter', 'counter')];
	expect(conversionsFor(columns, {bits: 12}, undefined, scale).map(convert => convert(1))).toEqual([4, 1, 1]);
	expect(conversionsFor(columns, {bits: 10}, undefined, scale).map(convert => convert(700))).toEqual([700, 700, 700]);
});

test('percent is of full scale from the lowest possible reading on', () => {
	const [finger, axis] = conversionsFor(
		[column('thumb', 'finger'), column('stick-x', 'stick', 1)],
		{values: 'percent'},
		undefined,
		{
			fullScale: 1023,
			lowOf: ({role}) => (role === 'stick' ? -512 : 0),
		},
	);
	expect([finger(0), finger(1023), finger(Number.NaN)]).toEqual([0, 100, Number.NaN]);
	expect(axis(-512)).toBe(0);
	// 512/1023 = 50.04888 %.
	expect(axis(0)).toBe(50.0489);
});

test("bend runs from 0 at the sheet's min to 1 at its max, turned round where inverted, and stays within", () => {
	const sheet: Sheet = {
		channels: [
			{name: 'thumb', min: 200, max: 600},
			{name: 'index', min: 200, max: 600, inverted: true},
		],
	};
	const [thumb, index] = conversionsFor(
		[column('thumb', 'finger'), column('index', 'finger', 1)],
		{values: 'bend'},
		sheet,
		undefined,
	);
	expect([200, 300, 600, 100, 700].map(thumb)).toEqual([0, 0.25, 1, 0, 1]);
	expect([200, 300, 600].map(index)).toEqual([1, 0.75, 0]);
});

test('what is missing is named with where to get it', () => {
	const columns = [column('thumb', 'finger')];
	expect(() => conversionsFor(columns, {values: 'bend'}, undefined, scale)).toThrow(/thumb.*--sheet.*fit SOURCE/);
	expect(() => conversionsFor(columns, {values: 'bend'}, {channels: []}, scale)).toThrow(/does not say/);
	expect(() => conversionsFor(columns, {values: 'percent'}, undefined, undefined)).toThrow(/--full-scale/);
	expect(() => conversionsFor(columns, {bits: 12}, undefined, {...scale, fullScale: 1})).toThrow(
		/full scale is 1 here/,
	);
	expect(() => conversionsFor(columns, {bits: 12, values: 'bend'}, undefined, scale)).toThrow(/leave it out/);
});
