import {mkdir, mkdtemp, readFile, rename, rm, stat, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {gzipSync} from 'node:zlib';
import fc from 'fast-check';
import {afterEach, beforeEach, describe, expect, it, vi} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {openRecording, readRecordingHeader} from '../../source/recording/recording-reader.ts';
import {type RecordingFile, RecordingWriter} from '../../source/recording/recording-writer.ts';
import {openSource} from '../../source/sources/open-source.ts';
import type {SourceInfo} from '../../source/stream/source.ts';
import {linkEvents, type SourceItem} from '../../source/stream/source-item.ts';
import {syncFolder} from '../../source/sync-folder.ts';
import {bytesOf, eventsOf, readAll, textsOf} from '../sources/reading.ts';

const info: SourceInfo = {kind: 'serial', name: '/dev/ttyUSB0', timing: 'measured', baud: 115_200};

let folder: string;
beforeEach(async () => {
	folder = await mkdtemp(join(tmpdir(), 'recording-'));
});
afterEach(() => rm(folder, {recursive: true, force: true}));

const inMemory = (text: string | Uint8Array, cuts: readonly number[] = []) => {
	const bytes = Buffer.from(text as string);
	const at = [0, ...cuts.filter(cut => cut < bytes.byteLength).sort((a, b) => a - b), bytes.byteLength];
	return openRecording({
		name: 'glove.gbrec',
		chunks: (async function* () {
			// Each chunk its own buffer: reading changes it.
			for (let i = 1; i < at.length; i++) yield Buffer.from(bytes.subarray(at[i - 1], at[i]));
		})(),
	});
};

/** Items as they come back: bytes as Buffers, for comparison. */
const plain = (items: readonly SourceItem[]) =>
	items.map(item => ('bytes' in item ? {t: item.t, bytes: Buffer.from(item.bytes)} : item));

const record = async (path: string, items: readonly SourceItem[]): Promise<void> => {
	const writer = await RecordingWriter.create(path, {source: info, note: 'left hand', startedAt: new Date(0)});
	for (const item of items) writer.write(item);
	await writer.close();
	expect(writer.error).toBeUndefined();
};

const item = fc.oneof(
	{weight: 4, arbitrary: fc.uint8Array({maxLength: 40}).map(bytes => ({bytes}))},
	{weight: 4, arbitrary: fc.string({unit: 'binary', maxLength: 20}).map(text => ({bytes: Buffer.from(text)}))},
	{
		weight: 2,
		arbitrary: fc
			.string({unit: fc.constantFrom('5', '1', ',', '\r', '\n', '"', '\\', 'é', '\u2028', '\uFEFF', '𝄞', '\0')})
			.map(text => ({bytes: Buffer.from(text)})),
	},
	fc.string({unit: 'binary'}).map(mark => ({mark})),
	fc.record({event: fc.constantFrom(...linkEvents)}),
	fc.record({event: fc.constantFrom('port-lost', 'dtr'), detail: fc.string()}),
);
const items = fc.array(fc.tuple(item, fc.integer({min: 0, max: 1e7})), {maxLength: 30}).map(list => {
	let microseconds = 0;
	return list.map(([what, step]) => ({t: (microseconds += step) / 1e6, ...what}) as SourceItem);
});

describe('a recording', () => {
	it.each(['glove.gbrec', 'glove.gbrec.gz'])('gives back exactly what was written: %s', async name => {
		let run = 0;
		await fc.assert(
			fc.asyncProperty(items, async written => {
				const path = join(folder, `${run++}-${name}`);
				await record(path, written);
				const source = await openSource(path);
				expect(plain(await readAll(source))).toEqual(plain(written));
				expect(source.info).toEqual({
					kind: 'recording',
					name: path,
					timing: 'measured',
					baud: 115_200,
					note: 'left hand',
					startedAt: '1970-01-01T00:00:00.000Z',
				});
			}),
			{numRuns: 60},
		);
	});

	it('keeps a character that is cut between two chunks', async () => {
		const [first, second] = [Buffer.from('512 ', 'utf8'), Buffer.from('€')];
		const written = [
			{t: 0.1, bytes: Buffer.concat([first, second.subarray(0, 1)])},
			{t: 0.2, bytes: second.subarray(1)},
		];
		const path = join(folder, 'cut.gbrec');
		await record(path, written);
		expect(plain(await readAll(await openSource(path)))).toEqual(written);
		expect(await readFile(path, 'utf8')).toMatch(/"rx64":"NTEyIOI="/);
	});

	it('is JSON on every line, whatever came', async () => {
		const path = join(folder, 'json.gbrec');
		await record(path, [
			{t: 0.000001, bytes: Buffer.from('\u2028"\\\r\n\0\u001B[2J')},
			{t: 12_345.678901, bytes: Buffer.from([0xff, 0xfe])},
			{t: 12_345.678901, mark: 'now the "ring"\n'},
		]);
		const text = await readFile(path, 'utf8');
		expect(text.endsWith('\n')).toBe(true);
		const lines = text
			.slice(0, -1)
			.split('\n')
			.map(line => JSON.parse(line));
		expect(lines.slice(1)).toEqual([
			{t: 0.000001, rx: '\u2028"\\\r\n\0\u001B[2J'},
			{t: 12_345.678901, rx64: '//4='},
			{t: 12_345.678901, mark: 'now the "ring"\n'},
			{t: 12_345.678901, end: true, bytes: Buffer.byteLength('\u2028"\\\r\n\0\u001B[2J') + 2},
		]);
		expect(lines[0]).toEqual({
			glovebench: 1,
			startedAt: '1970-01-01T00:00:00.000Z',
			source: {kind: 'serial', name: '/dev/ttyUSB0', timing: 'measured'},
			link: {baud: 115_200},
			sheet: null,
			note: 'left hand',
		});
	});

	it('reads the same however its bytes arrive', async () => {
		const path = join(folder, 'whole.gbrec');
		await record(path, [
			{t: 0.25, bytes: Buffer.from('512,498\r\n')},
			{t: 0.5, bytes: Buffer.from([1, 0x80])},
			{t: 0.75, mark: 'x'},
		]);
		const bytes = await readFile(path);
		const whole = plain(await readAll(await inMemory(bytes)));
		expect(whole).toHaveLength(3);
		for (let cut = 1; cut < bytes.byteLength; cut++) {
			expect(plain(await readAll(await inMemory(bytes, [cut, cut + 1, cut + 9])))).toEqual(whole);
		}
	});

	it('reads a time as JSON.parse does, whatever its form', async () => {
		await fc.assert(
			fc.asyncProperty(
				fc.oneof(
					fc.double({min: 0, max: 1e9, noNaN: true}),
					fc.integer({min: 0, max: 2 ** 40}).map(value => value / 1e6),
				),
				async t => {
					const line = `{"t":${JSON.stringify(Math.abs(t))},"rx":"a"}`;
					const [read] = await readAll(await inMemory(`{"glovebench":1}\n${line}\n`));
					expect(read!.t).toBe(JSON.parse(line).t);
				},
			),
		);
	});

	it('takes what other writers of JSON make of it', async () => {
		const read = await readAll(
			await inMemory(
				[
					'\uFEFF{ "glovebench": 1, "note": "n" }',
					'',
					'{ "rx": "a\\u00e9\\ud834\\udd1e\\/", "t": 1e-3 }\r',
					'{"t":0.002,"rx":"b","more":[1]}',
					'{"t":0.003,"later":"something of a later version"}',
					'{"t":0.004,"event":"something-new"}',
					'{"t":0.005,"end":true}',
				].join('\n'),
			),
		);
		expect(plain(read)).toEqual([
			{t: 0.001, bytes: Buffer.from('aé𝄞/')},
			{t: 0.002, bytes: Buffer.from('b')},
		]);
	});

	it('never lets time run backwards', async () => {
		const read = await readAll(
			await inMemory('{"glovebench":1}\n{"t":2,"rx":"a"}\n{"t":1,"rx":"b"}\n{"t":3,"end":true}\n'),
		);
		expect(read.map(({t}) => t)).toEqual([2, 2]);
	});
});

describe('a recording that is cut', () => {
	const header =
		'{"glovebench":1,"startedAt":"2025-03-01T18:00:00.000Z","source":{},"link":null,"sheet":null,"note":""}\n';
	const lines = [
		'{"t":0.01,"rx":"512,498\\r\\n"}\n',
		'{"t":0.02,"rx64":"gIGC"}\n',
		'{"t":0.03,"mark":"é"}\n',
		'{"t":0.04,"event":"port-lost","detail":"gone"}\n',
		'{"t":0.05,"end":true,"bytes":12}\n',
	];
	const whole = Buffer.from(header + lines.join(''));

	it('reads up to its last whole line and says so, wherever the cut is', async () => {
		for (let cut = 0; cut <= whole.byteLength; cut++) {
			const reading = inMemory(whole.subarray(0, cut)).then(readAll);
			if (cut < header.length - 1) {
				await expect(reading, `cut at ${cut}`).rejects.toThrow(/cut off inside its first line/);
				continue;
			}

			// A line is whole with its last brace, before its line end.
			const wholeLines = lines.filter((_, index) => {
				const end = header.length + Buffer.byteLength(lines.slice(0, index + 1).join(''));
				return cut >= end - 1;
			}).length;
			const read = await reading;
			const truncated = read.filter(item => 'event' in item && item.event === 'truncated');
			expect(read.length - truncated.length, `cut at ${cut}`).toBe(Math.min(wholeLines, 4));
			expect(truncated, `cut at ${cut}`).toHaveLength(wholeLines === 5 ? 0 : 1);
			for (const item of truncated)
				expect(item).toMatchObject({detail: expect.stringMatching(/^glove\.gbrec: the file ends .* at line \d+\.$/)});
			expect(
				read
					.slice(0, 1)
					.filter(item => 'bytes' in item)
					.map(item => bytesOf([item]).toString()),
			).toEqual(wholeLines > 0 ? ['512,498\r\n'] : []);
		}
	});

	it('tells what is missing when the damage is in the middle', async () => {
		const damaged = [header, lines[0], '{"t":0.015,"rx":"51\n', '#####\n', lines[1], lines[4]].join('');
		const read = await readAll(await inMemory(damaged));
		expect(bytesOf(read)).toEqual(Buffer.from('512,498\r\n\x80\x81\x82', 'latin1'));
		expect(read.at(-1)).toEqual({
			t: 0.05,
			event: 'truncated',
			detail: 'glove.gbrec: 2 lines, the first being line 3, could not be read and were left out.',
		});
	});

	it('notices bytes that are missing without any bad line', async () => {
		const read = await readAll(await inMemory(header + lines[1] + lines[4]));
		expect(read.at(-1)).toMatchObject({detail: 'glove.gbrec: 3 of the 12 received bytes are in it.'});
	});

	it('stops where a second recording was put behind it', async () => {
		const read = await readAll(await inMemory(Buffer.concat([whole, whole])));
		expect(read).toHaveLength(5);
		expect(read.at(-1)).toMatchObject({detail: expect.stringMatching(/a second recording begins at line 7/)});
	});

	it('says when nothing at all can be read', async () => {
		await expect(inMemory(`${header}junk\nmore junk\n`).then(readAll)).rejects.toThrow(
			/holds nothing that can be read: line 2/,
		);
	});

	it('gives what came before the damage in a compressed file', async () => {
		const path = join(folder, 'damaged.gbrec.gz');
		const many = Array.from(
			{length: 5000},
			(_, n) => `{"t":${n / 100},"rx":"${(n * 7919) % 1024},${(n * 104_729) % 1024}\\r\\n"}\n`,
		);
		const bytes = gzipSync(header + many.join(''));
		bytes.fill(0xff, bytes.byteLength >> 1, (bytes.byteLength >> 1) + 64);
		await writeFile(path, bytes);
		const read = await readAll(await openSource(path));
		expect(read.length).toBeGreaterThan(500);
		expect(read[499]).toMatchObject({t: 4.99});
		expect(read.at(-1)).toMatchObject({
			event: 'truncated',
			detail: expect.stringMatching(/compressed data is damaged/),
		});
	});
});

describe('the header', () => {
	it('refuses a newer format in one line', () => {
		expect(() => readRecordingHeader('glove.gbrec', '{"glovebench":2}')).toThrow(
			new CannotError(
				'glove.gbrec is a recording of format 2, and this program reads up to format 1. Update glovebench to read it.',
			),
		);
	});

	it.each([
		'',
		'{}',
		'[]',
		'null',
		'12',
		'{"glovebench":"1"}',
		'{"glovebench":0}',
		'{"glovebench":1.5}',
		'thumb,index',
	])('refuses %j, which is none', line => {
		expect(() => readRecordingHeader('glove.gbrec', line)).toThrow(/glove\.gbrec is no recording/);
	});

	it('takes a hostile one for what it can be', () => {
		expect(
			readRecordingHeader('x', '{"glovebench":1,"startedAt":5,"source":null,"link":{"baud":-1},"sheet":[],"note":{}}'),
		).toEqual({
			glovebench: 1,
			startedAt: '',
			source: {},
			link: null,
			sheet: [],
			note: '',
		});
	});
});

describe('a writer', () => {
	it('keeps a file that is there, unless told otherwise', async () => {
		const path = join(folder, 'there.gbrec');
		await writeFile(path, 'mine');
		await expect(RecordingWriter.create(path, {source: info})).rejects.toThrow(
			`${path} is already there and is kept as it is: choose another name, or overwrite it with --force.`,
		);
		expect(await readFile(path, 'utf8')).toBe('mine');
		const writer = await RecordingWriter.create(path, {source: info, force: true});
		await writer.close();
		expect(await readAll(await openSource(path))).toEqual([]);
	});

	it.each([
		['missing/glove.gbrec', /the folder .*missing does not exist/],
		['.', /is already there|is a folder/],
	])('says in one line why %s cannot be created', async (name, words) => {
		const error = await RecordingWriter.create(join(folder, name), {source: info}).catch(error => error);
		expect(error).toBeInstanceOf(CannotError);
		expect(error.message).toMatch(words);
		expect(error.message).not.toMatch(/\n/);
	});

	it.skipIf(process.platform !== 'linux')('says that the disk is full when it is from the start', async () => {
		// The device that is always full.
		const error = await RecordingWriter.create('/dev/full', {source: info, force: true}).catch(error => error);
		expect(error).toBeInstanceOf(CannotError);
		expect(error.message).toMatch(/the disk is full/);
	});

	/** A disk with room for so many bytes; takes part of a write, as real ones do. */
	const smallDisk = (room: number, code = 'ENOSPC') => {
		const written: Buffer[] = [];
		let closed = false;
		const file: RecordingFile = {
			async write(data) {
				if (room === 0) throw Object.assign(new Error('no'), {code});
				const part = data.subarray(0, Math.min(room, 7));
				room -= part.byteLength;
				written.push(Buffer.from(part));
				return {bytesWritten: part.byteLength};
			},
			async datasync() {},
			async close() {
				closed = true;
			},
			async stat() {
				return stat(folder);
			},
		};
		return {file, text: () => Buffer.concat(written).toString(), closed: () => closed};
	};

	it('tells once that the disk is full, drops what follows, and leaves what reads', async () => {
		const disk = smallDisk(400);
		const told: string[] = [];
		const writer = await RecordingWriter.create(folder, {
			source: info,
			openFile: async () => disk.file,
			onError: message => told.push(message),
		});
		for (let n = 0; n < 50; n++) {
			writer.write({t: n, bytes: Buffer.from('512,498\r\n')});
			await writer.flush();
		}

		await writer.close();
		await writer.close();
		expect(told).toEqual([
			`The recording ${folder} stops here: the disk is full. Free some space, or record to another disk. What was written before still reads.`,
		]);
		expect(writer.error).toBe(told[0]);
		expect(disk.closed()).toBe(true);
		const read = await readAll(await inMemory(disk.text()));
		expect(textsOf(read)).toEqual(Array.from({length: read.length - 1}, () => '512,498\r\n'));
		expect(read.length).toBeGreaterThan(3);
		expect(read.at(-1)).toMatchObject({event: 'truncated'});
	});

	it.each(['moved.gbrec', 'moved.gbrec.gz'])(
		'goes on where its file was moved to, and says so once: %s',
		async name => {
			const path = join(folder, name);
			const moved = join(folder, `to-${name}`);
			const told: string[] = [];
			const writer = await RecordingWriter.create(path, {source: info, onNotice: line => told.push(line)});
			writer.write({t: 1, bytes: Buffer.from('1\n')});
			await rename(path, moved);
			await writer.flush();
			writer.write({t: 2, bytes: Buffer.from('2\n')});
			await writer.close();
			expect(writer.error).toBeUndefined();
			if (process.platform === 'linux') {
				expect(told).toEqual([`${path} was renamed: the recording goes on in ${moved}.`]);
				expect(writer.path).toBe(moved);
			}

			const items = await readAll(await openSource(moved));
			expect(items.map(item => ('bytes' in item ? bytesOf([item]).toString() : item))).toEqual(['1\n', '2\n']);
		},
	);

	it.each(['removed.gbrec', 'removed.gbrec.gz'])(
		'is written anew when its file is removed, and goes on: %s',
		async name => {
			const path = join(folder, name);
			const told: string[] = [];
			const writer = await RecordingWriter.create(path, {source: info, onNotice: line => told.push(line)});
			writer.write({t: 1, bytes: Buffer.alloc(300_000, '1')});
			await writer.flush();
			await rm(path);
			writer.write({t: 2, bytes: Buffer.from('2\n')});
			await writer.close();
			expect(told).toEqual([
				`${path} was removed: all that was recorded was written to ${path} anew, and the recording goes on there.`,
			]);
			const items = await readAll(await openSource(path));
			expect(bytesOf(items).toString()).toBe(`${'1'.repeat(300_000)}2\n`);
			expect(eventsOf(items)).toEqual([]);
		},
	);

	it('leaves alone what was put in its place, and is kept beside it', async () => {
		const path = join(folder, 'replaced.gbrec');
		await writeFile(`${path}.other`, 'other');
		const told: string[] = [];
		const writer = await RecordingWriter.create(path, {source: info, onNotice: line => told.push(line)});
		await rename(`${path}.other`, path);
		writer.write({t: 1, bytes: Buffer.from('1\n')});
		await writer.close();
		expect(told).toHaveLength(1);
		expect(told[0]).toMatch(/was replaced: all that was recorded was written to .*replaced-kept\.gbrec anew/);
		expect(await readFile(path, 'utf8')).toBe('other');
		expect(textsOf(await readAll(await openSource(writer.path)))).toEqual(['1\n']);
	});

	it('says so when its file was removed and its folder with it', async () => {
		const path = join(folder, 'inner', 'gone.gbrec');
		await mkdir(join(folder, 'inner'));
		const told: string[] = [];
		const writer = await RecordingWriter.create(path, {source: info, onError: line => told.push(line)});
		await rm(join(folder, 'inner'), {recursive: true});
		writer.write({t: 1, bytes: Buffer.from('1\n')});
		await writer.close();
		expect(told).toEqual([
			`The recording ${path} stops here: the file was removed or replaced while it was being written, and could not be written anew. Record to a place that stays.`,
		]);
	});

	it('says that nothing could be created when the disk is full from the start', async () => {
		let made = '';
		const full: RecordingFile = {...smallDisk(0).file};
		const failing = RecordingWriter.create(join(folder, 'full.gbrec'), {
			source: info,
			openFile: async path => {
				made = path;
				return full;
			},
		});
		await expect(failing).rejects.toThrow(/^Cannot create .*full\.gbrec: the disk is full\. [^.]*\.$/);
		expect(made).toBe(join(folder, 'full.gbrec'));
	});

	it('never writes over what it records', async () => {
		const path = join(folder, 'log.txt');
		await writeFile(path, '1,2,3\n');
		const creating = RecordingWriter.create(path, {source: {...info, kind: 'log', name: path}, force: true});
		await expect(creating).rejects.toThrow(/is what is to be recorded, and would be lost/);
		expect(await readFile(path, 'utf8')).toBe('1,2,3\n');
	});

	it('stops for good after a sync that failed, whatever a later one would say', async () => {
		let syncs = 0;
		const disk = smallDisk(1e9);
		const told: string[] = [];
		const writer = await RecordingWriter.create(folder, {
			source: info,
			openFile: async () => ({
				...disk.file,
				async datasync() {
					// Once, as of a page that is given up: a system takes it for clean from then on.
					if (syncs++ === 1) throw Object.assign(new Error('bad block'), {code: 'EIO'});
				},
			}),
			onError: message => told.push(message),
		});
		writer.write({t: 0, bytes: Buffer.from('512\n')});
		await writer.close();
		writer.write({t: 1, bytes: Buffer.from('513\n')});
		expect(told).toEqual([expect.stringMatching(/stops here: the disk does not answer any more/)]);
		expect(syncs).toBe(2);
	});

	it('has no sync left to do once its file is closed, also where one fell due while it was being ended', async () => {
		vi.useFakeTimers({toFake: ['setTimeout', 'clearTimeout']});
		try {
			const disk = smallDisk(1e9);
			let isClosed = false;
			const writer = await RecordingWriter.create(folder, {
				source: info,
				openFile: async () => ({
					...disk.file,
					async datasync() {
						if (isClosed) throw Object.assign(new Error('no such file'), {code: 'EBADF'});
					},
					async close() {
						isClosed = true;
					},
				}),
			});
			// The header was synced just now, so this one waits for its second to be over.
			writer.write({t: 0, bytes: Buffer.from('512\n')});
			await writer.flush();
			const closing = writer.close();
			vi.advanceTimersByTime(10_000);
			await closing;
			// Whatever was queued behind the end has been done.
			await writer.flush();
			expect(isClosed).toBe(true);
			expect(writer.error).toBeUndefined();
		} finally {
			vi.useRealTimers();
		}
	});

	it('brings the folder that names a new file to the disk, and takes one that cannot be synced as it is', async () => {
		const done: string[] = [];
		const folderThat = (sync: () => Promise<void>) => async (path: string) => {
			done.push(path);
			return {sync, close: async () => void done.push('closed')};
		};
		await syncFolder(
			join('a', 'b.gbrec'),
			folderThat(async () => void done.push('synced')),
		);
		await syncFolder(
			'c.gbrec',
			folderThat(() => Promise.reject(new Error('EINVAL'))),
		);
		expect(done).toEqual(['a', 'synced', 'closed', '.', 'closed']);
		await syncFolder(join(folder, 'there-is-no-such-folder', 'd.gbrec'));
	});

	it('gives up on a disk that takes nothing before memory runs full', async () => {
		let written = 0;
		const stuck: RecordingFile = {
			...smallDisk(1e9).file,
			write: async data => {
				// The header goes through, then nothing comes back.
				if (written++ > 0) await new Promise(() => {});
				return {bytesWritten: data.byteLength};
			},
		};
		const told: string[] = [];
		const writer = await RecordingWriter.create(folder, {
			source: info,
			openFile: async () => stuck,
			onError: line => told.push(line),
		});
		const megabyte = Buffer.alloc(1e6, '1');
		for (let n = 0; n < 80; n++) {
			writer.write({t: n, bytes: megabyte});
			if (n === 1) await new Promise(resolve => setImmediate(resolve));
		}

		expect(told).toEqual([expect.stringMatching(/the disk has not taken anything for very long/)]);
	});

	it('takes nothing after it was closed', async () => {
		const path = join(folder, 'closed.gbrec');
		const writer = await RecordingWriter.create(path, {source: info});
		writer.write({t: 0.5, bytes: Buffer.from('1\n')});
		await writer.close(2);
		writer.write({t: 3, bytes: Buffer.from('2\n')});
		expect(writer.bytes).toBe(2);
		expect((await readFile(path, 'utf8')).trim().split('\n').at(-1)).toBe('{"t":2,"end":true,"bytes":2}');
	});
});
