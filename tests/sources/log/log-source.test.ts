import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {type LogOptions, openLog} from '../../../source/sources/log/log-source.ts';
import {findEncoding} from '../../../source/sources/log/transcode.ts';
import type {Timing} from '../../../source/stream/source-item.ts';
import {bytesOf, readAll, textsOf} from '../reading.ts';

type Read = {timing: Timing; times: number[]; texts: string[]};

const open = (log: string | Uint8Array, options: LogOptions = {}, chunkBytes = 1 << 20) => {
	const bytes = Buffer.from(log as string);
	return openLog(
		{
			name: 'glove.log',
			chunks: (async function* () {
				for (let at = 0; at < bytes.byteLength; at += chunkBytes)
					yield Buffer.from(bytes.subarray(at, at + chunkBytes));
			})(),
		},
		options,
	);
};

const read = async (log: string | Uint8Array, options?: LogOptions, chunkBytes?: number): Promise<Read> => {
	const source = await open(log, options, chunkBytes);
	// Where another session begins is told besides.
	const items = (await readAll(source)).filter(item => 'bytes' in item);
	return {timing: source.info.timing, times: items.map(({t}) => t), texts: textsOf(items)};
};

/** A reproducible hand: five fingers that rest, move and shake, in counts. */
const frame = (n: number, separator = ','): string =>
	[0, 1, 2, 3, 4]
		.map(finger => Math.round(300 + 150 * Math.sin(n / 23 + finger) + ((n * (17 + 8 * finger)) % 7)))
		.join(separator);

const lines = (count: number, line: (n: number) => string, end = '\n'): string =>
	Array.from({length: count}, (_, n) => line(n) + end).join('');

const frames = (count: number, separator?: string, end = '\n'): string[] =>
	Array.from({length: count}, (_, n) => frame(n, separator) + end);

const evenly = (count: number, step: number): number[] =>
	Array.from({length: count}, (_, n) => Math.round(n * step * 1e6) / 1e6);

const two = (value: number): string => String(value).padStart(2, '0');
const clockText = (ms: number, sign = '.'): string =>
	`${two(Math.floor(ms / 3_600_000) % 24)}:${two(Math.floor(ms / 60_000) % 60)}:${two(Math.floor(ms / 1000) % 60)}${sign}${String(ms % 1000).padStart(3, '0')}`;

const startMs = ((9 * 60 + 14) * 60 + 7) * 1000 + 112;

