import {once} from 'node:events';
import {mkdtemp, rm} from 'node:fs/promises';
import {type AddressInfo, createServer, type Server, type Socket} from 'node:net';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {PassThrough} from 'node:stream';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {type RecordOptions, recordCommand} from '../../source/commands/record.ts';
import type {PseudoPort} from '../sources/pseudo-port.ts';

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
