import {readFileSync} from 'node:fs';
import {gzipSync} from 'node:zlib';
import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {runSession, type SessionRun} from '../../source/session/run-session.ts';
import {openBytes} from '../../source/sources/open-file.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {inheritedNames} from './hostile-streams.ts';
import {chunked, mutate, recordingKinds, stream} from './mutate.ts';
import {growth} from './work.ts';

const header =
	'{"glovebench":1,"startedAt":"","source":{"kind":"serial","name":"p"},"link":{"baud":9600},"sheet":null,"note":""}\n';

/** The first lines of real recordings, one of each kind of framing and some with events. */
const originals = recordingKinds.map(name => {
	const text = readFileSync(new URL(`../../recordings/${name}.gbrec`, import.meta.url), 'utf8').split('\n');
	return Buffer.from(`${[...text.slice(0, 120), ...text.slice(-3)].join('\n')}`);
});

/** All items, held to what a source promises. */
async function read(bytes: Uint8Array, seed = 1, name = 'x.gbrec'): Promise<SourceItem[]> {
	const source = await openBytes(name, stream(chunked(bytes, seed, 4000)), {});
	const items: SourceItem[] = [];
	let last = 0;
	for await (const batch of source.batches()) {
		for (const item of batch) {
			if (!(item.t >= last && item.t <= 1e9)) throw new Error(`time ${item.t} after ${last}`);
			last = item.t;
			items.push('bytes' in item ? {t: item.t, bytes: Buffer.from(item.bytes)} : item);
		}
	}

	return items;
}

/** What of a file can be read, or the one line that says why nothing can. */
async function outcome(bytes: Uint8Array, seed = 1, name = 'x.gbrec'): Promise<SourceItem[] | string> {
	try {
		return await read(bytes, seed, name);
	} catch (error) {
		if (!(error instanceof CannotError)) throw error;
		return error.message;
	}
}

async function check(bytes: Uint8Array, name = 'x.gbrec'): Promise<SessionRun> {
	return runSession(await openBytes(name, stream(chunked(bytes, 2, 60_000)), {}));
}

const item = (t: number | string, text = '1,2,3,4,5\\n'): string => `{"t":${t},"rx":"${text}"}\n`;
const damage = (items: readonly SourceItem[]): string =>
	items.flatMap(each => ('event' in each && each.event === 'truncated' ? [each.detail] : [])).join();

