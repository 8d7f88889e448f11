import {mkdtempSync, rmSync} from 'node:fs';
import {type AddressInfo, createServer, type Server, type Socket} from 'node:net';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {playGlove} from '../dashboard/play-glove.ts';
import {glovebench, type ProgramOnScreen} from './program-on-screen.ts';

let folder: string;
let server: Server;
let address: string;
let program: ProgramOnScreen;
/** What the glove sends, 10 ms a line, until it is told to be silent. */
let lines: Uint8Array[];
let silent: boolean;
let sent: number;

beforeEach(async () => {
	folder = mkdtempSync(path.join(tmpdir(), 'live-'));
	lines = playGlove({seconds: 60, buttons: () => [0, 0]}).map(item =>
		'bytes' in item ? item.bytes : new Uint8Array(),
	);
	silent = false;
	sent = 0;
	server = createServer((socket: Socket) => {
		const timer = setInterval(() => {
			if (silent) return;
			socket.write(lines[sent % lines.length]);
			sent++;
		}, 10);
		socket.on('close', () => clearInterval(timer)).on('error', () => {});
	});
	await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
	address = `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`;
});

afterEach(() => {
	program.dispose();
	server.close();
	rmSync(folder, {recursive: true});
});

describe('a live glove', () => {
	it('shows the channel that is pulled in letters as high as five lines', async () => {
		lines = playGlove({
			seconds: 60,
			finger: (index, t) => (index === 2 && t > 0.5 ? 500 + 400 * Math.sin(6 * t) : 200 + 10 * index),
		}).map(item => ('bytes' in item ? item.bytes : new Uint8Array()));
		program = glovebench(['attach', address, '--page', 'bench'], {cwd: folder});
		await program.until(
			text => /(moves now|just moved) /.test(text) && /middle +✓ proven/.test(text) && text.includes('q quit'),
		);
		const rows = program.lines.filter(line => /^ +██/.test(line));
		expect(rows.length).toBeGreaterThanOrEqual(5);
	});

	it('sends no colour with NO_COLOR, and says the same', async () => {
		program = glovebench(['attach', address], {cwd: folder, env: {NO_COLOR: '1'}});
		await program.until(/little +\S*[[█]/);
		expect(program.raw).not.toMatch(/\u001B\[[\d;]*\b(3\d|4\d|9\d|38|48)[\d;]*m/);
	});

	it('is told line by line to a screen reader, without any control sequence', async () => {
		program = glovebench(['attach', address, '--screen-reader'], {cwd: folder});
		await program.until('Frames arrive: thumb, index');
		program.send('o');
		await program.until('little ');
		program.send('q');
		expect(await program.exited).toBe(0);
		expect(program.raw).not.toContain('\u001B');
	});

	it('never gets a control sequence of its own to the terminal', async () => {
		const hostile = '\u001B]0;owned\u0007\u001B[2J\u001B[31m\u009B5n\u202Edebug \u001B]52;c;eA==\u0007\r\n';
		for (let index = 50; index < lines.length; index += 50) lines[index] = Buffer.from(hostile);
		program = glovebench(['attach', address, '--page', 'link'], {cwd: folder});
		await program.until(/stray [1-9]|bad +[1-9]/);
		program.send('f');
		await program.until('open first');
		for (const part of ['\u001B]', '\u0007', '\u009B', '\u202E', '\u001B[31m']) expect(program.raw).not.toContain(part);
	});
});
