import {once} from 'node:events';
import {connect, type Socket} from 'node:net';
import {PassThrough} from 'node:stream';
import {afterEach, describe, expect, test} from 'vitest';
import {WebSocket} from 'ws';
import {type FrameServer, serveLines, serveWebSocket} from '../../source/commands/frame-servers.ts';

const rowText = `${'512,498,473,'.repeat(2000)}0\n`;

/** Far more than the system's own buffers and the mebibyte that may wait here. */
const mostRows = 4000;

let server: FrameServer;
let told = '';
const open: (() => void)[] = [];
afterEach(async () => {
	for (const close of open.splice(0)) close();
	await server.close();
});

/** The address it says it listens at. */
async function listening(serve: typeof serveLines): Promise<{host: string; port: number}> {
	const stderr = new PassThrough();
	told = '';
	stderr.on('data', data => {
		told += data;
	});
	server = await serve(0, '127.0.0.1', stderr);
	await new Promise(resolve => setImmediate(resolve));
	return {host: '127.0.0.1', port: Number(/127\.0\.0\.1:(\d+)/.exec(told)![1])};
}

const tick = () => new Promise(resolve => setImmediate(resolve));

/** One reader was dropped: the other, of whom `read` bytes are known, goes on, and what the slow one had open ends. */
async function goesOnWithout(slow: Socket | WebSocket, read: () => number): Promise<void> {
	expect(told.match(/dropped/g)).toHaveLength(1);
	const before = read();
	server.row(rowText);
	while (read() < before + rowText.length) await tick();
	const gone = once(slow, 'close');
	slow.resume();
	await gone;
}

async function untilDropped(read: () => number): Promise<number> {
	let sent = 0;
	for (let round = 0; !told.includes('dropped') && round < mostRows; round++) {
		server.row(rowText);
		sent += rowText.length;
		while (read() < sent - rowText.length) await tick();
	}

	return sent;
}

describe('a reader that takes nothing', () => {
	test('of lines is dropped and told, and another goes on', async () => {
		const {host, port} = await listening(serveLines);
		server.head('thumb,index\n');
		const join = async (): Promise<Socket> => {
			const socket = connect(port, host);
			open.push(() => socket.destroy());
			await once(socket, 'connect');
			return socket;
		};
		const quick = await join();
		let read = -'thumb,index\n'.length;
		quick.on('data', bytes => {
			read += bytes.byteLength;
		});
		const slow = await join();
		slow.on('error', () => {}).pause();
		while (read < 0) await tick();
		await untilDropped(() => read);
		expect(told).toMatch(/^127\.0\.0\.1:\d+ reads too slowly and was dropped: \d+ bytes waited for it\.$/m);
		await goesOnWithout(slow, () => read);
	});

	test('of a WebSocket is dropped and told, and another goes on', async () => {
		const {port} = await listening(serveWebSocket);
		const join = async (): Promise<WebSocket> => {
			const socket = new WebSocket(`ws://127.0.0.1:${port}`);
			open.push(() => socket.terminate());
			await once(socket, 'open');
			return socket;
		};
		const quick = await join();
		let read = 0;
		quick.on('message', message => {
			// A message is a row without its line end.
			read += String(message).length + 1;
		});
		const slow = await join();
		slow.on('error', () => {});
		slow.pause();
		await untilDropped(() => read);
		expect(told).toMatch(/A reader of the WebSocket was too slow and was dropped: \d+ bytes waited for it\./);
		await goesOnWithout(slow, () => read);
	});
});
