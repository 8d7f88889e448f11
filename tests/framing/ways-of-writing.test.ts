import {expect, test} from 'vitest';
import {frameLines, handRows} from './collect.ts';

const rows = handRows(40, 7);

/** Other ways to write a frame, with the channels they name and the values they hold. */
const ways: readonly [
	name: string,
	write: (row: readonly number[], i: number) => string,
	names: string,
	values: (row: readonly number[], i: number) => number[],
][] = [
	[
		'labels before groups of numbers',
		row => `fingers: ${row.slice(0, 5).join(' ')} stick: ${row[5]} ${row[6]} btn: 0`,
		'thumb index middle ring little stick-x stick-y button-1',
		row => [...row, 0],
	],
	[
		'the same reading twice',
		row => `thumb: ${row[0]} (${row[0] * 3} mV), index: ${row[1]} (${row[1] * 3} mV)`,
		'thumb extra index extra-2',
		row => [row[0], row[0] * 3, row[1], row[1] * 3],
	],
	[
		'a letter at both ends',
		row => `S${row.slice(0, 5).join(',')}E`,
		'thumb index middle ring little',
		row => row.slice(0, 5),
	],
	[
		'a numbered frame',
		(row, i) => `#${i}: ${row.slice(0, 5).join(' ')}`,
		'counter thumb index middle ring little',
		(row, i) => [i, ...row.slice(0, 5)],
	],
	[
		'true and false',
		(row, i) => `${row.slice(0, 5).join(',')},${i % 9 < 4}`,
		'thumb index middle ring little button-1',
		(row, i) => [...row.slice(0, 5), Number(i % 9 < 4)],
	],
	[
		'ON and OFF behind a label',
		(row, i) => `thumb:${row[0]} btn:${i % 9 < 4 ? 'ON' : 'OFF'}`,
		'thumb button-1',
		(row, i) => [row[0], Number(i % 9 < 4)],
	],
	[
		'pressed and released',
		(row, i) => `btn=${i % 9 < 4 ? 'pressed' : 'released'};thumb=${row[0]}`,
		'button-1 thumb',
		(row, i) => [Number(i % 9 < 4), row[0]],
	],
	[
		'a state in words',
		(row, i) => `thumb:${row[0]} index:${row[1]} mode:${i % 9 < 4 ? 'idle' : 'active'}`,
		'thumb index',
		row => row.slice(0, 2),
	],
	['dashes', row => row.slice(0, 5).join('-'), 'thumb index middle ring little', row => row.slice(0, 5)],
	['slashes', row => row.slice(0, 5).join('/'), 'thumb index middle ring little', row => row.slice(0, 5)],
	[
		'a line that clears the one before',
		row => `\u001b[2K\u001b[1G${row.slice(0, 5).join(',')}`,
		'thumb index middle ring little',
		row => row.slice(0, 5),
	],
	[
		'coloured labels',
		row => `\u001b[32mthumb\u001b[0m: ${row[0]} \u001b[32mindex\u001b[0m: ${row[1]}`,
		'thumb index',
		row => row.slice(0, 2),
	],
	['labels in brackets', row => `T[${row[0]}] I[${row[1]}] M[${row[2]}]`, 'thumb index middle', row => row.slice(0, 3)],
	[
		'several words',
		row => `Left Thumb ADC = ${row[0]}, Left Index ADC = ${row[1]}`,
		'thumb index',
		row => row.slice(0, 2),
	],
	[
		'volts',
		row => row.map(value => `${(value / 1024).toFixed(3)} V`).join(', '),
		'thumb index middle ring little stick-x stick-y',
		row => row.map(value => Number((value / 1024).toFixed(3))),
	],
	['one number', row => String(row[0]), 'thumb', row => [row[0]]],
	[
		'two sensors a finger',
		row => `thumb_mcp:${row[0]} thumb_pip:${row[1]} index_mcp:${row[2]}`,
		'thumb thumb-2 index',
		row => row.slice(0, 3),
	],
];

test.each(ways)('%s', (_name, write, names, values) => {
	const {frames, bad, stray, layouts, ...result} = frameLines(rows.map(write));
	expect(layouts).toHaveLength(1);
	expect(layouts[0].channels.map(channel => channel.name).join(' ')).toBe(names);
	expect(frames).toEqual(rows.map(values));
	expect([bad, stray, result.order.indexOf('L')]).toEqual([[], [], 0]);
});
