import {expect, test} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {parseLayoutOption} from '../../source/framing/parse-layout-option.ts';
import {bytesOf, frameLines, handRows} from './collect.ts';

const rows = handRows(40, 7);
const csv = rows.map(row => row.join(','));

test('--layout names the columns, whatever they look like', () => {
	const layout = 'stick-x,stick-y,little,ring,-,index,thumb';
	const {names, frames, layouts} = frameLines(csv, {layout});
	expect(names).toEqual(['stick-x', 'stick-y', 'little', 'ring', 'spare-1', 'index', 'thumb']);
	expect(frames).toEqual(rows);
	expect(layouts).toHaveLength(1);
});

test('--layout wins over labels and over a header line', () => {
	const layout = 'little,ring';
	const lines = rows.map(row => `thumb:${row[0]} index:${row[1]}`);
	expect(frameLines(lines, {layout}).names).toEqual(['little', 'ring']);
	const table = ['thumb,index', ...rows.map(row => `${row[0]},${row[1]}`)];
	expect(frameLines(table, {layout}).names).toEqual(['little', 'ring']);
});

test('with --layout five lines are enough, and lines of another length are bad ones', () => {
	const layout = 'thumb,index,middle,ring,little,stick-x,stick-y';
	expect(frameLines(csv.slice(0, 5), {layout}).frames).toEqual(rows.slice(0, 5));
	const lines = [...csv.slice(0, 3), '1,2,3', ...csv.slice(3)];
	const {frames, bad} = frameLines(lines, {layout});
	expect(frames).toEqual(rows);
	expect(bad).toMatchObject([{kind: 'short', text: '1,2,3'}]);
});

test('a stream that never has the columns asked for gives no frames, and every line is told why', () => {
	const {frames, layouts, bad} = frameLines(csv, {layout: 'thumb,index,middle'});
	expect([frames, layouts]).toEqual([[], []]);
	expect(bad).toHaveLength(39);
	expect(bad.every(line => line.kind === 'merged')).toBe(true);
});

test('--layout with a framing takes no other', () => {
	const json = rows.map(row => JSON.stringify({a: row[0], b: row[1]}));
	const mixed = json.flatMap((line, i) => [line, `${rows[i][2]},${rows[i][3]}`]);
	expect(frameLines(mixed, {layout: 'json:thumb,index'}).frames).toEqual(rows.map(row => row.slice(0, 2)));
	expect(frameLines(mixed, {layout: 'text:thumb,index'}).frames).toEqual(rows.map(row => row.slice(2, 4)));
	expect(frameLines(csv, {layout: 'slip:thumb,index'}).frames).toEqual([]);
});

test('names are read with their abbreviations, numbers and units', () => {
	const {framing, channels} = parseLayoutOption(
		'cobs: T, I, pinky ,thumb, x, button-1, btn, clock-us, counter, spare, -',
	);
	expect(framing).toBe('cobs');
	expect(channels.map(channel => channel.name)).toEqual(
		'thumb index little thumb-2 stick-x button-1 button-2 clock counter spare-1 spare-2'.split(' '),
	);
	expect(channels[7].clockUnitSeconds).toBe(1e-6);
	expect(parseLayoutOption('clock').channels[0].clockUnitSeconds).toBe(0.001);
	expect(parseLayoutOption('clock-s').channels[0].clockUnitSeconds).toBe(1);
});

const wrong: readonly [text: string, says: RegExp][] = [
	['', /--layout must not be ""/],
	['thumb,,index', /--layout must not be "thumb,,index"/],
	['thumb,', /must not be/],
	['slip:', /must not be/],
	['morse:thumb', /--layout cannot be framed as "morse": try text, json, slip, cobs/],
	['thumb,elbow', /--layout does not know "elbow": it takes thumb/],
	['thumb,7', /does not know "7"/],
	['thumb\u001b[2J', /does not know "thumb\\x1b/],
];

test.each(wrong)('--layout %j is refused in one line', (text, says) => {
	expect(() => parseLayoutOption(text)).toThrow(CannotError);
	expect(() => parseLayoutOption(text)).toThrow(says);
	try {
		parseLayoutOption(text);
	} catch (error) {
		expect((error as Error).message).not.toMatch(/[\n\u001b]/);
	}
});

test('an option is refused before a byte is read', () => {
	expect(() => frameLines(csv, {layout: 'thumb,elbow'})).toThrow(CannotError);
	expect(bytesOf('')).toHaveLength(0);
});
