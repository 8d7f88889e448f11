import fc from 'fast-check';
import {describe, expect, it, test} from 'vitest';
import {CannotError} from '../../../source/cannot-error.ts';
import {gloveRows, readLog} from './disguised.ts';

const rows = gloveRows(120);
const five = ['thumb', 'index', 'middle', 'ring', 'little'];
const glove = [...five, 'stick-x', 'stick-y', 'button-1', 'button-2'];
const two = (n: number): string => String(n).padStart(2, '0');

/** Frames come a hundred a second, from a quarter past nine on. */
const clock = (i: number): string => `09:14:${two(7 + Math.floor(i / 100))}.${String((i % 100) * 10).padStart(3, '0')}`;
const whole = (i: number): string => clock(i).slice(0, 8);
const labels = (r: readonly number[]): string => five.map((name, i) => `${name}:${r[i]}`).join(' ');
const words = (r: readonly number[]): string => five.map((_, i) => `${'TIMRP'[i]}${r[i]}`).join('');
const json = (r: readonly number[]): object => ({fingers: r.slice(0, 5), stick: {x: r[5], y: r[6]}, b: [r[7], r[8]]});

type Way = {
	readonly name: string;
	readonly line: (row: readonly number[], i: number) => string;
	/** What the log means: its columns, how its times can be trusted, and what is taken out of how many lines. */
	readonly means: readonly string[];
	readonly timing: 'column' | 'assumed';
	readonly out: string | null;
};

