import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {type SheetOptions, sheetCommand} from '../../source/commands/sheet.ts';
import {boards} from '../../source/sheet/boards/all.ts';
import {loadSheet} from '../../source/sheet/load-sheet.ts';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';

const folder = mkdtempSync(join(tmpdir(), 'sheet-'));
afterAll(() => rmSync(folder, {recursive: true}));

function file(name: string, text?: string): string {
	const path = join(folder, name);
	if (text !== undefined) writeFileSync(path, text);
	return path;
}

/** Runs the command with a terminal on which `answers` are typed, or without one. */
async function run(options: SheetOptions, answers?: readonly string[]) {
	const isTTY = answers !== undefined;
	const [stdin, stdout, stderr] = [new PassThrough(), new PassThrough(), new PassThrough()].map(stream =>
		Object.assign(stream, {isTTY, columns: 80, setRawMode: () => stream}),
	);
	const cancel = new AbortController();
	const typed = [...(answers ?? [])];
	stderr.on('data', chunk => {
		// A question ends with what is usual in brackets; only then is something typed.
		if (!/\] $/.test(String(chunk).replace(/\u001b\[[\d;]*[A-Za-z]/g, ''))) return;
		const answer = typed.shift();
		if (answer === undefined) stdin.end();
		else stdin.write(answer === '^C' ? '\u0003' : `${answer}\r`);
	});
	let talk = '';
	stderr.on('data', chunk => {
		talk += chunk;
	});
	try {
		const status = await sheetCommand(options, {stdin, stdout, stderr, signal: cancel.signal});
		return {status, text: String(stdout.read() ?? ''), talk};
	} catch (error) {
		if (!(error instanceof CannotError)) throw error;
		return {status: 2, text: '', talk, message: error.message};
	}
}

describe('sheet new with flags', () => {
	it.each(boards.map(board => board.family))('writes a sheet for %s that checks', async board => {
		const {status, text} = await run({action: 'new', board});
		expect(status).toBe(0);
		const {sheet, problems} = parseSheet(text);
		expect(problems).toEqual([]);
		expect(sheet?.board?.family).toBe(board);
		expect(sheet?.channels).toHaveLength(9);
		expect(text).toContain('Unplug the board');
	});

	it('takes what the flags say', async () => {
		const options = {
			board: 'esp32',
			stick: false,
			buttons: 3,
			link: 'bluetooth',
			baud: 57_600,
			spool: 20,
			battery: 800,
			name: 'fox',
		};
		const {text} = await run({action: 'new', ...options});
		expect(parseSheet(text).sheet).toMatchObject({
			name: 'fox',
			reel: {spoolDiameterMm: 20},
			link: {kind: 'bluetooth', baud: 57_600},
			power: {source: 'battery', batteryMah: 800},
		});
		expect(parseSheet(text).sheet?.channels.map(channel => channel.name)).toEqual([
			'thumb',
			'index',
			'middle',
			'ring',
			'little',
			'button-1',
			'button-2',
			'button-3',
		]);
		expect(text).toContain('3.6 V');
	});

	it('explains the multiplexer where the board has too few inputs', async () => {
		expect((await run({action: 'new', board: 'rp2040'})).text).toContain(
			'# The board has too few analog inputs: GPIO26/0',
		);
		expect((await run({action: 'new', board: 'atmega328p'})).text).not.toContain('too few');
	});

	it('says what the flags take', async () => {
		expect((await run({action: 'new', board: 'esp33'})).message).toContain('Did you mean esp32?');
		expect((await run({action: 'new', board: 'esp32', link: 'usbb'})).message).toMatch(
			/--link must not be "usbb".*Did you mean usb\?/,
		);
		expect((await run({action: 'new', board: 'esp32', buttons: 99})).message).toContain('from 0 to 16');
		// The command line lets `auto` through for ports; a sheet needs a number.
		expect((await run({action: 'new', board: 'esp32', baud: 'auto' as never})).message).toContain(
			'--baud must not be auto',
		);
		expect((await run({action: 'new'})).message).toContain('needs --board where no terminal is there');
		expect((await run({action: 'nwe'})).message).toContain('one of new, check, keys');
	});

	it('writes a file, and replaces none unless told to', async () => {
		const path = file('new.toml');
		expect((await run({action: 'new', board: 'esp32', file: path})).status).toBe(0);
		const before = readFileSync(path, 'utf8');
		expect((await run({action: 'new', board: 'rp2040', file: path})).message).toContain('--force');
		expect(readFileSync(path, 'utf8')).toBe(before);
		expect((await run({action: 'new', board: 'rp2040', file: path, force: true})).status).toBe(0);
		expect((await loadSheet(path)).board?.family).toBe('rp2040');
		expect((await run({action: 'new', board: 'esp32', file: join(folder, 'no', 'x.toml')})).message).toContain(
			'no such folder',
		);
	});
});

