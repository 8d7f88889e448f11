import {expect, test} from 'vitest';
import {frameLines, handRows} from './collect.ts';

const rows = handRows(40, 7);

test('a flat object is a frame named by its keys', () => {
	const keys = ['thumb', 'index', 'middle', 'ring', 'pinky', 'x', 'y'];
	const lines = rows.map(row => JSON.stringify(Object.fromEntries(row.map((value, i) => [keys[i], value]))));
	const {names, frames, layouts, bad} = frameLines(lines);
	expect(names).toEqual(['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y']);
	expect(frames).toEqual(rows);
	expect(layouts[0]).toMatchObject({framing: 'json', separator: null, labelled: true});
	expect(bad).toEqual([]);
});

const nested = (row: readonly number[], i: number) => ({
	seq: i,
	time: 1000 + 10 * i,
	fingers: row.slice(0, 5),
	stick: {x: row[5], y: row[6], pressed: i % 7 === 0},
	buttons: [i % 3 === 0, false],
	battery: i % 10 === 0 ? null : 3.7,
});

test('nested objects, arrays, booleans and null are columns', () => {
	const {names, frames, layouts, bad, stray} = frameLines(rows.map((row, i) => JSON.stringify(nested(row, i))));
	expect(names).toEqual(
		'counter clock thumb index middle ring little stick-x stick-y button-1 button-2 button-3 battery'.split(' '),
	);
	expect(layouts[0].channels[1].clockUnitSeconds).toBe(0.001);
	expect(frames).toEqual(
		rows.map((row, i) => [
			i,
			1000 + 10 * i,
			...row,
			Number(i % 7 === 0),
			Number(i % 3 === 0),
			0,
			i % 10 === 0 ? Number.NaN : 3.7,
		]),
	);
	expect([bad, stray]).toEqual([[], []]);
});

test('keys in another order, blanks and strings that change do not matter', () => {
	const lines = rows.map(([thumb, index, middle], i) => {
		const id = `left-${i}`;
		if (i % 3 === 0) return JSON.stringify({id, thumb, index, middle, note: 'a "quoted" {word}'});
		if (i % 3 === 1) return JSON.stringify({middle, id, thumb, index, note: '12,34'});
		return `  { "index" : ${index}, "thumb": ${thumb} , "note": "", "middle":${middle}, "id":"x" }  `;
	});
	const {names, frames, bad} = frameLines(lines);
	const of = (name: string): number[] => frames.map(frame => frame[names.indexOf(name)]);
	expect(bad).toEqual([]);
	expect(of('thumb')).toEqual(rows.map(row => row[0]));
	expect(of('index')).toEqual(rows.map(row => row[1]));
	expect(of('middle')).toEqual(rows.map(row => row[2]));
	expect(names).toHaveLength(3);
});

test('numbers written as strings, with exponents and signs are numbers', () => {
	const lines = rows.map(
		row => `{"thumb":"${row[0]}","index":${row[1] / 64},"middle":${row[2].toExponential()},"ring":-${row[3]}}`,
	);
	expect(frameLines(lines).frames).toEqual(rows.map(row => [row[0], row[1] / 64, row[2], -row[3]]));
});

test('keys that are whole numbers keep their own values', () => {
	// JSON.parse puts such keys first whatever the text says.
	const lines = rows.map(row => `{"1":${row[1]},"0":${row[0]},"2":${row[2]}}`);
	const {frames, names} = frameLines(lines);
	expect(names).toEqual(['thumb', 'index', 'middle']);
	expect(frames).toEqual(rows.map(row => row.slice(0, 3)));
});

test('an object that lacks a key, or is cut, is a bad line', () => {
	const lines = rows.map(row => `{"thumb":${row[0]},"index":${row[1]},"middle":${row[2]}}`);
	lines[20] = '{"thumb":512,"index":498}';
	lines[25] = '{"thumb":512,"index":49';
	lines[30] = lines[30] + lines[31];
	lines[35] = '{"status":"ok","uptime":17}';
	const {frames, bad, stray} = frameLines(lines);
	expect(frames).toHaveLength(36);
	expect(bad).toHaveLength(3);
	expect(bad[0].kind).toBe('short');
	expect(stray).toEqual(['{"status":"ok","uptime":17}']);
});

test('an array on its own is a frame by position', () => {
	const {frames, names} = frameLines(rows.map(row => JSON.stringify([row.slice(0, 5), row.slice(5)])));
	expect(names).toEqual(['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y']);
	expect(frames).toEqual(rows);
});