const head = 'what stands before the readings (date, host, program, level, port, name)';
const hand = five;
const ways: readonly Way[] = [
	{name: 'plain', line: r => r.join(), means: glove, timing: 'assumed', out: null},
	// Terminal colours: ECMA-48 SGR, whole, written out, and with their ESC lost.
	{
		name: 'colours',
		line: r => `\u001b[32m${r.join()}\u001b[0m`,
		means: glove,
		timing: 'assumed',
		out: 'terminal colours',
	},
	{
		name: 'colours written out',
		line: r => `\\x1b[32m${r.join()}\\x1b[0m`,
		means: glove,
		timing: 'assumed',
		out: 'terminal colours',
	},
	{
		name: 'colours without ESC',
		line: r => `[0;32m${r.join()}[0m`,
		means: glove,
		timing: 'assumed',
		out: 'terminal colours',
	},
	{
		name: 'colours with the sign for ESC',
		line: r => `␛[32m${r.join()}␛[0m`,
		means: glove,
		timing: 'assumed',
		out: 'terminal colours',
	},
	// Loggers: ESP-IDF and Zephyr documentation; Python documentation, logging.
	{
		name: 'a board’s logger',
		line: (r, i) => `I (${1234 + 10 * i}) glove: ${r.join()}`,
		means: glove,
		timing: 'column',
		out: head,
	},
	{
		name: 'a board’s logger before labels',
		line: (r, i) => `${'IWE'[i % 3]} (${1234 + 10 * i}) glove: ${labels(r)}`,
		means: hand,
		timing: 'column',
		out: head,
	},
	{
		name: 'Zephyr',
		line: (r, i) =>
			`[00:00:${two(1 + Math.floor(i / 100))}.${String((i % 100) * 10).padStart(3, '0')},000] <inf> glove: ${r.join()}`,
		means: glove,
		timing: 'column',
		out: head,
	},
	{
		name: 'Python’s logging',
		line: (r, i) => `2024-03-01 ${clock(i).replace('.', ',')} INFO glove: ${r.join()}`,
		means: glove,
		timing: 'column',
		out: head,
	},
	{name: 'Python’s logging, short', line: r => `INFO:root:${r.join()}`, means: glove, timing: 'assumed', out: head},
	// RFC 3164 and RFC 5424 forms, with whole seconds and with fractions.
	{
		name: 'syslog',
		line: (r, i) => `Mar  1 ${whole(i)} bench glove[812]: ${r.join()}`,
		means: glove,
		timing: 'assumed',
		out: head,
	},
	{
		name: 'a journal',
		line: (r, i) => `2024-03-01T${clock(i)}+01:00 bench glove[812]: ${r.join()}`,
		means: glove,
		timing: 'column',
		out: head,
	},
	{
		name: 'a journal before labels',
		line: (r, i) => `2024-03-01T${clock(i)}+01:00 bench glove[812]: ${labels(r)}`,
		means: hand,
		timing: 'column',
		out: head,
	},
	{name: 'a port', line: r => `COM5: ${r.join()}`, means: glove, timing: 'assumed', out: head},
	{
		name: 'a time and a port',
		line: (r, i) => `[${clock(i)}] COM5 > ${r.join()}`,
		means: glove,
		timing: 'column',
		out: head,
	},
	{
		name: 'a device',
		line: (r, i) => `${clock(i)} /dev/ttyUSB0: ${r.join()}`,
		means: glove,
		timing: 'column',
		out: head,
	},
	{name: 'a process', line: r => `[812] ${r.join()}`, means: glove, timing: 'assumed', out: head},
	{name: 'a service', line: r => `glove-1  | ${r.join()}`, means: glove, timing: 'assumed', out: head},
	{
		name: 'line numbers',
		line: (r, i) => `${String(i + 1).padStart(6)}\t${r.join()}`,
		means: glove,
		timing: 'assumed',
		out: 'line numbers',
	},
	{
		name: 'line numbers of a search',
		line: (r, i) => `${i + 1}: ${r.join()}`,
		means: glove,
		timing: 'assumed',
		out: 'line numbers',
	},
	{
		name: 'a chat',
		line: (r, i) => `[01.03.25, ${whole(i)}] Pim Pom: ${r.join()}`,
		means: glove,
		timing: 'assumed',
		out: head,
	},
	{name: 'a name', line: r => `Pim Pom: ${r.join()}`, means: glove, timing: 'assumed', out: head},
	{name: 'a quoted mail', line: r => `> > ${r.join()}`, means: glove, timing: 'assumed', out: 'quote marks'},
	{name: 'HTML', line: r => `${r.join('&nbsp;')}<br>`, means: glove, timing: 'assumed', out: 'HTML'},
	{
		name: 'HTML with a time',
		line: (r, i) => `${clock(i)} -&gt; ${r.join()}<br/>`,
		means: glove,
		timing: 'column',
		out: 'HTML',
	},
	{
		name: 'no-break blanks',
		line: r => r.join(',\u00a0'),
		means: glove,
		timing: 'assumed',
		out: 'blanks and dashes of a word processor',
	},
	{
		name: 'literals of bytes',
		line: r => `b'${r.join()}\\r\\n'`,
		means: glove,
		timing: 'assumed',
		out: 'quotes of a program around the line',
	},
	{
		name: 'literals of text',
		line: r => `"${r.join()}\\n",`,
		means: glove,
		timing: 'assumed',
		out: 'quotes of a program around the line',
	},
	{name: 'JSON', line: r => JSON.stringify(json(r)), means: glove, timing: 'assumed', out: null},
	{name: 'indented JSON', line: r => JSON.stringify(json(r), null, 2), means: glove, timing: 'assumed', out: null},
	{
		name: 'JSON with other keys',
		line: (r, i) => JSON.stringify({event: 'frame', device: 'left', fingers: r.slice(0, 5), note: `n${i % 3}`}),
		means: hand,
		timing: 'assumed',
		out: null,
	},
	{
		name: 'a dictionary of Python',
		line: r => `{${five.map((name, i) => `'${name}': ${r[i]}`).join(', ')}, 'laugh': ${r[7] === 1 ? 'True' : 'False'}}`,
		means: [...five, 'laugh'],
		timing: 'assumed',
		out: null,
	},
	{
		name: 'seconds before labels',
		line: (r, i) => `${(i / 100).toFixed(3)} ${labels(r)}`,
		means: hand,
		timing: 'column',
		out: null,
	},
	{
		name: 'seconds before address words',
		line: (r, i) => `${(i / 100).toFixed(3)} ${words(r)}`,
		means: hand,
		timing: 'column',
		out: null,
	},
	{
		name: 'milliseconds before address words',
		line: (r, i) => `${5000 + 10 * i} ${words(r)}`,
		means: hand,
		timing: 'column',
		out: null,
	},
	{
		name: 'a time before address words with blanks',
		line: (r, i) => `${clock(i)} ${words(r).replaceAll(/(?<=\d)(?=[A-Z])/g, ' ')}`,
		means: hand,
		timing: 'column',
		out: null,
	},
	{
		name: 'counts',
		line: r =>
			r
				.slice(0, 5)
				.map(v => `${v} counts`)
				.join(', '),
		means: hand,
		timing: 'assumed',
		out: null,
	},
	{
		name: 'a hexadecimal checksum',
		line: r => `${r.join()}*${(r.reduce((a, b) => a ^ b) & 255).toString(16).padStart(2, '0').toUpperCase()}`,
		means: glove,
		timing: 'assumed',
		out: null,
	},
	{
		name: 'a decimal checksum',
		line: r => `${r.join()}*${r.reduce((a, b) => a + b) % 256}`,
		means: glove,
		timing: 'assumed',
		out: null,
	},
	{
		name: 'a frame over two lines',
		line: r => `${r.slice(0, 5).join()},\n${r.slice(5).join()}`,
		means: glove,
		timing: 'assumed',
		out: '*',
	},
];

