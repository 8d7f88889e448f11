import {spawnSync} from 'node:child_process';
import {once} from 'node:events';
import {readFileSync, writeFileSync} from 'node:fs';
import {connect} from 'node:net';
import {PassThrough} from 'node:stream';
import {describe, expect, test} from 'vitest';
import {WebSocket} from 'ws';
import {mayRead} from '../../source/commands/frame-servers.ts';
import {type FramesOptions, framesCommand} from '../../source/commands/frames.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {boardLines} from './board-lines.ts';
import {runCaptured} from './run-captured.ts';

const {at} = testFolder();

const run = (options: FramesOptions) => runCaptured(framesCommand, options);

describe('frames', () => {
	test('writes a table with the time first', async () => {
		const {status, text, talk} = await run({source: 'recordings/healthy-labels.gbrec'});
		expect(status).toBe(0);
		const [head, ...rows] = text.trimEnd().split('\n');
		expect(head).toBe('seconds,counter,little,middle,thumb,ring,index,button-1');
		expect(rows.every(row => /^\d+\.\d{6}(,\d+)+$/.test(row))).toBe(true);
		expect(talk).toContain(`${rows.length} frames of recordings/healthy-labels.gbrec.`);
	});

	test('labels between commas, as boards print them, keep their buttons and axes', async () => {
		const log = boardLines
			.map(line =>
				line
					.split(',')
					.map(
						(value, i) =>
							`${['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y', 'button-1', 'button-2', 'counter'][i]}:${value}`,
					)
					.join(','),
			)
			.join('\n');
		writeFileSync(at('labels.txt'), `${log}\n`);
		const {text} = await run({source: at('labels.txt'), format: 'comma'});
		expect(text).toBe(`${boardLines.join('\n')}\n`);
	});

	test('keeps seconds to the microsecond there and back', async () => {
		const first = await run({source: 'recordings/healthy.gbrec', output: at('h.csv')});
		expect(first.status).toBe(0);
		await run({source: at('h.csv'), format: 'ndjson', output: at('h.ndjson')});
		await run({source: at('h.ndjson'), format: 'csv', output: at('h2.csv')});
		await run({source: at('h2.csv'), format: 'csv', output: at('h3.csv')});
		// A log's times begin at its first line.
		expect(readFileSync(at('h3.csv'), 'utf8')).toBe(readFileSync(at('h2.csv'), 'utf8'));
		const steps = (file: string): number[] => {
			const times = readFileSync(file, 'utf8')
				.trimEnd()
				.split('\n')
				.slice(1)
				.map(row => Number(row.split(',')[0]));
			return times.slice(1).map((t, i) => Math.round((t - times[i]) * 1e6));
		};
		expect(steps(at('h2.csv'))).toEqual(steps(at('h.csv')));
	});

	test('leaves damaged lines out, counts them, and says what a table cannot hold', async () => {
		const {text, talk} = await run({source: 'recordings/broken-frames.gbrec'});
		const commas = new Set(
			text
				.trimEnd()
				.split('\n')
				.map(row => row.split(',').length),
		);
		expect(commas.size).toBe(1);
		expect(talk).toMatch(/left out: \d+ damaged lines/);
		expect(talk).toContain('not to be seen in the readings alone: broken-frames.');
	});

	test("text of the device reaches the output as numbers only, and its labels without anything but letters, digits, '.' and '-'", async () => {
		const lines = Array.from({length: 40}, (_, i) => `=cmd|'/c x':${500 + i} \u001b[31mthumb:${300 + i} +A1:${i}`);
		writeFileSync(at('evil.txt'), `${lines.join('\n')}\n`);
		for (const format of ['csv', 'ndjson', 'labels'] as const) {
			const {text} = await run({source: at('evil.txt'), format}).catch(() => ({text: ''}));
			expect(text).toMatch(/^[\p{L}\p{N}.,:_ \-\n{}"]*$/u);
			expect(text).not.toMatch(/(?:^|[,"])[=+@-]\p{L}/mu);
		}
	});

	test('takes columns in the order asked for, at even times, in percent', async () => {
		const {text, talk} = await run({
			source: 'recordings/healthy.gbrec',
			columns: 'ring,thumb',
			resample: 10,
			values: 'percent',
			format: 'tsv',
		});
		const [head, ...rows] = text.trimEnd().split('\n');
		expect(head).toBe('seconds\tring\tthumb');
		expect(rows[0].split('\t')[0]).toBe('0.100000');
		expect(rows[1].split('\t')[0]).toBe('0.200000');
		expect(
			rows.every(row =>
				row
					.split('\t')
					.slice(1)
					.every(value => Number(value) >= 0 && Number(value) <= 100),
			),
		).toBe(true);
		expect(talk).toMatch(/\d+ rows from 1249 frames/);
	});

	test('refuses what does not go together, with what to do instead', async () => {
		const source = 'recordings/healthy.gbrec';
		await expect(run({source, line: '{thumb}', format: 'csv'})).rejects.toThrow(/exclude each other/);
		await expect(run({source, stamp: true})).rejects.toThrow(/--stamp is for --format comma and labels/);
		await expect(run({source, host: '::1'})).rejects.toThrow(/give --listen or --websocket/);
		await expect(run({source, listen: 0})).rejects.toThrow(/is a file/);
		await expect(run({source, columns: 'pinky'})).rejects.toThrow(/no channel is called "pinky"; there are thumb/);
		await expect(run({source, columns: 'ring,ring'})).rejects.toThrow(/twice/);
		await expect(run({source, values: 'bend'})).rejects.toThrow(/--sheet/);
		writeFileSync(at('there.csv'), 'mine');
		await expect(run({source, output: at('there.csv')})).rejects.toThrow(/already there/);
		expect(readFileSync(at('there.csv'), 'utf8')).toBe('mine');
	});

	test('a stream without a frame is status 1, and no table', async () => {
		const {status, text, talk} = await run({source: 'recordings/wrong-baud.gbrec'});
		expect([status, text]).toEqual([1, '']);
		expect(talk).toContain('glovebench check');
	});
});

/** A live stream on standard input: lines until it is ended. */
function liveGlove() {
	const stdin = new PassThrough();
	let n = 0;
	const timer = setInterval(() => stdin.write(`thumb:${300 + (n % 50)} index:${400 + (n++ % 50)}\n`), 5);
	const end = (): void => {
		clearInterval(timer);
		stdin.end();
	};
	return {stdin, end};
}

/** `frames` on a live stream with servers; resolves once they listen. */
async function serving(options: Omit<FramesOptions, 'source'>) {
	const {stdin, end} = liveGlove();
	const stderr = new PassThrough();
	let talk = '';
	const done = framesCommand(
		{source: '-', ...options},
		{stdin, stdout: new PassThrough(), stderr, signal: new AbortController().signal},
	);
	const ports: Record<string, number> = {};
	const wanted = (options.listen === undefined ? 0 : 1) + (options.websocket === undefined ? 0 : 1);
	await new Promise<void>((resolve, reject) => {
		done.catch(reject);
		stderr.on('data', data => {
			talk += data;
			for (const [, kind, port] of talk.matchAll(/(tcp|ws):\/\/[^ ]*:(\d+)/g)) ports[kind] = Number(port);
			if (Object.keys(ports).length === wanted) resolve();
		});
	});
	return {ports, end, done, talk: () => talk};
}

describe('frames served live', () => {
	test('every reader gets the head and then frames, a WebSocket NDJSON', async () => {
		const glove = await serving({listen: 0, websocket: 0, format: 'csv'});
		const tcp = connect(glove.ports.tcp, '127.0.0.1');
		const socket = new WebSocket(`ws://127.0.0.1:${glove.ports.ws}`);
		let text = '';
		await Promise.all([
			new Promise<void>(resolve => {
				tcp.on('data', data => {
					text += data;
					if (text.split('\n').length > 3) resolve();
				});
			}),
			once(socket, 'message').then(([message]) => {
				expect(JSON.parse(String(message))).toEqual({
					seconds: expect.any(Number),
					thumb: expect.any(Number),
					index: expect.any(Number),
				});
			}),
		]);
		expect(text.split('\n').slice(0, 2)).toEqual([
			'seconds,thumb,index',
			expect.stringMatching(/^\d+\.\d{6},\d+,\d+$/),
		]);
		const gone = once(socket, 'close');
		glove.end();
		expect(await glove.done).toBe(0);
		expect((await gone)[0]).toBe(1001);
		tcp.destroy();
	});

	test('a page from elsewhere is refused, and told', async () => {
		const glove = await serving({websocket: 0});
		const stranger = new WebSocket(`ws://127.0.0.1:${glove.ports.ws}`, {origin: 'https://puppets.example'});
		const [error] = await once(stranger, 'error');
		expect(String(error)).toContain('401');
		expect(glove.talk()).toContain('https://puppets.example asked for the readings and was refused');
		glove.end();
		await glove.done;
	});

	test('only pages that this machine serves may read', () => {
		// RFC 6455, 10.2: the origin tells where the page came from; programs send none.
		const answers = [
			undefined,
			'http://localhost:8000',
			'http://127.0.0.1',
			'http://[::1]:1',
			'null',
			'https://a.example',
			'http://192.0.2.7',
		];
		expect(answers.map(origin => mayRead(origin, '192.0.2.7'))).toEqual([true, true, true, true, false, false, true]);
	});

	test('says that others can read the hand where it listens beyond this machine', async () => {
		const glove = await serving({listen: 0, host: '0.0.0.0'});
		expect(glove.talk()).toMatch(/Caution: whoever reaches this machine can read how the hand moves/);
		glove.end();
		await glove.done;
	});
});

/** What a program prints for a script that reads a table from standard input's name; null where it is not here. */
function notebook(program: string, args: readonly string[]): string | null {
	const {status, stdout, error} = spawnSync(program, [...args], {encoding: 'utf8'});
	return error !== undefined || status !== 0 ? null : stdout.trim();
}

describe('a table in a notebook (docs/frames.md)', () => {
	const docs = (): string => readFileSync('docs/frames.md', 'utf8');
	const snippet = (language: string): string => new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``).exec(docs())![1];
	const tools = [
		{name: 'pandas', language: 'python', program: 'python3', probe: ['-c', 'import pandas'], run: ['-c']},
		{name: 'DuckDB', language: 'sql', program: 'duckdb', probe: ['-c', 'select 1'], run: ['-c']},
		{name: 'R', language: 'r', program: 'Rscript', probe: ['-e', '1'], run: ['-e']},
	];
	for (const {name, language, program, probe, run: how} of tools) {
		const isHere = notebook(program, probe) !== null;
		test.skipIf(!isHere)(
			`${name} reads it as the docs show${isHere ? '' : ` (skipped: no ${name} here)`}`,
			async () => {
				const file = at('left.csv');
				await run({source: 'recordings/healthy.gbrec', output: file, force: true});
				const rows = readFileSync(file, 'utf8')
					.trimEnd()
					.split('\n')
					.slice(1)
					.map(row => row.split(',').map(Number));
				const printed = notebook(program, [...how, snippet(language).replaceAll('left.csv', file)]);
				const highest = Math.max(...rows.map(row => row[2]));
				expect(printed).toContain(String(rows.length));
				expect(printed).toContain(String(highest));
			},
		);
	}
});
