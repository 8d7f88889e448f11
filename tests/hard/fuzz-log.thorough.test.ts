import {gzipSync} from 'node:zlib';
import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {runSession} from '../../source/session/run-session.ts';
import {findLogShape} from '../../source/sources/log/find-shape.ts';
import {openBytes} from '../../source/sources/open-file.ts';
import {hostileStreams, oddNumbers} from './hostile-streams.ts';
import {chunked, mutate, stream} from './mutate.ts';
import {growth} from './work.ts';

/** Bytes and last time of a log, held to what a source promises. */
async function read(bytes: Uint8Array, seed = 1, name = 'x.txt'): Promise<{bytes: number; t: number}> {
	const source = await openBytes(name, stream(chunked(bytes, seed, 5000)), {});
	let received = 0;
	let last = 0;
	for await (const batch of source.batches()) {
		for (const item of batch) {
			if (!(item.t >= last) || !Number.isFinite(item.t)) throw new Error(`time ${item.t} after ${last}`);
			last = item.t;
			if ('bytes' in item) received += item.bytes.length;
		}
	}

	return {bytes: received, t: last};
}

async function outcome(bytes: Uint8Array, seed = 1): Promise<{bytes: number; t: number} | undefined> {
	return read(bytes, seed).catch((error: unknown) => {
		if (!(error instanceof CannotError)) throw error;
		expect(error.message).not.toContain('\n');
		return undefined;
	});
}

const stamps = [
	'12:34:56.789',
	'2026-11-25T03:00:00Z',
	'[0001234]',
	'9999-12-31 23:59:60',
	'0000-00-00T00:00:00',
	'24:00:00',
	'99:99:99',
	'1e9',
	'-5',
	'18446744073709551616',
	'0.000000000000001',
	'12:00:00 AM',
	'12345 ms',
	'1764000000.5',
	'⏱',
	...oddNumbers,
];
const separators = [',', ' -> ', ': ', '\t', ';', ' ', '', '|', '"', '""', '\u0000'];

describe('reading plain logs', () => {
	it('gives every hostile file back with times that never fall', async () => {
		for (const [name, make] of Object.entries(hostileStreams)) {
			if (name.startsWith('runs of')) continue;
			const bytes = make(4000, 31);
			const result = await outcome(bytes);
			// UTF-16 comes as UTF-8, in which a character may take half as many bytes again.
			if (result) expect(result.bytes).toBeLessThanOrEqual(1.5 * bytes.length + 3);
		}
	});

	it('reads stamps of every kind mixed with each other', async () => {
		await fc.assert(
			fc.asyncProperty(
				fc.array(
					fc.tuple(fc.constantFrom(...stamps), fc.constantFrom(...separators), fc.constantFrom('\n', '\r\n', '\r')),
					{minLength: 1, maxLength: 80},
				),
				fc.nat(),
				async (lines, seed) => {
					await outcome(
						Buffer.from(lines.map(([stamp, separator, end]) => `${stamp}${separator}512,498,3${end}`).join('')),
						seed,
					);
				},
			),
			{seed: 5, numRuns: 300},
		);
	});

	it('reads damaged logs with stamps', async () => {
		const forms = [
			(index: number) => `${(index / 100).toFixed(3)} 512,498,${index}`,
			(index: number) => `12:00:${String(index % 60).padStart(2, '0')}.120 -> 512,498,${index}`,
			(index: number) => (index === 0 ? 'time_ms,thumb,index' : `${index * 10},512,498`),
			(index: number) => `{"ms":${index * 10},"thumb":512,"index":${index}}`,
		].map(form => Buffer.from(Array.from({length: 60}, (_, index) => `${form(index)}\n`).join('')));
		for (let seed = 0; seed < 80; seed++) await outcome(mutate(forms[seed % 4]!, seed, 8), seed);
	});

	it('cuts UTF-16 in the middle of a character without harm', async () => {
		const text = Buffer.from(`\uFEFF${'512,498,\u{1F9E4}\r\n'.repeat(30)}`, 'utf16le');
		for (let length = 2; length < 200; length++) await outcome(text.subarray(0, length), length);
		for (let start = 0; start < 9; start++) await outcome(text.subarray(start), start);
	});

	// Found by fuzzing: a stamp of a million centuries made the session take every quarter second on the way there.
	it('survives a stamp of a million centuries', async () => {
		const lines = Array.from({length: 100}, (_, index) => `${5000 + 10 * index} -> 1,2,3,4,5\n`).join('');
		const bytes = Buffer.from(`${lines}9999999999999999999 -> 1,2,3,4,5\n`);
		const {snapshot} = await runSession(await openBytes('x.txt', stream([bytes]), {}));
		expect(snapshot.t).toBeLessThanOrEqual(1e9);
		expect(snapshot.link.frames).toBe(101);
	});

	// Found by fuzzing: a pattern for labels was tried at every letter, each time to the end of the word.
	it('looks for times in endless words, tables of times and long headers in linear time', async () => {
		const shapes: Readonly<Record<string, (size: number) => string>> = {
			'words without end': size => `${'a'.repeat(size)}\n`.repeat(3),
			'columns named like times': size => `${'time,'.repeat(size / 50)}\n${'1,2,3\n'.repeat(size / 50)}`,
			'quotes without end': size => `${'"'.repeat(size)}\n`.repeat(3),
			'digits without end': size => `${'1'.repeat(size)}\n`.repeat(3),
			'blanks without end': size => `a${' '.repeat(size)}=1\n`.repeat(3),
			'labels without end': size => `${'t='.repeat(size / 2)}\n`.repeat(3),
		};
		for (const [name, make] of Object.entries(shapes)) {
			const [small, large] = [make(5000), make(40_000)].map(text => Buffer.from(text)) as [Buffer, Buffer];
			// 8 if linear, 64 if quadratic.
			expect(
				await growth(
					() => findLogShape(small, true),
					() => findLogShape(large, true),
				),
				name,
			).toBeLessThan(25);
		}
	});

	it('says of a log that swells from a small file that the rest was left unread', async () => {
		const block = gzipSync(Buffer.alloc(1 << 24, 0));
		const {t, bytes} = await read(Buffer.concat(Array.from({length: 8}, () => block)), 1, 'x.txt.gz');
		expect(bytes).toBe(64 * 1024 * 1024);
		expect(t).toBeGreaterThan(0);
	});
});
