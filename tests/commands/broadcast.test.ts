import {once} from 'node:events';
import {type AddressInfo, connect, createServer, type Server, type Socket} from 'node:net';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {Broadcast} from '../../source/commands/broadcast.ts';

let server: Server;
let readers: Broadcast;
let told: string[];
let waiting: (() => void)[];
const sockets: Socket[] = [];

/** Far below the usual, so that the system's own buffers are what takes the time to fill. */
const backlogBytes = 64 * 1024;

beforeEach(async () => {
	told = [];
	waiting = [];
	readers = new Broadcast(
		line => {
			told.push(line);
			for (const wake of waiting.splice(0)) wake();
		},
		{backlogBytes},
	);
	server = createServer(socket => readers.add(socket)).listen(0, '127.0.0.1');
	await once(server, 'listening');
});

afterEach(() => {
	for (const socket of sockets.splice(0)) socket.destroy();
	server.close();
});

const join = async (): Promise<Socket> => {
	const socket = connect((server.address() as AddressInfo).port, '127.0.0.1');
	sockets.push(socket);
	const taken = once(server, 'connection');
	await Promise.all([once(socket, 'connect'), taken]);
	return socket;
};

const tick = () => new Promise(resolve => setImmediate(resolve));
const piece = Buffer.alloc(32 * 1024, '512,498,473\r\n');

describe('a stream for many', () => {
	it('goes on for one reader while another takes nothing, and says so once', async () => {
		const slow = await join();
		slow.pause();
		const quick = await join();
		let read = 0;
		quick.on('data', bytes => {
			read += bytes.byteLength;
		});
		let sent = 0;
		// The system takes some megabytes for the slow one before anything waits here.
		for (let round = 0; told.length === 0 && round < 2000; round++) {
			readers.send(piece);
			sent += piece.byteLength;
			while (read < sent) await tick();
		}

		const {remoteAddress: address, localPort: port} = slow;
		expect(told).toEqual([`${address}:${port} reads too slowly: what it does not take in time is left out for it.`]);
		for (let round = 0; round < 50; round++) {
			readers.send(piece);
			sent += piece.byteLength;
			while (read < sent) await tick();
		}

		expect(told).toHaveLength(1);
		expect(read).toBe(sent);
		slow.destroy();
		await new Promise<void>(resolve => waiting.push(resolve));
		// 51 pieces: the one that was the first too many and the 50 after it.
		expect(told[1]).toBe(`${address}:${port} has left; ${51 * piece.byteLength} bytes were left out for it.`);
	});

	it('is taken up again by a reader that has caught up', async () => {
		const slow = await join();
		slow.pause();
		for (let round = 0; told.length === 0 && round < 2000; round++) {
			readers.send(piece);
			await tick();
		}

		let text = '';
		slow.on('data', bytes => {
			text = (text + bytes.toString('latin1')).slice(-100);
		});
		slow.resume();
		while (!text.endsWith('again\r\n')) {
			readers.send(Buffer.from('again\r\n'));
			await tick();
		}

		expect(text).toMatch(/again\r\n$/);
	});

	it('ends for a reader that does not', async () => {
		const socket = connect({port: (server.address() as AddressInfo).port, host: '127.0.0.1', allowHalfOpen: true});
		sockets.push(socket);
		await once(server, 'connection');
		readers.send(Buffer.from('1\n'));
		const closed = once(server, 'close');
		readers.end(5);
		server.close();
		await closed;
	});
});