describe('a stamp put before each line', () => {
	const iso = (ms: number): string => new Date(Date.UTC(2025, 2, 1) + ms).toISOString();
	it.each<[string, (ms: number) => string]>([
		['clock and arrow', ms => `${clockText(startMs + ms)} -> `],
		['clock and arrow without blanks', ms => `${clockText(startMs + ms)}->`],
		['clock and blank', ms => `${clockText(startMs + ms)} `],
		['clock and tab', ms => `${clockText(startMs + ms)}\t`],
		['clock and colon', ms => `${clockText(startMs + ms)}: `],
		['clock and semicolon', ms => `${clockText(startMs + ms)};`],
		['clock and bar', ms => `${clockText(startMs + ms)} | `],
		['clock and dash', ms => `${clockText(startMs + ms)} - `],
		['clock and comma, as the frame has', ms => `${clockText(startMs + ms)},`],
		['clock with comma before the fraction', ms => `${clockText(startMs + ms, ',')} `],
		['clock with colon before the fraction', ms => `${clockText(startMs + ms, ':')} `],
		['clock in brackets', ms => `[${clockText(startMs + ms)}] `],
		['clock in round brackets', ms => `(${clockText(startMs + ms)}) `],
		['clock in brackets, nothing after', ms => `[${clockText(startMs + ms)}]`],
		['clock of twelve hours', ms => `${clockText(startMs + ms)} AM `],
		['hour of one digit', ms => `${clockText(startMs + ms).slice(1)} `],
		['minutes and seconds', ms => `${clockText(startMs + ms).slice(3)} `],
		['ISO 8601', ms => `${iso(ms)} `],
		['ISO 8601 in lower case', ms => `${iso(ms).toLowerCase()} `],
		['ISO 8601 with a blank', ms => `${iso(ms).replace('T', ' ').replace('Z', '')} `],
		['ISO 8601 with a blank and comma', ms => `${iso(ms).replace('T', ' ').replace('Z', '').replace('.', ',')} -> `],
		['ISO 8601 in brackets', ms => `[${iso(ms)}] `],
		['ISO 8601 with a zone', ms => `${iso(ms).replace('Z', '+02:00')} > `],
		['ISO 8601 with a zone without colon', ms => `${iso(ms).replace('Z', '-0800')}\t`],
		['ISO 8601 with a zone behind a blank', ms => `${iso(ms).replace('T', ' ').replace('Z', ' +0100')} `],
		['ISO 8601 in microseconds', ms => `${iso(ms).replace('Z', '000Z')};`],
		['date with slashes', ms => `${iso(ms).slice(0, 10).replaceAll('-', '/')} ${clockText(startMs + ms)} `],
		['day first', ms => `01.03.2025 ${clockText(startMs + ms)} `],
		['name of the month', ms => `Mar  1 ${clockText(startMs + ms)} `],
		['name of the day', ms => `[Sat Mar 01 ${clockText(startMs + ms)} 2025] `.replace(' 2025', '')],
		['seconds', ms => `${(ms / 1000).toFixed(3)} `],
		['seconds, aligned', ms => `${(ms / 1000).toFixed(3).padStart(9)} `],
		['seconds in brackets', ms => `[${(ms / 1000).toFixed(6).padStart(12)}] `],
		['seconds with unit', ms => `${(ms / 1000).toFixed(3)} s: `],
		['seconds since 1970', ms => `${((1_740_787_200_000 + ms) / 1000).toFixed(3)} `],
		['seconds with decimal comma', ms => `${(ms / 1000).toFixed(3).replace('.', ',')} `],
		['milliseconds', ms => `${12_345 + ms} `],
		['milliseconds and bar', ms => `${12_345 + ms} ms | `],
		['milliseconds with unit and arrow', ms => `${ms}ms -> `],
		['milliseconds since 1970', ms => `${1_740_787_200_000 + ms}: `],
		['milliseconds with decimals', ms => `${(ms + 0.25).toFixed(2)} ms `],
		['microseconds', ms => `${(5_000_000 + ms * 1000).toFixed(0)}; `],
		['microseconds with unit', ms => `${ms * 1000} us `],
		['microseconds with Greek unit', ms => `${ms * 1000} µs `],
	])('is read and taken off: %s', async (_, stamp) => {
		const result = await read(lines(60, n => stamp(n * 20) + frame(n), '\r\n'));
		expect(result).toEqual({timing: 'column', times: evenly(60, 0.02), texts: frames(60, ',', '\r\n')});
	});

	it.each<[string, string]>([
		['labels', 'thumb:512 index:498'],
		['JSON', '{"thumb":512,"index":498}'],
		['brackets', '[512, 498, 473]'],
		['angle brackets', '<512,498,473>'],
		['blanks', '512 498 473'],
		['tabs', '512\t498\t473'],
		['negative numbers', '-512;-498;-473'],
		['an empty first value', ',498,473'],
		['one value', '512'],
	])('leaves alone frames with %s', async (_, text) => {
		const result = await read(lines(40, n => `${clockText(startMs + n * 10)} -> ${text}`));
		expect(new Set(result.texts)).toEqual(new Set([`${text}\n`]));
		expect(result.times).toEqual(evenly(40, 0.01));
	});

	it('goes on through midnight', async () => {
		const beforeMidnight = 24 * 3_600_000 - 500;
		const result = await read(lines(100, n => `${clockText(beforeMidnight + n * 10)} ${frame(n)}`));
		expect(result.times).toEqual(evenly(100, 0.01));
	});

	it('goes on through two midnights with a date or without', async () => {
		const hours = [0, 10, 20, 30, 40, 50];
		const without = await read(lines(6, n => `${clockText(hours[n]! * 3_600_000)} ${frame(n)}`));
		const dated = await read(lines(6, n => `${new Date(Date.UTC(2024, 11, 30, hours[n])).toISOString()} ${frame(n)}`));
		expect(without.times).toEqual(hours.map(hour => hour * 3600));
		expect(dated.times).toEqual(hours.map(hour => hour * 3600));
	});

	it('follows a change of zone and a leap second', async () => {
		// RFC 3339 §5.8: 1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z; 1990-12-31T23:59:60Z is legal.
		const zones = await read('1996-12-19T16:39:57.0-08:00 1,2\n1996-12-20T00:39:57.5Z 3,4\n');
		expect(zones.times).toEqual([0, 0.5]);
		const leap = await read('1990-12-31T23:59:59.5Z 1,2\n1990-12-31T23:59:60.0Z 3,4\n1990-12-31T23:59:60.5Z 5,6\n');
		expect(leap).toEqual({timing: 'column', times: [0, 0.5, 1], texts: ['1,2\n', '3,4\n', '5,6\n']});
	});

	it('keeps the last time for lines without, and 0 for those before the first', async () => {
		const result = await read('boot: ready\n\n09:14:07.000 1,2\nwatch out\n09:14:07.250 3,4\n   \n09:14:07.500 5,6\n');
		expect(result.times).toEqual([0, 0, 0, 0, 0.25, 0.25, 0.5]);
		expect(result.texts).toEqual(['boot: ready\n', '\n', '1,2\n', 'watch out\n', '3,4\n', '   \n', '5,6\n']);
	});

	it('holds still while the clock is set back a little, and goes on when it is set back far', async () => {
		const stamps = [10_000, 10_500, 9900, 10_600].map(ms => `${clockText(9 * 3_600_000 + ms)} `);
		const later = Array.from({length: 30}, (_, n) => `${clockText(8 * 3_600_000 + n * 100)} `);
		const result = await read([...stamps, ...later].map(stamp => `${stamp}512,498\n`).join(''));
		expect(result.times).toEqual([0, 0.5, 0.5, 0.6, ...evenly(30, 0.1).map(t => Math.round((t + 0.6) * 10) / 10)]);
	});

	it('takes clumps as they are: their stamps are what the listener saw', async () => {
		// Twenty-five frames each half second, a millisecond apart.
		const at = (n: number): number => Math.floor(n / 25) * 0.5 + (n % 25) * 0.001;
		const result = await read(lines(500, n => `${at(n).toFixed(3)} ${frame(n)}`));
		expect(result.timing).toBe('column');
		expect(result.times).toEqual(Array.from({length: 500}, (_, n) => Math.round(at(n) * 1000) / 1000));
	});

	it('spreads lines over stamps of whole seconds and does not call that measured', async () => {
		const result = await read(lines(300, n => `${clockText(startMs - 112 + n * 20).slice(0, 8)} ${frame(n)}`));
		expect(result.timing).toBe('assumed');
		expect(result.texts).toEqual(frames(300));
		// Each line within its own second, and none but a few at the seams more than a frame from where it was.
		result.times.forEach((t, n) => {
			expect(Math.abs(t - n * 0.02)).toBeLessThan(0.03);
		});
	});
});

