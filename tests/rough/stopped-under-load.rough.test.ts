import {writeSync} from 'node:fs';
import {mkdtemp, readFile, rm} from 'node:fs/promises';
import {type AddressInfo, createServer, type Socket} from 'node:net';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {spawn} from '@lydell/node-pty';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {openSource} from '../../source/sources/open-source.ts';
import {glovebench, type ProgramOnScreen} from '../screen/program-on-screen.ts';
import {bytesOf, eventsOf, readAll} from '../sources/reading.ts';
import {numberedLine, numbersIn} from './numbered-glove.ts';
import {tally, tries, within} from './tries.ts';

/** About 2 kB: what has been lost of a line of 115,200 baud while the machine was busy with something else. */
const waitingLines = 70;

let folder: string;
const undo: (() => void)[] = [];
beforeAll(async () => {
	folder = await mkdtemp(join(tmpdir(), 'stopped-'));
});
afterAll(async () => {
	for (const step of undo) step();
	await rm(folder, {recursive: true, force: true});
});

type Board = {readonly address: string; send(data: string): Promise<void>};

/** A serial port whose far end is written to at once: what was sent is in the kernel when `send` returns. */
function serialBoard(): Board {
	const terminal = spawn('/bin/sleep', ['120'], {encoding: null});
	if (!(terminal.pid > 1)) throw new Error('The pseudo-terminal has no process of its own.');
	const {ptsName, fd} = terminal as unknown as {ptsName: string; fd: number};
	undo.push(() => (terminal as unknown as {destroy(): void}).destroy());
	return {
		address: ptsName,
		async send(data) {
			const bytes = Buffer.from(data);
			for (let sent = 0; sent < bytes.byteLength; ) sent += writeSync(fd, bytes, sent);
		},
	};
}

async function networkBoard(): Promise<Board> {
	let connected: (socket: Socket) => void;
	const socket = new Promise<Socket>(resolve => {
		connected = resolve;
	});
	const server = createServer(client => {
		client.on('error', () => {});
		connected(client.setNoDelay(true));
		undo.push(() => client.destroy());
	});
	undo.push(() => server.close());
	await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
	return {
		address: `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`,
		// On one machine the bytes are at the other end once they were handed over.
		async send(data) {
			const client = await socket;
			await new Promise<void>(done => client.write(data, () => done()));
		},
	};
}

const lines = (from: number, count: number): string =>
	Array.from({length: count}, (_, index) => numberedLine(from + index)).join('');

const cases = [
	{name: 'record from a port', command: (at: string, to: string) => ['record', at, '-o', to], board: serialBoard},
	{name: 'record from the network', command: (at: string, to: string) => ['record', at, '-o', to], board: networkBoard},
	{name: 'attach to a port', command: (at: string, to: string) => ['attach', at, '--record', to], board: serialBoard},
];

describe
	.skipIf(process.platform === 'win32')
	.concurrent('a recording that is stopped while the machine is busy', () => {
		it.each(cases)(
			'keeps what had reached the computer by then: $name',
			async ({name, command, board}) => {
				for (let index = 0; index < tries(1, 20); index++) {
					const {address, send} = await board();
					const path = join(folder, `${name.replaceAll(' ', '-')}-${index}.gbrec`);
					const program: ProgramOnScreen = glovebench(command(address, path), {cwd: folder, columns: 100});
					undo.push(() => program.dispose());
					await program.until(/Recording|REC/);
					// Sent again until they are seen: a port that opens throws away what came before.
					let sent = 0;
					while (!/[1-9]\d* bytes|REC .*[1-9]/.test(program.text)) {
						await send(lines(sent++, 1));
						await program.until(() => true);
						await new Promise(resolve => setTimeout(resolve, 20));
					}

					// What a busy machine does: the program gets no time while bytes and the signal arrive.
					program.kill('SIGSTOP');
					await send(lines(sent, waitingLines));
					program.kill('SIGINT');
					program.kill('SIGCONT');
					expect(await within(30_000, program.exited)).toBe(130);
					const items = await readAll(await openSource(path));
					const numbers = numbersIn(bytesOf(items).toString());
					expect(numbers.at(-1)).toBe(sent + waitingLines - 1);
					expect(numbers.slice(-waitingLines)).toEqual(Array.from({length: waitingLines}, (_, i) => sent + i));
					expect(eventsOf(items)).not.toContain('truncated');
					expect(JSON.parse((await readFile(path, 'utf8')).trimEnd().split('\n').at(-1)!)).toMatchObject({end: true});
					tally('stopped with bytes on their way');
				}
			},
			240_000,
		);
	});
