import {expect, test} from 'vitest';
import {bytesOf, frameBytes, frameLines, handRows} from './collect.ts';

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];
const rows = handRows(40);

/** Ways to write five readings, each with the separator and the unit that the layout must name. */
const plain: readonly [
	name: string,
	write: (row: readonly number[]) => string,
	separator: string | null,
	unit: string | null,
][] = [
	['commas', row => row.join(','), ',', null],
	['commas and blanks', row => row.join(', '), ',', null],
	['semicolons', row => row.join(';'), ';', null],
	['tabs', row => row.join('\t'), '\t', null],
	['blanks', row => row.join(' '), ' ', null],
	['padded with blanks', row => row.map(value => String(value).padStart(5)).join(''), ' ', null],
	['padded with zeros', row => row.map(value => String(value).padStart(4, '0')).join(','), ',', null],
	['bars', row => row.join('|'), '|', null],
	['bars and blanks', row => row.join(' | '), '|', null],
	['square brackets', row => `[${row.join(', ')}]`, ',', null],
	['round brackets', row => `(${row.join(',')})`, ',', null],
	['angle brackets', row => `<${row.join(',')}>`, ',', null],
	['braces without keys', row => `{${row.join(',')}}`, ',', null],
	['a leading separator', row => `,${row.join(',')}`, ',', null],
	['a trailing separator', row => `${row.join(',')},`, ',', null],
	['a trailing separator and blank', row => `${row.join('; ')}; `, ';', null],
	['quotes', row => row.map(value => `"${value}"`).join(','), ',', null],
	['a word in front', row => `DATA ${row.join(',')}`, ',', null],
	['a sign in front', row => `$GLV,${row.join(',')}`, ',', null],
	['millivolts', row => row.map(value => `${value} mV`).join(', '), ',', 'mV'],
	['millivolts between blanks', row => row.map(value => `${value}mV`).join(' '), ' ', 'mV'],
	['percent', row => row.map(value => `${value}%`).join(','), ',', '%'],
	['degrees', row => row.map(value => `${value}°`).join(' '), ' ', '°'],
	['plus signs', row => row.map(value => `+${value}`).join(','), ',', null],
	['0x', row => row.map(value => `0x${value.toString(16)}`).join(','), ',', null],
	[
		'0X of four digits',
		row => row.map(value => `0x${value.toString(16).toUpperCase().padStart(4, '0')}`).join(' '),
		' ',
		null,
	],
	['bare hexadecimal', row => row.map(value => value.toString(16).padStart(3, '0')).join(' '), ' ', null],
	[
		'bare capital hexadecimal',
		row => row.map(value => value.toString(16).toUpperCase().padStart(4, '0')).join(','),
		',',
		null,
	],
];

test.each(plain)('numbers written with %s are read back by position', (_name, write, separator, unit) => {
	const {frames, layouts, bad, stray} = frameLines(rows.map(write));
	expect(frames).toEqual(rows);
	expect(layouts).toHaveLength(1);
	expect(layouts[0].channels.map(channel => channel.name)).toEqual(fingers);
	expect(layouts[0].separator).toBe(separator);
	expect(layouts[0].unit).toBe(unit);
	expect(bad).toEqual([]);
	expect(stray).toEqual([]);
});

/** Values that are no whole counts, written as boards write them. */
const values: readonly [
	name: string,
	of: (counts: number) => number,
	write: (value: number) => string,
	separator: string,
][] = [
	['decimals with a point', counts => counts / 10, value => value.toFixed(1), ','],
	['three decimals', counts => Number((counts / 1023).toFixed(3)), value => value.toFixed(3), ','],
	['decimals with a comma', counts => counts / 100, value => value.toFixed(2).replace('.', ','), ';'],
	['decimals with a comma between blanks', counts => counts / 100, value => value.toFixed(2).replace('.', ','), ' '],
	['decimals with a comma between tabs', counts => counts / 100, value => value.toFixed(2).replace('.', ','), '\t'],
	['half counts', counts => counts / 2, value => String(value), ','],
	['negative values', counts => counts - 512, value => String(value), ','],
	['negative decimals', counts => (counts - 512) / 4, value => value.toFixed(2), ' '],
	['no digit before the point', counts => counts / 2048, value => String(value).replace(/^0\./, '.'), ','],
	['exponents', counts => counts / 1024, value => value.toExponential(), ','],
	['capital exponents', counts => counts * 64, value => value.toExponential().toUpperCase(), ';'],
	['16 bits', counts => counts * 64, value => String(value), ','],
	['signed 16 bits', counts => counts * 64 - 32768, value => String(value), ','],
];

