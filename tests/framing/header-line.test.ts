import {parse} from 'csv-parse/sync';
import fc from 'fast-check';
import {expect, test} from 'vitest';
import {readHeader, splitFields} from '../../source/framing/header-names.ts';
import {frameLines, handRows} from './collect.ts';

const rows = handRows(40, 4);
const table = rows.map(row => row.join(','));

/** Header lines over four columns, and the channels they name. */
const headers: readonly [header: string, names: string, separator: string][] = [
	['thumb,index,middle,ring', 'thumb index middle ring', ','],
	['"thumb","index","middle","ring"', 'thumb index middle ring', ','],
	['"thumb, left","index ""a""","middle","ring"', 'thumb index middle ring', ','],
	['Thumb [mV], Index [mV], Middle [mV], Ring [mV]', 'thumb index middle ring', ','],
	['# thumb, index, middle, ring', 'thumb index middle ring', ','],
	['ring;middle;index;thumb', 'ring middle index thumb', ';'],
	['thumb\tindex\tstick x\tstick y', 'thumb index stick-x stick-y', '\t'],
	['thumb index x y', 'thumb index stick-x stick-y', ' '],
	['thumb | index | joyX | joyY', 'thumb index stick-x stick-y', ' | '],
	['f1,f2,f3,f4', 'thumb index middle ring', ','],
	['A0,A1,A2,A3', 'thumb index middle ring', ','],
	['battery,temperature,index,thumb', 'battery temperature index thumb', ','],
];

test.each(headers)('the header line %s names its columns', (header, names, separator) => {
	const result = frameLines(['', header, ...rows.map(row => row.join(separator))]);
	expect(result.names.join(' ')).toBe(names);
	expect(result.frames).toEqual(rows);
	expect(result.layouts[0].labelled).toBe(true);
	expect(result.bad).toEqual([]);
});

test('a unit that all names carry is the unit of the numbers', () => {
	expect(frameLines(['thumb [mV],index [mV],middle [mV],ring [mV]', ...table]).layouts[0].unit).toBe('mV');
	expect(frameLines(['thumb (%),index (%),middle (%),ring (%)', ...table]).layouts[0].unit).toBe('%');
	expect(frameLines(['thumb,index,middle,ring', ...table]).layouts[0].unit).toBeNull();
});

test('a clock column is told by its name and the unit in it', () => {
	for (const [name, unitSeconds] of [
		['time_ms', 0.001],
		['time [us]', 1e-6],
		['t (s)', 1],
		['millis', 0.001],
	] as const) {
		const lines = rows.map((row, i) => [Number(((1 + 0.01 * i) / unitSeconds).toFixed(2)), ...row].join(','));
		const {layouts} = frameLines([`${name},thumb,index,middle,ring`, ...lines]);
		expect(layouts[0].channels[0]).toEqual({index: 0, name: 'clock', role: 'clock', clockUnitSeconds: unitSeconds});
	}
});

test('names of another number of columns name nothing', () => {
	const {names, layouts} = frameLines(['thumb,index,middle', ...table]);
	expect(names).toEqual(['thumb', 'index', 'middle', 'ring']);
	expect(layouts[0].labelled).toBe(false);
});

test('a header line printed again at a restart is stray, and changes nothing', () => {
	const header = 'ring,middle,index,thumb';
	const {layouts, frames, stray, bad} = frameLines(['x', header, ...table, 'puppet glove ready', header, ...table]);
	expect(layouts).toHaveLength(1);
	expect(frames).toEqual([...rows, ...rows]);
	expect(stray).toEqual([header, 'puppet glove ready', header]);
	expect(bad).toEqual([]);
});

test('a header line before a new format names its columns', () => {
	const six = handRows(40, 6);
	const {layouts, frames} = frameLines([
		'thumb,index,middle,ring',
		...table,
		'thumb,index,middle,ring,x,y',
		...six.map(row => row.join(',')),
	]);
	expect(layouts.map(layout => layout.channels.map(channel => channel.name).join(' '))).toEqual([
		'thumb index middle ring',
		'thumb index middle ring stick-x stick-y',
	]);
	expect(frames).toEqual([...rows, ...six]);
});

test('fields are cut as csv-parse cuts them', () => {
	// csv-parse is the registry's independent reader of RFC 4180.
	const field = fc.string({unit: fc.constantFrom('a', 'b', '"', ',', ';', ' ', '1')});
	fc.assert(
		fc.property(fc.array(field, {minLength: 1, maxLength: 8}), fc.constantFrom(',', ';', '\t'), (fields, separator) => {
			const line = fields.map(text => `"${text.replaceAll('"', '""')}"`).join(separator);
			const [wanted] = parse(line, {delimiter: separator}) as string[][];
			expect(splitFields(line, separator)).toEqual(wanted);
			expect(wanted).toEqual(fields);
		}),
	);
	for (const line of ['a,b,c', ' a , b,c ', '"aaa","b""bb","ccc"', '"a,b","c""d",g', ',', 'a,']) {
		const [wanted] = parse(line, {trim: true}) as string[][];
		expect(splitFields(line, ',')).toEqual(wanted);
	}
});

test('numbers are no names', () => {
	expect(readHeader('512,498,455', 3)).toBeUndefined();
	expect(readHeader('a,,c', 3)).toBeUndefined();
	expect(readHeader(undefined, 3)).toBeUndefined();
	expect(readHeader('a,b,c,', 3)).toEqual(['a', 'b', 'c']);
});