describe('reading recordings', () => {
	it('gives whole items in order or one line that says why not, whatever was done to real recordings', async () => {
		let read = 0;
		await fc.assert(
			fc.asyncProperty(
				fc.nat(originals.length - 1),
				fc.nat(),
				fc.integer({min: 1, max: 12}),
				async (which, seed, count) => {
					const result = await outcome(mutate(originals[which]!, seed, count), seed);
					if (typeof result === 'string') expect(result).not.toContain('\n');
					else read++;
				},
			),
			{seed: 17, numRuns: 500},
		);
		// Most damage leaves most of a recording.
		expect(read).toBeGreaterThan(400);
	});

	it('runs whole sessions on damaged recordings', async () => {
		for (let seed = 0; seed < 16; seed++) {
			const bytes = mutate(originals[seed % originals.length]!, seed, 10);
			const result = await check(bytes).catch((error: unknown) => error);
			if (result instanceof Error) expect(result).toBeInstanceOf(CannotError);
		}
	});

	it('reads a file cut at any byte up to there', async () => {
		const whole = (await read(originals[0]!)).length;
		for (let length = 0; length < originals[0]!.length; length += 61) {
			const result = await outcome(originals[0]!.subarray(0, length));
			if (typeof result !== 'string') expect(result.length).toBeLessThanOrEqual(whole + 1);
		}
	});

	it('reads a compressed file cut at any byte, or with any byte changed, as far as it goes', async () => {
		const packed = gzipSync(originals[0]!);
		for (let at = 0; at < packed.length; at += 23) {
			await outcome(packed.subarray(0, at), at, 'x.gbrec.gz');
			const changed = Buffer.from(packed);
			changed[at]! ^= 0x55;
			await outcome(changed, at, 'x.gbrec.gz');
		}

		expect(damage((await outcome(packed.subarray(0, packed.length >> 1))) as SourceItem[])).toContain(
			'the compressed file is cut off',
		);
	});

	it('leaves out times that are none, and keeps the others from falling', async () => {
		const lines = [
			item(1),
			item(-1),
			item('1e999'),
			item('NaN'),
			item('null'),
			item('"2"'),
			item('1e300'),
			item('9999999999999999'),
			item('1000000000.5'),
			item(3),
			item(2),
			item('-0'),
		];
		const items = await read(Buffer.from(header + lines.join('')));
		expect(items.filter(each => 'bytes' in each).map(({t}) => t)).toEqual([1, 3, 3, 3]);
		expect(damage(items)).toContain('8 lines, the first being line 3, could not be read');
	});

	it('takes inherited names, deep nesting and endless lines for what they are', async () => {
		const own = inheritedNames.map(name => `"${name}":{"rx":"9"}`).join(',');
		const deep = `${'{"a":['.repeat(5000)}${']}'.repeat(5000)}`;
		const lines = [
			`{"t":0,${own}}`,
			`{"t":0,"x":${deep}}`,
			'['.repeat(100_000),
			`{"t":1,"rx64":"${'!'.repeat(1000)}"}`,
			`{"t":2,"mark":${JSON.stringify('m'.repeat(1e6))}}`,
			'{"t":3,"event":"__proto__"}',
			'{"t":4,"end":true,"bytes":1e999}',
			'{"t":4,"end":true,"bytes":-5}',
		];
		const items = await read(Buffer.from(`${header}${lines.join('\n')}\n${item(5)}`));
		expect(items.filter(each => 'bytes' in each).length).toBe(2);
		expect(Object.prototype).toEqual({});
	});

	it('takes any JSON for a header or says that it is none', async () => {
		await fc.assert(
			fc.asyncProperty(
				fc.dictionary(
					fc.constantFrom('glovebench', 'source', 'link', 'sheet', 'note', 'startedAt', '__proto__'),
					fc.jsonValue(),
				),
				async fields => {
					const text = JSON.stringify({...fields, glovebench: 1}).replace(
						/^\{(.*),"glovebench":1\}$/,
						'{"glovebench":1,$1}',
					);
					await outcome(Buffer.from(`${text}\n${item(0)}`));
				},
			),
			{seed: 3, numRuns: 200},
		);
	});

	// Found by fuzzing: a rate of 5e-324 baud was Infinity % full.
	it('takes no rate for one that no line has', async () => {
		for (const [written, baud] of [
			['5e-324', null],
			['1e308', null],
			['1e999', null],
			['-9600', null],
			['"9600"', null],
			['[9600]', null],
			['9600', 9600],
		] as const) {
			const source = await openBytes('x.gbrec', stream([Buffer.from(header.replace('9600', written) + item(0))]), {});
			expect(source.info.baud, written).toBe(baud);
		}
	});

	it('drops a line of 40 MB and reads the next one', async () => {
		async function* chunks(): AsyncGenerator<Uint8Array> {
			yield Buffer.from(header);
			for (let index = 0; index < 40; index++) yield Buffer.alloc(1 << 20, 0x61);
			yield Buffer.from(`\n${item(7)}`);
		}

		const {snapshot} = await runSession(await openBytes('x.gbrec', chunks(), {}));
		expect(snapshot.link.bytes).toBe(10);
		expect(snapshot.events.map(({detail}) => detail).join()).toContain('line 2 could not be read');
	});

	it('spends on eight times the marks about eight times the work', async () => {
		const marks = (count: number): Buffer =>
			Buffer.from(header + Array.from({length: count}, (_, index) => `{"t":${index / 500},"mark":"m"}\n`).join(''));
		const watched = async (bytes: Buffer): Promise<void> => {
			await runSession(await openBytes('x.gbrec', stream(chunked(bytes, 2, 60_000)), {}), {
				watch: session => session.snapshot(),
			});
		};
		const [small, large] = [marks(10_000), marks(80_000)];
		// 8 if linear, 64 if quadratic.
		expect(
			await growth(
				() => watched(small),
				() => watched(large),
			),
		).toBeLessThan(25);
	});

	it('stops at a file made to swell to a gigabyte, and says so in one line', async () => {
		// Members may follow each other (RFC 1952 section 2.2).
		const block = gzipSync(Buffer.alloc(1 << 24, 0x61));
		const bomb = Buffer.concat([gzipSync(header + item(0)), ...Array.from({length: 64}, () => block)]);
		expect(bomb.length).toBeLessThan(2_000_000);
		const {snapshot} = await runSession(await openBytes('x.gbrec.gz', stream([bomb]), {}));
		expect(snapshot.link.bytes).toBe(10);
		expect(snapshot.events.map(({detail}) => detail)).toEqual([
			'x.gbrec.gz: it unpacks to more than 64 MiB, over 200 times its size, as no capture does: the rest was left unread.',
		]);
	});
});