describe('a log as it is sent', () => {
	test.each(ways)('means the same with $name', async ({line, means, timing, out}) => {
		const reading = await readLog(`${rows.map(line).join('\n')}\n`);
		expect(reading.names).toEqual(means);
		expect(reading.frames).toHaveLength(rows.length);
		const values = (r: readonly number[]): number[] =>
			means === hand ? r.slice(0, 5) : means.length === 6 ? [...r.slice(0, 5), r[7]] : [...r];
		expect(reading.frames[0]).toEqual(values(rows[0]));
		expect(reading.frames).toEqual(rows.map(values));
		expect(reading.bad).toBe(0);
		expect(reading.stray).toEqual([]);
		expect(reading.timing).toBe(timing);
		// Whole seconds are spread over; all others come to a hundredth.
		if (timing === 'column') expect(reading.times.at(-1)).toBeCloseTo(1.19, 6);
		const told = reading.intake.leftOut;
		if (out === null) expect(told).toEqual([]);
		else if (out !== '*') expect(told).toContainEqual({what: out, lines: rows.length});
	});

	test('two frames a line are cut in two, whatever stands between them', async () => {
		for (const gap of [',', ' ', '  ', ' ; ']) {
			const lines = rows.flatMap((row, i) => (i % 2 === 0 ? [`${row.join()}${gap}${rows[i + 1].join()}`] : []));
			const reading = await readLog(`${lines.join('\n')}\n`);
			expect(reading.names).toEqual(glove);
			expect(reading.frames).toEqual(rows);
			expect(reading.intake.leftOut).toEqual([{what: 'lines with two frames each, cut in two', lines: 60}]);
		}
	});

	test('lines wrapped by a window are joined', async () => {
		const lines = rows.map((row, i) => `${clock(i)} -> ${row.map(v => String(v).padStart(4)).join(', ')}`);
		const reading = await readLog(`${lines.map(line => line.replace(/^.{40}/, '$&\n')).join('\n')}\n`);
		expect(reading.names).toEqual(glove);
		expect(reading.frames).toEqual(rows);
		expect(reading.intake.leftOut).toEqual([{what: 'line breaks of a window 40 characters wide', lines: 120}]);
	});

	test('two gloves by turns are two hands of one frame', async () => {
		const reading = await readLog(
			`${rows.flatMap(row => [`L,${row.slice(0, 5).join()}`, `R,${row.slice(2, 7).join()}`]).join('\n')}\n`,
		);
		expect(reading.names).toEqual([...five, ...five.map(name => `${name}-2`)]);
		expect(reading.frames).toEqual(rows.map(row => [...row.slice(0, 5), ...row.slice(2, 7)]));
	});

	test('quoted-printable breaks are mended', async () => {
		const lines = rows.map(row => `${labels(row).replaceAll(':', '=3D')} stick-x=3D${row[5]}=\n stick-y=3D${row[6]} `);
		const reading = await readLog(`${lines.join('\n')}\n`);
		expect(reading.names).toEqual([...five, 'stick-x', 'stick-y']);
		expect(reading.frames).toEqual(rows.map(row => row.slice(0, 7)));
	});

	test('a label, `=` and a reading whose first two digits are a letter by quoted-printable', async () => {
		const far = rows.map(row => row.slice(0, 5).map(reading => 2000 + (reading % 700)));
		const reading = await readLog(`${far.map(row => labels(row).replaceAll(':', '=')).join('\n')}\n`);
		expect(reading.names).toEqual(five);
		expect(reading.frames).toEqual(far);
		expect(reading.intake.leftOut).toEqual([]);
	});

	test('a JSON array of all frames, on one line or indented, within a document', async () => {
		for (const text of [
			JSON.stringify(rows),
			JSON.stringify(rows, null, 1),
			JSON.stringify({device: 'left', meta: {n: 3}, samples: rows}),
			JSON.stringify({samples: rows.map(json)}, null, '\t'),
			`(${rows.map(row => `(${row.join(', ')})`).join(', ')})`,
		]) {
			const reading = await readLog(text);
			expect(reading.names).toEqual(glove);
			expect(reading.frames).toEqual(rows);
			expect(reading.intake.steps).toEqual(['a JSON text, a frame at a time']);
		}
	});

	test('a hex dump is turned back', async () => {
		const bytes = Buffer.from(`${rows.map(row => row.join()).join('\r\n')}\r\n`);
		const lines: string[] = [];
		for (let at = 0; at < bytes.length; at += 16) {
			const part = bytes.subarray(at, at + 16);
			const pairs = [...part].map(byte => byte.toString(16).padStart(2, '0'));
			lines.push(
				`${at.toString(16).padStart(8, '0')}  ${pairs.slice(0, 8).join(' ')}  ${pairs.slice(8).join(' ')}  |${part.toString('latin1').replaceAll(/[\r\n]/g, '.')}|`,
			);
		}

		const alone = lines.map(line => line.slice(10).replace(/\|.*/, '').trim().replaceAll('  ', ' ').toUpperCase());
		for (const text of [lines, alone]) {
			const reading = await readLog(`${text.join('\n')}\n`);
			expect(reading.frames).toEqual(rows);
			expect(reading.intake.steps).toEqual(['a hex dump, turned back into bytes']);
		}
	});

	test('readings in hexadecimal are no dump', async () => {
		const reading = await readLog(
			`${rows
				.map(row =>
					row
						.slice(0, 5)
						.map(v => (v & 255).toString(16).padStart(2, '0'))
						.join(' '),
				)
				.join('\n')}\n`,
		);
		expect(reading.intake.steps).toEqual([]);
		expect(reading.frames).toHaveLength(rows.length);
	});

	test('Windows-1252: a label with an umlaut stays a column', async () => {
		const line = (r: readonly number[]): string =>
			`Daumen:${r[0]} Zeige:${r[1]} Mittel:${r[2]} Ring:${r[3]} kläffen:${r[7]} Öffnen:${r[8]}`;
		for (const encoding of ['latin1', 'utf8'] as const) {
			const reading = await readLog(Buffer.from(`${rows.map(line).join('\n')}\n`, encoding));
			expect(reading.names).toEqual(['thumb', 'index', 'middle', 'ring', 'kläffen', 'öffnen']);
			expect(reading.frames).toHaveLength(rows.length);
			expect(reading.intake.steps).toEqual(encoding === 'latin1' ? ['Windows-1252 text'] : []);
		}
	});

	test('lines of a chat between the frames are left out', async () => {
		const lines = rows.map((row, i) => `[01.03.25, ${whole(i)}] Pim Pom: ${row.join()}`);
		lines.splice(50, 0, `[01.03.25, ${whole(50)}] Odd: is that the left one?`, `[01.03.25, ${whole(50)}] Pim Pom: yes`);
		const reading = await readLog(`${lines.join('\n')}\n`);
		expect(reading.frames).toEqual(rows);
		expect(reading.stray).toEqual([]);
		expect(reading.intake.leftOut).toContainEqual({what: 'lines of a chat', lines: 2});
	});

	test('a note that lines were left out is a break', async () => {
		const lines = rows.map(row => row.join());
		for (const note of ['[... 812 lines omitted ...]', '<snip>', '...', '…', '--- 12 lines skipped ---']) {
			const reading = await readLog(`${[...lines.slice(0, 60), note, ...lines.slice(60)].join('\n')}\n`);
			expect(reading.frames, note).toEqual(rows);
			expect([reading.gaps, reading.stray], note).toEqual([1, []]);
		}
	});

	test('a clock with pauses is kept', async () => {
		const ms = (i: number): number => 5001 + 20 * i + (i > 40 ? 15_000 : 0) + (i > 90 ? 12_500 : 0);
		const reading = await readLog(
			`${rows.map((r, i) => `Time: ${ms(i)} Position: ${r[0]} Speed: ${r[1] - r[2]}`).join('\n')}\n`,
		);
		expect(reading.timing).toBe('column');
		expect(reading.sessions).toEqual([]);
		expect(reading.times.at(-1)).toBeCloseTo((ms(119) - ms(0)) / 1000, 6);
	});
});

