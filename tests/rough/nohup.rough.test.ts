import {closeSync, mkdtempSync, openSync, readFileSync, rmSync} from 'node:fs';
import {createServer} from 'node:net';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {startCli} from '../cli/run-cli.ts';

let folder: string;
beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'nohup-'));
});
afterAll(() => rmSync(folder, {recursive: true}));

/** Started as `nohup` starts it, or as a shell does; hung up once something was recorded, then asked to end. */
async function hungUp(name: string, stdin: number | 'ignore'): Promise<{status: number | null; ended: boolean}> {
	const server = createServer(socket => {
		socket.on('error', () => {});
		setInterval(() => socket.write('512,498,500,510,505\r\n'), 10).unref();
	});
	await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
	const {port} = server.address() as {port: number};
	const file = path.join(folder, name);
	const child = startCli(['record', `tcp://127.0.0.1:${port}`, '-o', file], {stdio: [stdin, 'ignore', 'pipe']});
	const gone = new Promise<number | null>(resolve => child.on('close', resolve));
	await new Promise(resolve => child.stderr!.once('data', resolve));
	child.kill('SIGHUP');
	// What was sent first is handled first: had the first one ended it, its status would be the first one's.
	setTimeout(() => child.kill('SIGTERM'), 300);
	const status = await gone;
	server.close();
	return {status, ended: /"end":true/.test(readFileSync(file, 'utf8'))};
}

describe('record under nohup', () => {
	it('outlives its terminal, and ends in order when it is asked to', async () => {
		// GNU coreutils manual, nohup: standard input is redirected from an unreadable file. It opens /dev/null for writing.
		const unreadable = openSync('/dev/null', 'w');
		expect(await hungUp('nohup.gbrec', unreadable)).toEqual({status: 143, ended: true});
		closeSync(unreadable);
	});

	it('ends in order at a hang-up without it', async () => {
		expect(await hungUp('plain.gbrec', 'ignore')).toEqual({status: 129, ended: true});
	});
});
