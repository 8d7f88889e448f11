import type {AddressInfo} from 'node:net';
import {createServer, type Server} from 'node:net';
import {afterAll, afterEach, beforeAll, describe, expect, it} from 'vitest';
import {cliPath} from '../cli/run-cli.ts';
import {glovebench, ProgramOnScreen} from '../screen/program-on-screen.ts';
import {hostileFolder, hostileName} from './hostile-files.ts';
import {attacks, dangerIn, ownSequences} from './terminal-attacks.ts';

const at = hostileFolder();
let server: Server;
let address: string;
let program: ProgramOnScreen;

beforeAll(async () => {
	// A board whose every message is an attack, and that goes on as long as somebody listens.
	server = createServer(socket => {
		let index = 0;
		const timer = setInterval(() => {
			const [, , text] = attacks[index % attacks.length]!;
			const hand = 500 + Math.round(400 * Math.sin(index / 10));
			socket.write(
				`${hand},${hand + 9},1023,${hand + 5},${hand + 7},512,511\r\n${index % 9 === 4 ? `note ${text}\r\n` : ''}${index % 9 === 7 ? `51${text}\r\n` : ''}`,
			);
			index++;
		}, 10);
		socket.on('error', () => clearInterval(timer));
		socket.on('close', () => clearInterval(timer));
	});
	await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
	address = `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`;
});

afterAll(() => server.close());
afterEach(() => program.dispose());

/** A pseudo-terminal puts a CR before every LF (POSIX, ONLCR). */
const written = (own: RegExp): string | undefined => dangerIn(program.raw.replaceAll('\r\n', '\n'), own);

/** Presses keys one by one; each is answered by a picture that shows what is told. */
async function press(keys: readonly (readonly [key: string, shows: string | RegExp])[]): Promise<void> {
	for (const [key, shows] of keys) {
		program.send(key);
		await program.until(shows);
	}
}

describe('the dashboard on hostile input sends its own few sequences only', () => {
	it('in a replay: every page, findings, marks, two gloves', async () => {
		program = glovebench(
			['replay', at(`${hostileName}.gbrec`), at(`labels${hostileName}.gbrec`), '--hold', '--at', '9s'],
			{
				columns: 170,
				rows: 50,
			},
		);
		await program.until('q quit');
		await press([
			['f', /open first/],
			['\r', /[Mm]easure|[Ee]vidence|sure\b|since/],
			['t', /\d s/],
			['l', /marks, newest first/],
			['s', /stick|buttons/],
			['a', /NEXT|DONE/],
			['c', /up and down scroll/],
			['?', /everywhere/],
			['o', 'counts'],
		]);
		// The link page showed marks and events in their escaped form.
		expect(program.raw).toContain('\\x1b');
		program.send('q');
		await program.exited;
		expect(written(ownSequences.screen)).toBeUndefined();
	});

	it('live: messages of the board, a mark that is typed and pasted, the port’s name', async () => {
		program = glovebench(['attach', address, '--record', at(`live${hostileName}.gbrec`)], {columns: 100, rows: 40});
		await program.until(/\d\/s {2}bad/);
		await press([['m', 'enter keeps it']]);
		// A paste in brackets and raw controls, as a terminal would send them.
		program.send('\u001b[200~paste \u001b[2J\u0007 \u009b31m \u202e done\u001b[201~');
		await program.until('done');
		program.send('\r');
		await program.until('Mark kept');
		await press([
			['l', 'bad'],
			['f', /open first|Nothing found/],
			['o', 'counts'],
		]);
		program.send('q');
		await program.exited;
		expect(program.raw).toContain('Recorded to');
		expect(written(ownSequences.screen)).toBeUndefined();
	});

	it.each([
		['a terminal that knows no sequences', 'TERM=dumb', ''],
		['a screen reader', '', '--screen-reader'],
	])('line by line for %s: text and line ends, nothing else', async (_name, setting, option) => {
		// The pseudo-terminal's library sets TERM itself.
		const line = `${setting} exec "$0" "$1" replay "$2" --speed 8 ${option}`;
		program = new ProgramOnScreen('/bin/sh', ['-c', line, process.execPath, cliPath, at(`${hostileName}.gbrec`)]);
		await program.until('one line for each thing');
		await press([
			['f', /since|over,/],
			['l', 'frames a second'],
			['o', /(FAIL|ATTENTION|UNPROVEN|PASS): /],
		]);
		await program.until(/mark:/);
		program.send('q');
		await program.exited;
		expect(written(ownSequences.none)).toBeUndefined();
		expect(program.raw).toContain('\\x');
	});

	it('bringup: the guided routine on a live board', async () => {
		program = glovebench(['bringup', address, '-o', at('built.toml')]);
		await program.until('BRING-UP');
		await press([
			['x', /step 2/],
			['x', /step 3/],
		]);
		program.send('q');
		await program.exited;
		expect(written(ownSequences.screen)).toBeUndefined();
	});
});
