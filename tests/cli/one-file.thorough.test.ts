import {spawnSync} from 'node:child_process';
import {mkdtempSync, readFileSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {NumberedGlove} from '../rough/numbered-glove.ts';
import {ProgramOnScreen} from '../screen/program-on-screen.ts';
import {cliPath} from './run-cli.ts';

const root = join(import.meta.dirname, '../..');
let folder: string;
let file: string;
beforeAll(() => {
	// Away from every node_modules: the file has to be enough.
	folder = mkdtempSync(join(tmpdir(), 'one-file-'));
	file = join(folder, 'glovebench.mjs');
	const {status, stderr} = spawnSync(process.execPath, ['source/build.mjs', '--one-file', file], {
		cwd: root,
		encoding: 'utf8',
	});
	expect(status, stderr).toBe(0);
});
afterAll(() => rmSync(folder, {recursive: true, force: true}));

const run = (program: string, args: readonly string[], input = '') =>
	spawnSync(process.execPath, [program, ...args], {cwd: folder, encoding: 'utf8', input});

describe('npm run bundle', () => {
	it.each([
		['demo', '--json'],
		['check', join(root, 'recordings/dropout.gbrec')],
		['check', join(root, 'recordings/healthy.gbrec'), '--json'],
		['explain', 'dropout'],
	])('gives one file that prints what the program prints: %s', (...args) => {
		const {stdout, status} = run(file, args);
		expect(stdout).not.toBe('');
		const whole = run(cliPath, args);
		expect([stdout, status]).toEqual([whole.stdout, whole.status]);
	});

	it('reads standard input and the network', async () => {
		const piped = run(file, ['check', '-'], readFileSync(join(root, 'recordings/dropout.gbrec'), 'utf8'));
		expect(piped.stdout).toMatch(/DO FIRST ring: dropout/);
		const glove = new NumberedGlove(5);
		const address = await glove.listen();
		const {spawn} = await import('node:child_process');
		const child = spawn(process.execPath, [file, 'check', address, '--for', '1s', '--json']);
		let out = '';
		child.stdout.on('data', data => {
			out += data;
		});
		await new Promise(resolve => child.on('close', resolve));
		glove.close();
		expect(JSON.parse(out).source).toMatchObject({kind: 'tcp'});
		expect(JSON.parse(out).link.frames).toBeGreaterThan(10);
	});

	it.skipIf(process.platform === 'win32')('says in one line that it knows no serial ports', () => {
		const {stderr, status} = run(file, ['check', '/dev/tty']);
		expect(status).toBe(2);
		expect(stderr).toMatch(/^glovebench: This single file knows no serial ports: name a recording[^\n]*\n$/);
	});

	it.skipIf(process.platform === 'win32')('draws the dashboard', async () => {
		const program = new ProgramOnScreen(process.execPath, [file, 'demo'], {cwd: folder});
		await program.until(/thumb .*\d{3}/);
		program.send('q');
		expect(await program.exited).toBe(0);
	});

	it('carries the notices of what is in it', () => {
		expect(readFileSync(file, 'utf8')).toMatch(
			/^\/\*\nglovebench holds code of these packages.*\nink \d.*\nreact \d/ms,
		);
	});

	it('imports nothing before it has seen the version of Node, but what makes its own requests', () => {
		const imports = readFileSync(file, 'utf8').match(/^import .*$/gm);
		expect(imports).toEqual([expect.stringMatching(/^import \{createRequire as __createRequire\} from 'module';/)]);
	});
});
