import {closeSync, mkdtempSync, openSync, rmSync, writeSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterAll, afterEach, describe, expect, it} from 'vitest';
import {readAtOnce} from '../../source/sources/read-at-once.ts';

type Listener = (error: Error | null) => void;

/** A port of the library's shape over a file: `ready` is what the system would say. */
class FilePort {
	fd: number | null;
	/** Reads that were left to the library. */
	left = 0;
	readonly poller = {once: (_event: 'readable', listener: Listener) => void this.#waiting.push(listener)};
	readonly #waiting: Listener[] = [];

	constructor(fd: number) {
		this.fd = fd;
	}

	async read(buffer: Buffer, _offset: number, _length: number): Promise<{buffer: Buffer; bytesRead: number}> {
		this.left++;
		return {buffer, bytesRead: 0};
	}

	ready(error: Error | null = null): void {
		for (const listener of this.#waiting.splice(0)) listener(error);
	}
}

const folder = mkdtempSync(join(tmpdir(), 'read-'));
const open: number[] = [];

function filePort(text: string): FilePort {
	const path = join(folder, `${open.length}`);
	const out = openSync(path, 'w');
	writeSync(out, text);
	closeSync(out);
	const fd = openSync(path, 'r');
	open.push(fd);
	const port = new FilePort(fd);
	readAtOnce(port);
	return port;
}

afterEach(() => {
	for (const fd of open.splice(0)) closeSync(fd);
});

afterAll(() => rmSync(folder, {recursive: true, force: true}));

describe('a port of the serial library', () => {
	it('is read in place once it is readable, and where the read leaves nothing the library is asked', async () => {
		const port = filePort('512,498');
		const buffer = Buffer.alloc(16);
		const first = port.read(buffer, 2, 4);
		port.ready();
		expect(await first).toEqual({buffer, bytesRead: 4});
		expect(buffer.toString('latin1', 2, 6)).toBe('512,');
		expect(port.left).toBe(0);
		for (const _ of [1, 2]) {
			const next = port.read(buffer, 0, 16);
			port.ready();
			await next;
		}
		expect(buffer.toString('latin1', 0, 3)).toBe('498');
		expect(port.left).toBe(1);
	});

	it('gives up a read that is cancelled, with the error it was cancelled by', async () => {
		const port = filePort('1');
		const cancelled = new Error('Canceled');
		const read = port.read(Buffer.alloc(4), 0, 4);
		port.ready(cancelled);
		await expect(read).rejects.toBe(cancelled);
	});

	it('leaves what fails, and a port that has been closed, to the library', async () => {
		const port = filePort('1');
		port.fd = null;
		const read = port.read(Buffer.alloc(4), 0, 4);
		port.ready();
		expect((await read).bytesRead).toBe(0);
		expect(port.left).toBe(1);
	});

	it('stays as it is where it has no such poller', () => {
		const port = {read: async () => ({bytesRead: 1})};
		const {read} = port;
		readAtOnce(port);
		readAtOnce(undefined);
		expect(port.read).toBe(read);
	});
});