describe('sheet new with questions', () => {
	it('takes what is usual for an empty answer', async () => {
		const {status, text} = await run({action: 'new'}, ['', '', '', '', '', '', '']);
		expect(status).toBe(0);
		expect(parseSheet(text).sheet).toMatchObject({board: {family: 'atmega328p'}, power: {source: 'usb'}});
	});

	it('asks again after an answer that cannot be, and says what it takes', async () => {
		const {text, talk} = await run({action: 'new'}, [
			'esp',
			'esp23',
			'esp32',
			'n',
			'many',
			'1',
			'20,5',
			'wifi',
			'1200',
			'the fox, left',
		]);
		expect(talk).toContain('It takes atmega328p, esp32');
		expect(talk).toContain(' Did you mean esp32?');
		expect(talk).toContain('It takes a number from 0 to 16');
		expect(parseSheet(text).sheet).toMatchObject({
			name: 'the fox, left',
			board: {family: 'esp32'},
			channels: [{name: 'thumb'}, {}, {}, {}, {}, {name: 'button-1'}],
			reel: {spoolDiameterMm: 20.5},
			link: {kind: 'wifi'},
			power: {batteryMah: 1200},
		});
	});

	it('asks nothing where the file is there already', async () => {
		const path = file('there.toml', '# mine\n');
		const {message, talk} = await run({action: 'new', file: path}, []);
		expect(message).toContain('is there already');
		expect(talk).toBe('');
	});

	it('writes nothing when the input ends', async () => {
		const {status, message} = await run({action: 'new', file: file('never.toml')}, ['esp32', 'yes']);
		expect(status).toBe(2);
		expect(message).toContain('the input ended before the last question');
		expect(() => readFileSync(file('never.toml'))).toThrow();
	});

	it('writes nothing after Ctrl-C, status 130', async () => {
		const {status, text, talk} = await run({action: 'new', file: file('never.toml')}, ['esp32', '^C']);
		expect([status, text]).toEqual([130, '']);
		expect(talk).toContain('No sheet was written.');
		expect(() => readFileSync(file('never.toml'))).toThrow();
	});
});

describe('sheet check', () => {
	it('prints every problem with file and line, status 1', async () => {
		const path = file('bad.toml', '[board]\nfamily = "esp32"\n[[channel]]\nname = "ring"\npinn = 3\n[lnk]\n');
		const {status, text} = await run({action: 'check', file: path});
		expect(status).toBe(1);
		expect(text.trimEnd().split('\n')).toEqual([
			`${path} line 5: unknown key "pinn" in [[channel]]. Did you mean "pin"?`,
			`${path} line 6: unknown table "lnk". Did you mean "link"?`,
		]);
	});

	it('says that a sheet is in order, status 0', async () => {
		const path = file('good.toml', '[board]\nfamily = "esp32"\n');
		expect(await run({action: 'check', file: path})).toMatchObject({
			status: 0,
			text: expect.stringContaining('in order'),
		});
		expect(JSON.parse((await run({action: 'check', file: path, json: true})).text)).toMatchObject({
			problems: [],
			sheet: {board: {family: 'esp32'}},
		});
	});

	it('says in one line why a file cannot be read', async () => {
		expect((await run({action: 'check', file: file('none.toml')})).message).toContain('no such file');
		expect((await run({action: 'check', file: folder})).message).toContain('folder');
		const latin = file('latin.toml');
		writeFileSync(latin, Buffer.from([0x6e, 0xe9]));
		expect((await run({action: 'check', file: latin})).message).toContain('UTF-8');
		expect((await run({action: 'check', file: file('big.toml', ' '.repeat(1_000_001))})).message).toContain('no sheet');
		expect((await run({action: 'check'})).message).toContain('needs a FILE');
	});
});

describe('loadSheet', () => {
	it('names file, line and how many more problems there are', async () => {
		const path = file('two.toml', '[board]\nfamly = "esp32"\nx = 1\n');
		await expect(loadSheet(path)).rejects.toThrow(
			`${path} line 2: unknown key "famly" in [board]. Did you mean "family"? 1 more: glovebench sheet check ${path}`,
		);
	});
});
