import {once} from 'node:events';
import {mkdir, mkdtemp, readFile, rename, rm, writeFile} from 'node:fs/promises';
import {type AddressInfo, createServer, type Server, type Socket} from 'node:net';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {PassThrough} from 'node:stream';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {type RecordOptions, recordCommand} from '../../source/commands/record.ts';
import {openSource} from '../../source/sources/open-source.ts';
import {eventsOnOpening, openPseudoPort, type PseudoPort} from '../sources/pseudo-port.ts';
import {bytesOf, eventsOf, readAll, textsOf} from '../sources/reading.ts';

let folder: string;
let output: string;
beforeEach(async () => {
	folder = await mkdtemp(join(tmpdir(), 'record-'));
	output = join(folder, 'glove.gbrec');
});
const ports: PseudoPort[] = [];
const servers: Server[] = [];
afterEach(async () => {
	await Promise.all(ports.splice(0).map(port => port.unplug()));
	for (const server of servers.splice(0)) server.close();
	await rm(folder, {recursive: true, force: true});
});

const plugIn = (): PseudoPort => {
	const port = openPseudoPort();
	ports.push(port);
	return port;
};

/** A recording under way: what it says, and a promise of each thing it will say. */
const start = (options: Omit<RecordOptions, 'output'> & {output?: string}, isTTY = false) => {
	const abort = new AbortController();
	let said = '';
	let waiting: {words: RegExp; tell: () => void}[] = [];
	const stderr = {
		isTTY,
		write(text: string) {
			said += text;
			waiting = waiting.filter(({words, tell}) => !words.test(said) || tell());
			return true;
		},
	};
	const status = recordCommand({output, ...options}, {stdin: new PassThrough(), stderr, signal: abort.signal} as never);
	return {
		abort,
		status,
		said: () => said,
		hears: (words: RegExp) =>
			new Promise<void>(resolve => {
				if (words.test(said)) resolve();
				else waiting.push({words, tell: () => resolve() as undefined});
			}),
	};
};

const serve = async (onSocket: (socket: Socket) => void): Promise<string> => {
	const server = createServer(onSocket);
	servers.push(server);
	server.listen(0, '127.0.0.1');
	await once(server, 'listening');
	return `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`;
};