test.each(values)('%s come out as the number that was written', (_name, of, write, separator) => {
	const wanted = rows.map(row => row.map(of));
	const {frames, bad, stray, names} = frameLines(wanted.map(row => row.map(write).join(separator)));
	expect(frames).toEqual(wanted);
	expect(names).toEqual(fingers);
	expect([bad, stray]).toEqual([[], []]);
});

test('decimals are read as exactly as Number reads them', () => {
	// 0.3 is not 3 × 0.1 in binary; ECMA-262's Number() is the outside reference.
	const texts = rows.map((_, i) => ['0.1', '0.2', '0.3', `${i % 7}.${(i * 37) % 1000}`, `-${i % 3}.07`]);
	const {frames} = frameLines(texts.map(row => row.join(',')));
	expect(frames).toEqual(texts.map(row => row.map(Number)));
});

test('whole numbers among decimals with a comma are no new format', () => {
	const wanted = rows.map((row, i) => row.map((counts, k) => (i % 5 === 0 && k > 0 ? counts : counts / 10)));
	const lines = wanted.map(row => row.map(value => String(value).replace('.', ',')).join(';'));
	const {frames, bad} = frameLines(lines);
	expect(frames).toEqual(wanted);
	expect(bad).toEqual([]);
});

const ends: readonly [name: string, end: string][] = [
	['CR', '\r'],
	['LF', '\n'],
	['CR LF', '\r\n'],
	['an empty line after each', '\r\n\r\n'],
];

test.each(ends)('lines that end in %s', (_name, end) => {
	const {frames, bad, stray} = frameLines(
		rows.map(row => row.join(',')),
		{},
		end,
	);
	expect(frames).toEqual(rows);
	expect([bad, stray]).toEqual([[], []]);
});

function utf16(text: string, bigEndian: boolean, mark: boolean): Uint8Array {
	const bytes = Buffer.from((mark ? '\ufeff' : '') + text, 'utf16le');
	return new Uint8Array(bigEndian ? bytes.swap16() : bytes);
}

const wide: readonly [name: string, bigEndian: boolean, mark: boolean][] = [
	['little end first', false, false],
	['little end first, with a byte-order mark', false, true],
	['big end first', true, false],
	['big end first, with a byte-order mark', true, true],
];

test.each(wide)('UTF-16, %s, is the text it encodes, and none of it junk', (_name, bigEndian, mark) => {
	for (const end of ['\n', '\r\n']) {
		for (const unit of ['', '°']) {
			const text = rows.map(row => row.map(value => value + unit).join(',') + end).join('');
			const {frames, bad, stray, layouts} = frameBytes(utf16(text, bigEndian, mark), {}, 17);
			expect(frames).toEqual(rows);
			expect([bad, stray]).toEqual([[], []]);
			expect(layouts[0].unit).toBe(unit || null);
		}
	}
});

test('a UTF-8 byte-order mark belongs to no value', () => {
	const {frames} = frameBytes(bytesOf(`\ufeff${rows.map(row => `${row.join(',')}\n`).join('')}`));
	expect(frames).toEqual(rows);
});

test('a first line that was joined in its middle is neither a frame nor a fault', () => {
	const slow = rows.map((row, i) => row.map(value => 500 + 2 * i + (value % 3)));
	const text = slow.map(row => `${row.join(',')}\r\n`).join('');
	const firstLine = text.indexOf('\n') - 1;
	for (let cut = 1; cut < firstLine; cut++) {
		const {frames, bad, stray} = frameBytes(bytesOf(text.slice(cut)));
		// Digits lost from the front of the first number are seen by there being fewer of them.
		expect(frames).toEqual(slow.slice(1));
		expect([bad, stray]).toEqual([[], []]);
	}
});

test('a small first value is no cut line where it goes on from there', () => {
	const lines = rows.map((row, i) => [i * 10, ...row].join(','));
	expect(frameLines(lines).frames).toHaveLength(rows.length);
});

test('a whole first line is kept', () => {
	expect(frameLines(rows.map(row => row.join(','))).frames[0]).toEqual(rows[0]);
});

test('what the sender could not measure is not a number', () => {
	const lines = rows.map(row => row.join(','));
	lines[25] = '512,nan,498,NaN,505';
	lines[26] = '512,,498,,505';
	lines[27] = '512,inf,498,-inf,505';
	lines[28] = '512,null,498,ovf,505';
	const {frames, bad} = frameLines(lines);
	for (const i of [25, 26, 27, 28]) expect(frames[i]).toEqual([512, Number.NaN, 498, Number.NaN, 505]);
	expect(bad).toEqual([]);
});
