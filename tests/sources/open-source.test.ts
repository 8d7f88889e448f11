import {execFileSync} from 'node:child_process';
import {mkdir, mkdtemp, open, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {Readable} from 'node:stream';
import {gzipSync} from 'node:zlib';
import fc from 'fast-check';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {openBytes} from '../../source/sources/open-file.ts';
import {openSource} from '../../source/sources/open-source.ts';
import {bytesOf, ItemReader, readAll, textsOf} from './reading.ts';

let folder: string;
beforeEach(async () => {
	folder = await mkdtemp(join(tmpdir(), 'source-'));
});
afterEach(() => rm(folder, {recursive: true, force: true}));

const put = async (name: string, content: string | Uint8Array): Promise<string> => {
	const path = join(folder, name);
	await writeFile(path, content);
	return path;
};

const refusal = async (path: string): Promise<string> => {
	const error = await openSource(path)
		.then(readAll)
		.catch(error => error);
	expect(error).toBeInstanceOf(CannotError);
	expect(error.message).not.toMatch(/\n/);
	return error.message;
};

describe('a file as a source', () => {
	const recording = '{"glovebench":1,"note":"n"}\n{"t":0.5,"rx":"512\\n"}\n{"t":1,"end":true,"bytes":4}\n';

	// `.gbr` is the ending of the first edition.
	const names = ['glove.gbrec', 'glove.gbrec.gz', 'glove.gbr', 'glove.gbr.gz', 'glove.txt', 'no-name'];
	it.each(names)('is a recording by its content: %s', async name => {
		for (const content of [recording, gzipSync(recording)]) {
			const path = await put(name, content);
			const source = await openSource(path);
			expect(source.info).toMatchObject({kind: 'recording', name: path, note: 'n'});
			expect(source.totalBytes).toBe(Buffer.from(content).byteLength);
			expect(await readAll(source)).toMatchObject([{t: 0.5}]);
		}
	});

	it.each(['glove.log', 'glove.csv', 'glove.txt.gz'])('is a log: %s', async name => {
		const content = '512,498\n513,499\n';
		for (const bytes of [Buffer.from(content), gzipSync(content)]) {
			const path = await put(name, bytes);
			const source = await openSource(path, {baud: 9600});
			expect(source.info).toEqual({kind: 'log', name: path, timing: 'assumed', baud: 9600});
			expect(textsOf(await readAll(source))).toEqual(['512,498\n', '513,499\n']);
		}
	});

	it('may be cut in the middle of its compressed data', async () => {
		const lines = Array.from({length: 20_000}, (_, n) => `${(n * 7919) % 1024},${(n * 104_729) % 1021}\n`).join('');
		const whole = gzipSync(lines);
		const path = await put('cut.txt.gz', whole.subarray(0, whole.byteLength >> 1));
		const items = await readAll(await openSource(path));
		expect(items.at(-1)).toMatchObject({event: 'truncated', detail: `${path}: the compressed file is cut off.`});
		const text = bytesOf(items).toString();
		expect(text.length).toBeGreaterThan(lines.length / 3);
		expect(lines.startsWith(text)).toBe(true);
	});

	it('may be bytes that are no text: a capture at the wrong baud rate', async () => {
		const bytes = Uint8Array.from({length: 50_000}, (_, n) => [0x80, 0x78, 0xf8, 0, 0x98][(n * n) % 5]!);
		const items = await readAll(await openSource(await put('junk.log', bytes)));
		expect(bytesOf(items)).toEqual(Buffer.from(bytes));
		// 8N1 at 115200: ten bits a byte, to the last whole KiB.
		expect(items.at(-1)!.t).toBeCloseTo((48 * 1024 * 10) / 115_200, 5);
	});

	it('can be closed while it is read', async () => {
		const path = await put('long.log', '512,498\n'.repeat(100_000));
		const source = await openSource(path);
		let batches = 0;
		for await (const _ of source.batches()) {
			if (++batches === 2) await source.close();
		}

		expect(batches).toBe(2);
	});

	it('is refused when it is not there, a folder, or empty', async () => {
		expect(await refusal(join(folder, 'none.gbrec'))).toMatch(/none\.gbrec is not there: check the name\./);
		expect(await refusal(folder)).toMatch(/is a folder: name the recording or log in it\./);
		expect(await refusal(await put('empty.log', ''))).toMatch(/empty\.log is empty: nothing was captured in it\./);
		expect(await refusal(await put('empty.gbrec.gz', gzipSync('')))).toMatch(
			/is empty: the compressed file holds nothing\./,
		);
		expect(await refusal(join(await put('file', 'x'), 'below'))).toMatch(/part of its path is a file/);
		await mkdir(join(folder, 'sub.gbrec'));
		expect(await refusal(join(folder, 'sub.gbrec'))).toMatch(/is a folder/);
	});

	it.skipIf(process.platform === 'win32' || process.getuid?.() === 0)(
		'is refused when it may not be read',
		async () => {
			const path = await put('secret.log', '1,2\n');
			await (await open(path)).chmod(0);
			expect(await refusal(path)).toMatch(/cannot be read: no permission/);
		},
	);

	// The first bytes as their public format descriptions give them.
	it.each<[string, string]>([
		['a PNG picture', '\x89PNG\r\n\x1A\n\0\0\0\rIHDR'],
		['a JPEG picture', '\xFF\xD8\xFF\xE0\0\x10JFIF'],
		['a PDF document', '%PDF-1.7\n'],
		['a ZIP archive', 'PK\x03\x04\x14\0'],
		['a program (ELF)', '\x7FELF\x02\x01\x01'],
		['a program (PE)', `MZ\x90${'\0'.repeat(100)}PE\0\0`],
		['a network capture (pcap)', '\xD4\xC3\xB2\xA1\x02\0\x04\0'],
		['a network capture (pcapng)', '\x0A\x0D\x0D\x0A\x1C\0\0\0'],
		['a tar archive', `glove.log${'\0'.repeat(248)}ustar\x0000`],
		['a SQLite database', 'SQLite format 3\0'],
		['a video file (MP4)', '\0\0\0\x18ftypmp42'],
	])('is refused when it is %s, compressed or not', async (kind, start) => {
		const bytes = Buffer.concat([Buffer.from(start, 'latin1'), Buffer.alloc(600, 7)]);
		for (const content of [bytes, gzipSync(bytes)]) {
			const message = await refusal(await put('glove.log', content));
			expect(message).toContain(`glove.log is ${kind}`);
			expect(message).toContain('not a capture');
		}
	});

	it('is not refused because its text begins like something else', async () => {
		for (const start of ['MZ,1,2\n', 'PK 5,6\n', 'BM 12\n', 'GIF,5\n']) {
			expect(textsOf(await readAll(await openSource(await put('a.log', start))))).toEqual([start]);
		}
	});

	it('is read or refused in one line, whatever was done to it', async () => {
		const good = Buffer.from(recording.repeat(3));
		await fc.assert(
			fc.asyncProperty(
				fc.array(fc.tuple(fc.nat(good.byteLength - 1), fc.nat(255)), {maxLength: 12}),
				fc.nat(good.byteLength),
				fc.boolean(),
				async (changes, length, zipFirst) => {
					const bytes = zipFirst ? gzipSync(good) : Buffer.from(good);
					for (const [at, byte] of changes) bytes[at % bytes.byteLength] = byte;
					const damaged = bytes.subarray(0, Math.min(bytes.byteLength, length));
					const items = await openBytes('glove.gbrec', Readable.from([Buffer.from(damaged)]), {})
						.then(readAll)
						.catch(error => {
							expect(error).toBeInstanceOf(CannotError);
							expect(error.message).not.toMatch(/\n/);
							return [];
						});
					for (const {t} of items) expect(Number.isFinite(t)).toBe(true);
				},
			),
			{numRuns: 400},
		);
	});

	it('is refused when it is called a recording and is none', async () => {
		expect(await refusal(await put('glove.gbrec', '512,498\n'))).toMatch(/does not begin like a recording/);
		expect(await refusal(await put('glove.gbrec', '{"glovebench":7}\n'))).toMatch(/recording of format 7/);
		expect(await refusal(await put('glove.gbrec', '{"glovebench":1,"no'))).toMatch(/cut off inside its first line/);
		expect(await refusal(await put('glove.gbrec.gz', gzipSync('x'.repeat(5000)).fill(0xff, 12, 30)))).toMatch(
			/cannot be decompressed|does not begin like a recording/,
		);
	});

	it.skipIf(process.platform === 'win32')('may be a named pipe, which is live', async () => {
		const path = join(folder, 'pipe');
		execFileSync('mkfifo', [path]);
		const opening = openSource(path);
		const writing = await open(path, 'w');
		await writing.write('512,498\n');
		const source = await opening;
		expect(source.info).toMatchObject({kind: 'stdin', name: path, timing: 'measured'});
		const reader = new ItemReader(source);
		await writing.write('513,499\n');
		await reader.text('513,499\n');
		await writing.close();
		await reader.end();
	});
});