describe('record', () => {
	it('keeps everything until it is stopped, and ends the file in order', async () => {
		const port = plugIn();
		const run = start({port: port.path, note: 'left hand', baud: 9600}, true);
		await run.hears(/restarts many boards/);
		port.send('512,498\r\n');
		// The progress line comes once a second.
		await run.hears(/\r\d+\.\d s, 9 bytes/);
		run.abort.abort();
		expect(await run.status).toBe(0);
		expect(run.said()).toMatch(new RegExp(`^Recording ${port.path} at 9600 baud into ${output}\\. Ctrl-C stops\\.\n`));
		expect(run.said()).toMatch(new RegExp(`Recorded \\d\\.\\d s and 9 bytes into ${output}\\.\n$`));
		const source = await openSource(output);
		expect(source.info).toMatchObject({timing: 'measured', baud: 9600, note: 'left hand'});
		const items = await readAll(source);
		expect(eventsOf(items)).toEqual(eventsOnOpening);
		expect(bytesOf(items).toString()).toBe('512,498\r\n');
		expect((await readFile(output, 'utf8')).trimEnd()).toMatch(/\{"t":[\d.]+,"end":true,"bytes":9\}$/);
	});

	it('says that the port was lost and keeps the file', async () => {
		const port = plugIn();
		const run = start({port: port.path});
		await run.hears(/restarts many boards/);
		port.send('512\n');
		await new Promise<void>(resolve => {
			// The bytes are in the file within a second; the cable is pulled once they are.
			const look = (): void => {
				readFile(output, 'utf8').then(text => (text.includes('512') ? resolve() : setImmediate(look)));
			};

			look();
		});
		await port.unplug();
		expect(await run.status).toBe(0);
		expect(run.said()).toMatch(/is gone/);
		expect(run.said()).not.toMatch(/\r/);
		expect(eventsOf(await readAll(await openSource(output)))).toEqual([...eventsOnOpening, 'port-lost']);
	});

	it('stops by itself when its time is up, and gives 1 when nothing came', async () => {
		const port = plugIn();
		const run = start({port: port.path, for: 0.05});
		expect(await run.status).toBe(1);
		expect(run.said()).toMatch(/Recorded 0\.\d s and 0 bytes into .*\nNothing arrived from \/dev\/pts/);
		expect(eventsOf(await readAll(await openSource(output)))).toEqual(eventsOnOpening);
	});

	it('records an address until the other side closes', async () => {
		const address = await serve(socket => socket.end('512,498\n'));
		expect(await start({port: address}).status).toBe(0);
		expect(bytesOf(await readAll(await openSource(output))).toString()).toBe('512,498\n');
	});

	it('makes a recording of a log, and keeps what is known of its times', async () => {
		const log = join(folder, 'glove.log');
		await writeFile(log, Array.from({length: 40}, (_, n) => `${(n / 50).toFixed(2)} 512,${n}\n`).join(''));
		expect(await start({port: log}).status).toBe(0);
		const [original, recorded] = [await openSource(log), await openSource(output)];
		expect(recorded.info.timing).toBe('column');
		const plain = async (source: typeof original) =>
			(await readAll(source)).map(item => ({...item, bytes: bytesOf([item]).toString()}));
		expect(await plain(recorded)).toEqual(await plain(original));
	});

	it('takes as much of a log as was asked for', async () => {
		const log = join(folder, 'glove.log');
		await writeFile(log, '512,498\n'.repeat(400));
		expect(await start({port: log, for: 1}).status).toBe(0);
		// Line n is at n / 100: those from 0 to 1 s, both ends included.
		expect(await readAll(await openSource(output))).toHaveLength(101);
	});

	it('keeps the sheet, so that a replay has it', async () => {
		const sheet = join(folder, 'glove.toml');
		await writeFile(sheet, '[board]\nfull_scale = 1023\n\n[[channel]]\nname = "thumb"\n');
		const address = await serve(socket => socket.end('512\n'));
		expect(await start({port: address, sheet}).status).toBe(0);
		const {sheetFromJson} = await import('../../source/sheet/parse-sheet.ts');
		const {info} = await openSource(output);
		expect(sheetFromJson(info.sheet).sheet).toMatchObject({board: {fullScale: 1023}, channels: [{name: 'thumb'}]});
	});

	it('leaves the port alone when the file is there already', async () => {
		await writeFile(output, 'mine');
		const address = await serve(() => {
			throw new Error('It was opened.');
		});
		await expect(start({port: address}).status).rejects.toThrow(/is already there and is kept as it is/);
		expect(await readFile(output, 'utf8')).toBe('mine');
		const other = await serve(socket => socket.end('512\n'));
		expect(await start({port: other, force: true}).status).toBe(0);
		expect(bytesOf(await readAll(await openSource(output))).toString()).toBe('512\n');
	});

	it.skipIf(process.platform !== 'linux')('fails in one line when the disk is full', async () => {
		const address = await serve(socket => socket.end('512\n'));
		const error = await start({port: address, output: '/dev/full', force: true}).status.catch(error => error);
		expect(error).toBeInstanceOf(CannotError);
		expect(error.message).toMatch(/the disk is full/);
	});

	it('fails when its folder is removed under it, and closes the port', async () => {
		const place = join(folder, 'inner');
		await mkdir(place);
		let closed = (): void => {};
		const portClosed = new Promise<void>(resolve => {
			closed = resolve;
		});
		const address = await serve(socket => {
			socket.on('error', () => {});
			socket.on('close', closed);
			const send = (): void => void (socket.destroyed || socket.write('512\n', () => setImmediate(send)));
			send();
		});
		const run = start({port: address, output: join(place, 'glove.gbrec')});
		await run.hears(/^Recording/);
		await rm(place, {recursive: true});
		await expect(run.status).rejects.toThrow(/the file was removed or replaced/);
		await portClosed;
	});

	it('says once where it goes on when its file is renamed', async () => {
		const address = await serve(socket => {
			socket.on('error', () => {});
			const timer = setInterval(() => socket.write('512\n'), 20);
			socket.on('close', () => clearInterval(timer));
		});
		const run = start({port: address});
		await run.hears(/^Recording/);
		await rename(output, join(folder, 'renamed.gbrec'));
		await run.hears(/was renamed: the recording goes on in .*renamed\.gbrec\.\n/);
		run.abort.abort();
		expect(await run.status).toBe(0);
		expect(run.said()).toMatch(/Recorded .* into .*renamed\.gbrec\.\n$/);
	});

	it('looks at the place before it opens a port, and refuses to record a file into itself', async () => {
		const nowhere = join(folder, 'missing', 'glove.gbrec');
		await expect(start({port: '/dev/ttyNONE', output: nowhere}).status).rejects.toThrow(/missing does not exist/);
		await writeFile(output, '{"glovebench":1}\n{"t":0,"rx":"512\\n"}\n');
		await expect(start({port: output, force: true}).status).rejects.toThrow(/would be lost/);
		expect(textsOf(await readAll(await openSource(output)))).toEqual(['512\n']);
	});

	it('asks for a file', async () => {
		await expect(start({port: '/dev/null', output: ''}).status).rejects.toThrow(/give one with -o/);
	});

	it('rotates: whole recordings one after the other, no byte lost or doubled, no line cut', async () => {
		const log = join(folder, 'log.txt');
		const line = (i: number) => `${(i / 20).toFixed(3)} 512,498,500,510,${i}`;
		await writeFile(log, Array.from({length: 100}, (_, i) => `${line(i)}\n`).join(''));
		await writeFile(join(folder, 'glove-2.gbrec'), 'mine');
		const run = start({port: log, rotate: 2});
		expect(await run.status).toBe(0);
		// The name that was taken is left alone.
		expect(await readFile(join(folder, 'glove-2.gbrec'), 'utf8')).toBe('mine');
		const names = ['glove.gbrec', 'glove-3.gbrec', 'glove-4.gbrec'];
		const parts: string[] = [];
		for (const name of names) {
			const items = await readAll(await openSource(join(folder, name)));
			expect(eventsOf(items)).toEqual([]);
			expect(items[0].t).toBeLessThan(0.06);
			expect(items.at(-1)!.t).toBeLessThan(2.06);
			parts.push(Buffer.from(bytesOf(items)).toString());
		}
		for (const part of parts) expect(part).toMatch(/^512,.*\n$/s);
		expect(
			parts
				.join('')
				.split('\n')
				.filter(Boolean)
				.map(each => Number(each.split(',')[4])),
		).toEqual(Array.from({length: 100}, (_, i) => i));
		expect(run.said()).toContain('Goes on in');
	});

	it('refuses to rotate more often than once a second', async () => {
		await expect(start({port: 'x', rotate: 0.5}).status).rejects.toThrow(/--rotate takes a second at least/);
	});

	it('resolves to 1 where the time that was asked for was not reached', async () => {
		const log = join(folder, 'short.txt');
		await writeFile(log, Array.from({length: 40}, (_, i) => `${i / 20} 512,498,500,510,${i}\n`).join(''));
		const run = start({port: log, for: 60});
		expect(await run.status).toBe(1);
		expect(run.said()).toContain('The 1 min 0 s that were asked for were not reached.');
		expect(await start({port: log, for: 1, force: true}).status).toBe(0);
	});

	it('takes a connection up again until the time is over', async () => {
		let calls = 0;
		const address = await serve(socket => {
			calls++;
			socket.on('error', () => {});
			socket.write(`512,498,${calls}\r\n`);
			if (calls === 1) setTimeout(() => socket.destroy(), 20);
		});
		const run = start({port: address, for: 1.6});
		expect(await run.status).toBe(0);
		expect(calls).toBe(2);
		expect(run.said()).not.toContain('not reached');
	});
});
