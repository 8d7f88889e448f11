import {mkdtempSync, readFileSync, rmSync} from 'node:fs';
import {type AddressInfo, createServer, type Server, type Socket} from 'node:net';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {playGlove} from '../dashboard/play-glove.ts';
import {glovebench, type ProgramOnScreen} from './program-on-screen.ts';

let folder: string;
let servers: Server[];
let sockets: Set<Socket>;
let program: ProgramOnScreen;

/** A glove on the network that sends these frames, 10 ms a line; resolves to its address. */
async function serve(items = playGlove({seconds: 60})): Promise<string> {
	const lines = items.map(item => ('bytes' in item ? item.bytes : new Uint8Array()));
	const server = createServer(socket => {
		let sent = 0;
		const timer = setInterval(() => socket.write(lines[sent++ % lines.length]), 10);
		sockets.add(socket);
		socket.on('close', () => clearInterval(timer)).on('error', () => {});
	});
	servers.push(server);
	await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
	return `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`;
}

beforeEach(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'links-'));
	servers = [];
	sockets = new Set();
});

afterEach(() => {
	program.dispose();
	for (const socket of sockets) socket.destroy();
	for (const server of servers) server.close();
	rmSync(folder, {recursive: true});
});

describe('a live glove', () => {
	it('is taken up again by itself when its connection breaks, the gap marked in screen and recording', async () => {
		program = glovebench(['attach', await serve(), '--record', 'day.gbrec'], {cwd: folder});
		await program.until(/little +\S*[[█]/);
		for (const socket of sockets) socket.destroy();
		await program.until(/PORT GONE for \d+ s/);
		await program.until(text => !text.includes('PORT GONE'));
		program.send('l');
		await program.until(text => /reattached/.test(text) && /port-lost/.test(text));
		program.send('q');
		expect(await program.exited).toBe(0);
		const recorded = readFileSync(path.join(folder, 'day.gbrec'), 'utf8')
			.trimEnd()
			.split('\n')
			.map(line => JSON.parse(line));
		const events = recorded.flatMap(({event}) => event ?? []);
		expect(events).toEqual(['port-lost', 'reattached']);
		const back = recorded.findIndex(({event}) => event === 'reattached');
		expect(recorded.slice(back).some(({rx}) => rx !== undefined)).toBe(true);
	});
});