describe('sessions in one log', () => {
	const at = (hours: number, i: number): string => `${two(hours)}${clock(i).slice(2)} -> ${rows[i].join()}`;
	const first = rows.map((_, i) => at(9, i));

	it('end where times go back, or jump by ten minutes', async () => {
		const back = await readLog(`${[...first, ...rows.map((_, i) => at(8, i))].join('\n')}\n`);
		expect(back.sessions).toEqual(['the times go back']);
		expect(back.frames).toEqual([...rows, ...rows]);
		const later = await readLog(`${[...first, ...rows.map((_, i) => at(10, i))].join('\n')}\n`);
		expect(later.sessions).toEqual(['a pause of 60 min']);
		const soon = rows.map((row, i) => `${clock(i).replace('09:14', '09:23')} -> ${row.join()}`);
		expect((await readLog(`${[...first, ...soon].join('\n')}\n`)).sessions).toEqual([]);
	});

	it('end without times where start-up text comes again, and not where a header is repeated', async () => {
		const boot = ['marionette glove ready', 'reading EEPROM... done'];
		const lines = rows.map(row => row.join());
		expect((await readLog(`${[...boot, ...lines, ...boot, ...lines].join('\n')}\n`)).sessions).toEqual([
			'start-up text comes again',
		]);
		const header = glove.join();
		const headed = await readLog(`${[header, ...lines, header, ...lines].join('\n')}\n`);
		expect(headed.sessions).toEqual([]);
		expect(headed.frames).toHaveLength(240);
	});

	it('go on where times run on: a restart stays inside', async () => {
		const boot = 'marionette glove ready';
		const text = [`${clock(0)} -> ${boot}`, ...first.slice(0, 60), `${clock(60)} -> ${boot}`, ...first.slice(60)];
		expect((await readLog(`${text.join('\n')}\n`)).sessions).toEqual([]);
	});
});