describe('a first column that is no stamp', () => {
	it.each<[string, (n: number) => string]>([
		['a counter', n => `${n},${frame(n)}`],
		['a counter that loses some', n => `${n + Math.floor(n / 30)},${frame(n)}`],
		['a counter of eight bits', n => `${n % 256},${frame(n)}`],
		['a counter before other punctuation', n => `#${n}: ${frame(n)}`],
		['a finger', n => frame(n)],
		['a finger before other punctuation', n => frame(n).replace(',', ' | ')],
		['a finger at rest', n => `512,${frame(n)}`],
		['labels with digits', n => `1:${frame(n, ' 2:')}`],
		['millivolts', n => `${frame(n).replaceAll(',', ' mV, ')} mV`],
		['two digits and colons', n => `${10 + ((n * 13) % 30)}:${20 + ((n * 7) % 30)}:${30 + ((n * 11) % 20)}`],
		['labels, the thumb being t', n => `t=${frame(n).split(',')[0]} i=${frame(n).split(',')[1]}`],
		['JSON, the thumb being t', n => `{"t":${frame(n).split(',')[0]},"i":${frame(n).split(',')[1]}}`],
	])('stays in the bytes and tells no time: %s', async (_, line) => {
		const result = await read(lines(400, line));
		expect(result).toEqual({
			timing: 'assumed',
			times: evenly(400, 0.01),
			texts: Array.from({length: 400}, (_, n) => `${line(n)}\n`),
		});
	});

	it.each(['ets Jul 29 2019 12:21:46', 'Jul 29 2019 12:21:46', '12:21:46'])(
		'is no time where boot text tells when it was made, however often: %s',
		async made => {
			const boot = `${made}\n\nrst:0x1 (POWERON_RESET),boot:0x13 (SPI_FAST_FLASH_BOOT)\nmode:DIO, clock div:2\n`;
			const result = await read(`${boot}512,498\n513,498\n`.repeat(20));
			expect(result.timing).toBe('assumed');
			expect(result.texts[0]).toBe(`${made}\n`);
			expect(result.texts).toHaveLength(120);
		},
	);

	it('is no time where a finger just bends slowly, line after line', async () => {
		const result = await read(lines(25, n => `${300 + 7 * n},498,473,511`));
		expect(result.timing).toBe('assumed');
	});
});

