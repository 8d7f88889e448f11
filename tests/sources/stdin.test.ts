import {PassThrough} from 'node:stream';
import {gzipSync} from 'node:zlib';
import {describe, expect, it} from 'vitest';
import {openSource} from '../../source/sources/open-source.ts';
import {bytesOf, eventsOf, ItemReader, readAll, textsOf} from './reading.ts';

const piped = (...chunks: (string | Buffer)[]): PassThrough => {
	const stream = new PassThrough();
	for (const chunk of chunks) stream.write(chunk);
	stream.end();
	return stream;
};

const log = (lines: number, stamp = (_: number) => ''): string =>
	Array.from({length: lines}, (_, n) => `${stamp(n)}${500 + ((n * 7) % 90)},498\n`).join('');

describe('standard input', () => {
	it('is read as a log when it comes as fast as a file', async () => {
		const source = await openSource('-', {stdin: piped(log(50)), rate: 50});
		expect(source.info).toEqual({kind: 'stdin', name: '-', timing: 'assumed', baud: null});
		expect(source.now).toBeUndefined();
		const items = await readAll(source);
		expect(items).toHaveLength(50);
		expect(items.at(-1)!.t).toBe(0.98);
	});

	it('is read by its times when it has some', async () => {
		const source = await openSource('-', {stdin: piped(log(50, n => `${(n * 0.02).toFixed(3)} `))});
		expect(source.info.timing).toBe('column');
		expect((await readAll(source)).at(-1)!.t).toBe(0.98);
	});

	it('is read as the recording it is, compressed or not', async () => {
		const recording = '{"glovebench":1,"link":{"baud":9600}}\n{"t":0.5,"rx":"512\\n"}\n{"t":1,"end":true,"bytes":4}\n';
		for (const content of [recording, gzipSync(recording)]) {
			const source = await openSource('-', {stdin: piped(Buffer.from(content))});
			expect(source.info).toMatchObject({kind: 'recording', name: 'Standard input', timing: 'measured', baud: 9600});
			expect(textsOf(await readAll(source))).toEqual(['512\n']);
		}
	});

	it('is live when it comes as it goes, each chunk at the time it came', async () => {
		const stream = new PassThrough();
		stream.write('512,498\n');
		const source = await openSource('-', {stdin: stream});
		expect(source.info).toEqual({kind: 'stdin', name: '-', timing: 'measured', baud: null});
		const reader = new ItemReader(source);
		await reader.text('512,498\n');
		const before = source.now!();
		stream.write('513,499\n');
		await reader.text('513,499\n');
		expect(reader.seen.at(-1)!.t).toBeGreaterThanOrEqual(before);
		// The first watch is a quarter of a second.
		expect(reader.seen[0]!.t).toBeLessThan(before);
		stream.end('5');
		await reader.end();
		expect(bytesOf(reader.seen).toString()).toBe('512,498\n513,499\n5');
	});

	it('gives everything there is of a large stream, byte for byte', async () => {
		const text = log(100_000);
		const items = await readAll(await openSource('-', {stdin: piped(text)}));
		expect(bytesOf(items).equals(Buffer.from(text))).toBe(true);
	});

	it('ends when it is aborted', async () => {
		const abort = new AbortController();
		const stream = new PassThrough();
		stream.write('1\n');
		const reader = new ItemReader(await openSource('-', {stdin: stream, signal: abort.signal}));
		await reader.text('1\n');
		abort.abort();
		await reader.end();
		expect(stream.destroyed).toBe(true);
	});

	it('refuses a terminal, nothing at all, and what is no capture, in one line each', async () => {
		await expect(openSource('-', {stdin: Object.assign(new PassThrough(), {isTTY: true})})).rejects.toThrow(
			/^Standard input is a terminal: pipe a stream into it/,
		);
		await expect(openSource('-', {stdin: piped()})).rejects.toThrow(
			'Standard input is empty: nothing was captured in it.',
		);
		await expect(openSource('-', {stdin: piped('%PDF-1.7 …')})).rejects.toThrow(/^Standard input is a PDF document/);
	});

	it('says where a damaged recording ends', async () => {
		const stdin = piped('{"glovebench":1}\n{"t":0.5,"rx":"512\\n"}\n{"t":0.6,"r');
		expect(eventsOf(await readAll(await openSource('-', {stdin})))).toEqual(['truncated']);
	});
});