describe('a tracker’s poses', () => {
	const turn = (i: number): number[] => [Math.cos(i / 50), Math.sin(i / 50) * 0.6, Math.sin(i / 50) * 0.8, 0];
	it.each([
		['under a header', 'time,x,y,z,qw,qx,qy,qz\n'],
		['without one', ''],
	])('are refused with the command for them: %s', async (_, header) => {
		const text =
			header +
			rows
				.map((r, i) =>
					[
						(i / 90).toFixed(4),
						...[r[0], r[1], r[2]].map(v => (v / 500).toFixed(5)),
						...turn(i).map(v => v.toFixed(6)),
					].join(),
				)
				.join('\n');
		await expect(readLog(text)).rejects.toThrow(CannotError);
		await expect(readLog(text)).rejects.toThrow(/glovebench mount/);
	});

	it('a glove that sends its turn as well is no pose log', async () => {
		const reading = await readLog(
			`${rows.map((row, i) => [...row, ...turn(i).map(v => v.toFixed(4))].join()).join('\n')}\n`,
		);
		expect(reading.names.slice(0, 9)).toEqual(glove);
	});
});

describe('all pairs of disguises', () => {
	type Disguise = readonly [name: string, dress: (lines: readonly string[]) => readonly string[]];
	const kinds: Record<string, readonly Disguise[]> = {
		prefix: [
			['a logger', lines => lines.map((line, i) => `I (${1234 + 10 * i}) glove: ${line}`)],
			['a journal', lines => lines.map((line, i) => `2024-03-01T${clock(i)}+01:00 bench glove[812]: ${line}`)],
			['a port', lines => lines.map(line => `COM5: ${line}`)],
			['a stamp', lines => lines.map((line, i) => `${clock(i)} -> ${line}`)],
			['line numbers', lines => lines.map((line, i) => `${String(i + 1).padStart(5)}\t${line}`)],
		],
		colours: [
			['colours', lines => lines.map(line => `\u001b[0;32m${line}\u001b[0m`)],
			['lost colours', lines => lines.map(line => `[0;32m${line}[0m`)],
		],
		wrapping: [
			['a quote', lines => lines.map(line => `> ${line}`)],
			['HTML', lines => lines.map(line => `${line.replaceAll('&', '&amp;').replaceAll('>', '&gt;')}<br>`)],
			['a code block', lines => ['```', ...lines, '```']],
			[
				'literals',
				lines =>
					lines.map(
						line => `b'${line.replaceAll('\\', '\\\\').replaceAll('\u001b', '\\x1b').replaceAll('\t', '\\t')}\\r\\n'`,
					),
			],
		],
	};
	const encodings: readonly (readonly [string, (text: string) => Uint8Array])[] = [
		['UTF-8', text => Buffer.from(text)],
		['UTF-8 with a mark', text => Buffer.from(`\ufeff${text}`)],
		['UTF-16', text => Buffer.from(`\ufeff${text}`, 'utf16le')],
		['UTF-16, the other order', text => Buffer.from(`\ufeff${text}`, 'utf16le').swap16()],
		['CRLF', text => Buffer.from(text.replaceAll('\n', '\r\n'))],
		['CR', text => Buffer.from(text.replaceAll('\n', '\r'))],
	];
	const plain = rows.map(row => row.join());
	const boot = ['marionette glove ready', 'reading EEPROM... done'];
	const sessions: readonly Disguise[] = [
		['one session', lines => lines],
		['two sessions', lines => [...boot, ...lines, ...boot, ...lines]],
	];
	const none: Disguise = ['nothing', lines => lines];
	// Where time runs on, a board that starts again is the same session.
	const timed = ['a logger', 'a journal', 'a stamp'];
	const pairs: [name: string, isTwice: boolean, isOne: boolean][] = [];
	const texts = new Map<string, Uint8Array>();
	for (const prefix of [none, ...kinds.prefix]) {
		for (const colour of [none, ...kinds.colours]) {
			for (const wrapping of [none, ...kinds.wrapping]) {
				for (const [encoding, write] of encodings) {
					const dressed = [prefix, colour, wrapping, ['', () => []] as Disguise].slice(0, 3);
					for (const [parts, repeat] of sessions) {
						const two = parts === 'two sessions';
						const others = dressed.filter(([name]) => name !== 'nothing').length + (encoding === 'UTF-8' ? 0 : 1);
						if (others + (two ? 1 : 0) !== 2) continue;
						const name = [parts, ...dressed.map(([each]) => each), encoding].join(' · ');
						const lines = dressed.reduce((each, [, dress]) => dress(each), repeat(plain));
						texts.set(name, write(`${lines.join('\n')}\n`));
						pairs.push([name, two, two && timed.includes(prefix[0])]);
					}
				}
			}
		}
	}

	test.each(pairs)('%s', async (name, isTwice, isOne) => {
		const reading = await readLog(texts.get(name)!);
		expect(reading.frames).toEqual(isTwice ? [...rows, ...rows] : rows);
		expect(reading.names).toEqual(glove);
		expect(reading.bad).toBe(0);
		expect(reading.stray).toHaveLength(isTwice ? 4 : 0);
		expect(reading.sessions).toEqual(isTwice && !isOne ? ['start-up text comes again'] : []);
	});
});