describe("a board's own clock in the frame", () => {
	it.each<[string, (n: number) => string, string]>([
		['milliseconds', n => `${4000 + n * 20}`, ','],
		['milliseconds between semicolons', n => `${4000 + n * 20}`, ';'],
		['milliseconds between tabs', n => `${4000 + n * 20}`, '\t'],
		['milliseconds between blanks', n => `${4000 + n * 20}`, ' '],
		['milliseconds between commas and blanks', n => `${4000 + n * 20}`, ', '],
		['microseconds', n => `${4_000_000 + n * 20_000}`, ','],
		['seconds', n => (n * 0.02).toFixed(2), ','],
	])('gives the times and stays in the bytes: %s', async (_, stamp, separator) => {
		const result = await read(lines(200, n => stamp(n) + separator + frame(n, separator)));
		expect(result.timing).toBe(stamp(1).includes('.') ? 'column' : 'column');
		expect(result.times).toEqual(evenly(200, 0.02));
		expect(result.texts).toEqual(
			Array.from({length: 200}, (_, n) => `${stamp(n)}${separator}${frame(n, separator)}\n`),
		);
	});

	it.each<[string, (ms: number, n: number) => string]>([
		['a label in front', (ms, n) => `t=${ms} thumb=${frame(n).split(',')[0]} index=5`],
		['a label behind', (ms, n) => `thumb: ${frame(n).split(',')[0]}, time: ${ms}`],
		['a JSON key', (ms, n) => `{"thumb":${frame(n).split(',')[0]},"millis":${ms}}`],
		['a JSON key with a blank', (ms, n) => `{"t": ${ms}, "f": [${frame(n)}]}`],
	])('is found by its name: %s', async (_, line) => {
		const result = await read(lines(100, n => line(70_000 + n * 20, n)));
		expect(result).toEqual({
			timing: 'column',
			times: evenly(100, 0.02),
			texts: Array.from({length: 100}, (_, n) => `${line(70_000 + n * 20, n)}\n`),
		});
	});

	it('goes on when the board starts again', async () => {
		const result = await read(lines(400, n => `${n < 300 ? 4000 + n * 20 : 200 + (n - 300) * 20},${frame(n)}`));
		const [before, at, after] = [result.times[299]!, result.times[300]!, result.times[301]!];
		expect(before).toBe(5.98);
		expect(at).toBeGreaterThanOrEqual(before);
		expect(after - before).toBeLessThan(0.1);
		expect(result.times[399]! - result.times[301]!).toBeCloseTo(98 * 0.02, 6);
	});

	it('goes on when 32 bits of microseconds run over', async () => {
		const first = 2 ** 32 - 2_000_000;
		const result = await read(lines(200, n => `${(first + n * 20_000) % 2 ** 32},${frame(n)}`));
		expect(result.times).toEqual(evenly(200, 0.02));
	});

	it('goes on when they run over for the second time', async () => {
		// One line a second for two and a half hours.
		const result = await read(lines(9000, n => `${(n * 1_000_000) % 2 ** 32},${frame(n)}`));
		expect(result.times).toEqual(evenly(9000, 1));
	});

	it('is not led astray by damaged digits', async () => {
		const damage: Record<number, string> = {50: '99999999', 80: '52', 120: '4', 121: '88888888'};
		const result = await read(lines(200, n => `${damage[n] ?? 4000 + n * 20},${frame(n)}`));
		result.times.forEach((t, n) => {
			if (n in damage) expect(Math.abs(t - n * 0.02)).toBeLessThan(0.05);
			else expect(t).toBeCloseTo(n * 0.02, 6);
		});
	});

	it('keeps a long pause', async () => {
		const result = await read(lines(200, n => `${4000 + n * 20 + (n >= 100 ? 30_000 : 0)},${frame(n)}`));
		expect(result.times[99]).toBe(1.98);
		expect(result.times[102]).toBe(32.04);
		expect(result.times[199]).toBe(33.98);
	});
});

describe('separated values under a header', () => {
	it.each<[string, string, (ms: number, n: number) => string]>([
		['time in seconds first', 'time,thumb,index', (ms, n) => `${(ms / 1000).toFixed(3)},${n},5`],
		['time in the middle', 'thumb,Timestamp (ms),index', (ms, n) => `${n},${ms},5`],
		['time last', 'thumb,index,t_us', (ms, n) => `${n},5,${ms * 1000}`],
		['tabs', 'thumb\tmillis\tindex', (ms, n) => `${n}\t${ms}\t5`],
		['a quoted time', 'thumb,"time"', (ms, n) => `${n},"${(ms / 1000).toFixed(2)}"`],
		['the host named', 'host_time,thumb', (ms, n) => `${(1_772_355_600 + ms / 1000).toFixed(3)},${n}`],
		['a count named frame', 'frame,elapsed ms,thumb', (ms, n) => `${n},${ms},5`],
		['a steady millisecond that is named so', 'time_ms,thumb', (ms, n) => `${ms},${n}`],
	])('are timed by the column named like a time, which stays: %s', async (_, header, row) => {
		const result = await read(`${header}\n${lines(50, n => row(n * 20, n))}`);
		expect(result).toEqual({
			timing: 'column',
			times: [0, ...evenly(50, 0.02)],
			texts: [`${header}\n`, ...Array.from({length: 50}, (_, n) => `${row(n * 20, n)}\n`)],
		});
	});

	it.each<[string, string, (ms: number, n: number) => string, string, (ms: number, n: number) => string]>([
		[
			'words between semicolons, beside a decimal comma',
			'Ort;seconds;thumb',
			(ms, n) => `x;${(ms / 1000).toFixed(3).replace('.', ',')};${n}`,
			'seconds;thumb',
			(ms, n) => `${(ms / 1000).toFixed(3).replace('.', ',')};${n}`,
		],
		[
			'quoted words with commas and quotes (RFC 4180)',
			'"name, ""quoted""",time,thumb',
			(ms, n) => `"a, ""b""",${(ms / 1000).toFixed(2)},${n}`,
			'time,thumb',
			(ms, n) => `${(ms / 1000).toFixed(2)},${n}`,
		],
		[
			'words at the end, on half of the lines',
			'time,thumb,index,note',
			(ms, n) => `${(ms / 1000).toFixed(3)},${n},5,${n % 2 ? 'said "now"' : ''}`,
			'time,thumb,index',
			(ms, n) => `${(ms / 1000).toFixed(3)},${n},5`,
		],
		[
			'a clock time in the middle',
			'thumb,time,index',
			(ms, n) => `${n},${clockText(startMs + ms)},5`,
			'thumb,index',
			(_, n) => `${n},5`,
		],
		[
			'a date and a clock time',
			'date,time,thumb,index',
			(ms, n) => `2025-03-01,${clockText(startMs + ms)},${n},5`,
			'thumb,index',
			(_, n) => `${n},5`,
		],
	])('lose columns of words, which no glove sent: %s', async (_, header, row, keptHeader, keptRow) => {
		for (const chunkBytes of [1 << 20, 7]) {
			const result = await read(`${header}\r\n${lines(50, n => row(n * 20, n), '\r\n')}`, {}, chunkBytes);
			expect(result).toEqual({
				timing: 'column',
				times: [0, ...evenly(50, 0.02)],
				texts: [`${keptHeader}\r\n`, ...Array.from({length: 50}, (_, n) => `${keptRow(n * 20, n)}\r\n`)],
			});
		}
	});

	it.each([
		['labelled values', 'thumb,index,middle', (n: number) => `T${n},I5,M6`],
		['labels with digits in them', 'thumb:1,index:5,button-1:1', (n: number) => `thumb:${n},index:5,button-1:1`],
		['readings with units', 'thumb,index,middle', (n: number) => `${n} mV,0x1F,5e2`],
		['gaps', 'thumb,index,middle', (n: number) => `${n},nan,${n % 2 ? '' : '-'}`],
		['words in a few rows only', 'thumb,index,middle', (n: number) => `${n},5,${n % 3 ? 6 : 'off'}`],
		['too little beside the words', 'thumb,note', (n: number) => `${n},x`],
		['rows of other lengths', 'thumb,index,note', (n: number) => (n % 2 ? `${n},5,x` : `${n},5`)],
	])('keep %s', async (_, header, row) => {
		const log = `${header}\n${lines(50, row)}`;
		expect((await read(log)).texts.join('')).toBe(log);
	});

	it('leave a row alone that has not as many fields as the header', async () => {
		const log = `time,thumb,index,note\n${lines(50, n => `${(n / 100).toFixed(3)},${n},5,x`)}boot 3\n1,2,3\n`;
		expect((await read(log)).texts.slice(-2)).toEqual(['boot 3\n', '1,2,3\n']);
	});

	it('lose a clock time in the first column, in the header too', async () => {
		const result = await read(`time,thumb,index\n${lines(50, n => `${clockText(startMs + n * 20)},${frame(n)}`)}`);
		expect(result).toEqual({
			timing: 'column',
			times: [0, ...evenly(50, 0.02)],
			texts: ['thumb,index\n', ...frames(50)],
		});
	});

	it('are timed by the finer of two time columns', async () => {
		const result = await read(`date,time,thumb\n${lines(50, n => `2025-03-01,${clockText(startMs + n * 20)},${n}`)}`);
		expect(result.times).toEqual([0, ...evenly(50, 0.02)]);
		const also = await read(`s,ms,thumb\n${lines(50, n => `${Math.floor(n / 50)},${n * 20},${n}`)}`);
		expect(also.times).toEqual([0, ...evenly(50, 0.02)]);
	});

	it.each<[string, string, (n: number) => string]>([
		['the thumb is called t', 't,i,m,r,l', n => frame(n)],
		['time is a mere count', 'time,thumb', n => `${n},512`],
		['no column is named like a time', 'thumb,index', n => `${n * 20},512`],
	])('have no time where %s', async (_, header, row) => {
		const result = await read(`${header}\n${lines(25, row)}`);
		expect(result.timing).toBe('assumed');
		expect(result.texts[0]).toBe(`${header}\n`);
	});
});