describe('whatever the text', () => {
	const piece = fc.constantFrom(
		...[
			'512,498,600',
			'\n',
			'\r\n',
			'\u001b[32m',
			'[0m',
			'> ',
			'&gt;',
			'<br>',
			'=\n',
			'{"a":[1,2]',
			'}',
			']',
			"b'",
			"\\n'",
			'I (12) glove: ',
		],
		...[
			'[... 3 lines omitted ...]',
			'09:14:07.112 -> ',
			'00000000  35 31 ',
			'COM5: ',
			'L,1,2,3,4,5',
			'R,1,2,3,4,5',
			'\u0000',
			'ä',
			'"',
			',',
			'thumb:5 ',
			'T512I498',
			'1234,007: ',
			'G1: 1,2,3,4',
			'G2: 4,3,2,1',
			'\nG1: 1,2,3,4\nG2: 4,3,2,1',
			'notification handle = 0x0025 value: ',
			'RX (27 bytes): ',
			'{"pos":{"x":1,"y":2,"z":3},"rot":{"w":1,"x":0,"y":0,"z":0}}',
			'time,x,y,z,roll,pitch,yaw\n',
			' 512,498,600',
			',0.00',
		],
	);
	it('reads it the same however it is cut, and never fails but by a line', async () => {
		await fc.assert(
			fc.asyncProperty(
				fc.array(piece, {maxLength: 60}),
				fc.integer({min: 1, max: 50}),
				fc.nat(20),
				async (pieces, bytes, repeats) => {
					const text = pieces.join('').repeat(repeats + 1);
					const read = async (chunk: number) =>
						readLog(text, chunk).catch(error => {
							expect(error).toBeInstanceOf(CannotError);
							return String(error);
						});
					const one = await read(1 << 16);
					expect(await read(bytes)).toEqual(one);
				},
			),
			{numRuns: 30, seed: 13},
		);
	});
});