describe('a log without times', () => {
	it('gives line n the time n / rate, 100 a second unless told otherwise', async () => {
		expect((await read(lines(5, frame))).times).toEqual([0, 0.01, 0.02, 0.03, 0.04]);
		expect((await read(lines(3, frame), {rate: 30})).times).toEqual([0, 0.033333, 0.066667]);
	});

	it('counts no blank lines', async () => {
		const result = await read('1,2\r\n\r\n3,4\r\n\r\n5,6\r\n');
		expect(result.times).toEqual([0, 0.01, 0.01, 0.02, 0.02]);
	});

	it('lets time pass by bytes where no line end comes', async () => {
		// 8N1: ten bit times a byte.
		const junk = Buffer.alloc(11_520 * 2, 0xf8);
		const result = await read(junk, {baud: 115_200});
		expect(result.timing).toBe('assumed');
		expect(result.times.at(-1)).toBeCloseTo((22 * 1024 * 10) / 115_200, 5);
		const slower = await read(junk, {baud: 9600});
		expect(slower.times.at(-1)).toBeCloseTo((22 * 1024 * 10) / 9600, 5);
	});

	it('goes over to lines when junk ends', async () => {
		const junk = Buffer.alloc(4096, 0xf8);
		const result = await read(Buffer.concat([junk, Buffer.from('\n'), Buffer.from(lines(5, frame))]), {baud: 115_200});
		const start = (4096 * 10) / 115_200;
		expect(result.times.slice(-5)).toEqual([0, 1, 2, 3, 4].map(n => Math.round((start + n / 100) * 1e6) / 1e6));
	});
});

describe('text as it is met in the wild', () => {
	const stamped = lines(60, n => `${(n * 0.02).toFixed(3)} ${frame(n)}`);
	const expected: Read = {timing: 'column', times: evenly(60, 0.02), texts: frames(60)};

	it('may begin with a byte order mark', async () => {
		expect(await read(`\uFEFF${stamped}`)).toEqual(expected);
	});

	it.each(['with', 'without'])('may be UTF-16, %s a byte order mark', async mark => {
		const little = Buffer.from((mark === 'with' ? '\uFEFF' : '') + stamped, 'utf16le');
		expect(await read(little)).toEqual(expected);
		expect(await read(Buffer.from(little).swap16())).toEqual(expected);
		// An odd chunk size cuts characters in half.
		expect(await read(little, {}, 777)).toEqual(expected);
	});

	it('may end its lines with CR alone', async () => {
		const texts = frames(60, ',', '\r');
		expect(await read(stamped.replaceAll('\n', '\r'))).toEqual({...expected, texts});
		expect(await read(lines(60, frame, '\r'))).toEqual({timing: 'assumed', times: evenly(60, 0.01), texts});
		expect((await read(`${lines(60, frame, '\r')}1,2\r\n3,4\n`)).texts).toEqual([...texts, '1,2\r\n', '3,4\n']);
	});

	it('may end in the middle of a line', async () => {
		const result = await read(`${stamped}1.200 51`);
		expect(result.texts.at(-1)).toBe('51');
		expect(result.times.at(-1)).toBe(1.2);
	});

	it('may be a single line', async () => {
		expect(await read('512,498\n')).toEqual({timing: 'assumed', times: [0], texts: ['512,498\n']});
		expect(await read('09:14:07.112 -> 512,498')).toEqual({timing: 'column', times: [0], texts: ['512,498']});
	});

	it('keeps every byte, whatever the bytes are and however they arrive', async () => {
		await fc.assert(
			fc.asyncProperty(
				fc.oneof(
					fc.uint8Array({maxLength: 3000}),
					fc
						.array(fc.constantFrom('512,498', '\n', '\r', '\r\n', ' ', '0.5 ', '09:14:07.1', 'x', '\0', '[', ':'), {
							maxLength: 300,
						})
						.map(parts => Buffer.from(parts.join(''))),
				),
				fc.integer({min: 1, max: 500}),
				async (bytes, chunkBytes) => {
					// Marks and a terminal's colours are taken off and other encodings turned into UTF-8 on purpose.
					fc.pre(bytes[0] !== 0xef && !bytes.includes(0x1b) && findEncoding(bytes) === undefined);
					const source = await open(bytes, {}, chunkBytes);
					const items = await readAll(source);
					const whole = await readAll(await open(bytes));
					expect(bytesOf(items)).toEqual(bytesOf(whole));
					const hasClock = /\d:\d\d/.test(Buffer.from(bytes).toString('latin1'));
					if (source.info.timing === 'assumed' && !hasClock) expect(bytesOf(items)).toEqual(Buffer.from(bytes));
					const times = items.map(({t}) => t);
					expect(times).toEqual([...times].sort((a, b) => a - b));
				},
			),
			{numRuns: 300},
		);
	});

	it('gives the same items however the file is cut into chunks', async () => {
		const whole = await read(stamped);
		for (const size of [1, 2, 7, 64, 1000]) expect(await read(stamped, {}, size)).toEqual(whole);
	});
});
