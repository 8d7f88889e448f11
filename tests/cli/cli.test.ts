import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import manifest from '../../package.json' with {type: 'json'};
import {commandTable} from '../../source/command-line/command-table.ts';
import {runCli, startCli} from './run-cli.ts';

/** A hand that shows all its glove has. */
const everything = 'rest 1s, fist 3x, each 1x, stick sides 2x, press button-1 2x, press button-2 2x, rest 1s';

let folder: string;
let healthy: string;
let fingers: string;
let open: string;
let brief: string;

beforeAll(async () => {
	folder = mkdtempSync(path.join(tmpdir(), 'glovebench-cli-'));
	healthy = path.join(folder, 'healthy.gbrec');
	fingers = path.join(folder, 'fingers.gbrec');
	open = path.join(folder, 'open.gbrec');
	brief = path.join(folder, 'brief.gbrec');
	await Promise.all([
		runCli(['simulate', '-o', healthy, '--script', everything, '--for', '28s', '--seed', '3']),
		runCli(['simulate', '-o', fingers, '--script', 'rest 1s, fist 5x', '--for', '20s', '--seed', '3']),
		runCli(['simulate', '-o', open, '--for', '25s', '--seed', '3', '--fault', 'floating-input:ring']),
		runCli(['simulate', '-o', brief, '--for', '3s', '--seed', '3']),
	]);
});

afterAll(() => rmSync(folder, {recursive: true}));

describe('glovebench', () => {
	it('prints its version and its help, and how to get it when nothing was asked', async () => {
		expect(await runCli(['--version'])).toEqual({status: 0, stdout: `${manifest.version}\n`, stderr: ''});
		const help = await runCli(['--help']);
		expect(help).toMatchObject({status: 0, stderr: ''});
		for (const {name} of commandTable) expect(help.stdout).toMatch(new RegExp(`^  ${name} `, 'm'));
		expect(await runCli([])).toEqual({status: 2, stdout: '', stderr: help.stdout});
	});

	it('explains each command with its options and examples, in 80 columns', async () => {
		await Promise.all(
			commandTable.map(async ({name, options, examples}) => {
				const {status, stdout} = await runCli([name, '--help']);
				expect(status).toBe(0);
				for (const option of options) expect(stdout, name).toMatch(new RegExp(`--(no-)?${option}\\b`));
				for (const {line} of examples) expect(stdout).toContain(line);
				for (const line of stdout.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
			}),
		);
	});

	it('ends with 0 where nothing was found and 1 where something was', async () => {
		const [good, bad] = await Promise.all([runCli(['check', healthy]), runCli(['check', open])]);
		expect(good).toMatchObject({status: 0, stderr: ''});
		expect(good.stdout).toMatch(/^PASS: /);
		expect(bad).toMatchObject({status: 1, stderr: ''});
		expect(bad.stdout).toMatch(/^FAIL: /);
		expect(bad.stdout).toContain('ring: floating-input (failure)');
	});

	it('ends with 0 where something is left to prove, and with 1 where proof was asked for', async () => {
		const runs = [healthy, fingers].map(file => runCli(['check', file, '--proven']));
		const [proven, left, lenient] = await Promise.all([...runs, runCli(['check', fingers])]);
		expect(proven.status).toBe(0);
		for (const {stdout} of [left, lenient]) expect(stdout).toMatch(/^UNPROVEN: .*not yet proven: stick-x/);
		expect([left.status, lenient.status]).toEqual([1, 0]);
	});

	it.each([
		[['chek', 'a'], /Unknown command "chek"\. Did you mean check\?/],
		[['check', 'no-such-file.txt'], /no-such-file\.txt/],
		[['check', '.'], /folder/],
		[['check', 'x', '--baud', 'fast'], /--baud must not be "fast": it takes a whole number such as 115200, or auto\./],
		[['check', 'x', '--json', '--markdown'], /--json and --markdown exclude each other/],
		[['check', 'tcp://127.0.0.1:1'], /127\.0\.0\.1:1/],
		[['check', 'x', '--sheet', 'no-such.toml'], /no-such\.toml/],
		[['attach', 'COM5'], /terminal/],
		[['explain', 'floating'], /Did you mean floating-input/],
	])('%j ends with 2 and one line that says why', async (argv, words) => {
		const {status, stdout, stderr} = await runCli(argv);
		expect(stdout).toBe('');
		expect(stderr).toMatch(words);
		expect(stderr.match(/\n/g)).toHaveLength(1);
		expect(stderr).toMatch(/^glovebench: /);
		expect(status).toBe(2);
	});

	it('says one clear line about an empty file and about a picture', async () => {
		const empty = path.join(folder, 'empty.txt');
		const picture = path.join(folder, 'picture.txt');
		writeFileSync(empty, '');
		writeFileSync(picture, Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex'));
		for (const file of [empty, picture]) {
			const {status, stderr} = await runCli(['check', file]);
			expect(stderr.match(/\n/g), file).toHaveLength(1);
			expect(status, file).toBe(2);
		}
	});

	it('reads standard input to its end', async () => {
		const frames = await runCli(['simulate', '--fast', '--for', '5s']);
		const {status, stdout} = await runCli(['check', '-', '--json'], {input: frames.stdout});
		expect(JSON.parse(stdout).source.kind).toBe('stdin');
		expect(JSON.parse(stdout).link.frames).toBeGreaterThan(450);
		expect(status).toBeLessThanOrEqual(1);
	});

	it('keeps quiet when its reader has gone', async () => {
		const child = startCli(['simulate', '--fast', '--for', '10m'], {stdio: ['ignore', 'pipe', 'pipe']});
		let stderr = '';
		child.stderr?.on('data', text => {
			stderr += text;
		});
		child.stdout?.once('data', () => child.stdout?.destroy());
		const status = await new Promise(resolve => child.on('close', resolve));
		expect(stderr).toBe('');
		expect(status).toBe(0);
	});

	it('says that standard output is full', async () => {
		const {openSync, closeSync} = await import('node:fs');
		const full = openSync('/dev/full', 'w');
		const {status, stderr} = await runCli(['explain', '--all'], {stdio: ['ignore', full, 'pipe']});
		closeSync(full);
		expect(stderr).toMatch(/^glovebench: Cannot write to standard output: .*\n$/);
		expect(status).toBe(2);
	});

	it('colours where asked to, and not where told not to (no-color.org)', async () => {
		const sequence = '\u001b[';
		const forced = await runCli(['check', brief], {env: {FORCE_COLOR: '1'}});
		expect(forced.stdout).toContain(sequence);
		for (const [argv, env] of [
			[['check', brief], {}],
			[['check', brief], {NO_COLOR: '1', FORCE_COLOR: '1'}],
			[['check', brief, '--no-color'], {FORCE_COLOR: '1'}],
			[['check', brief], {FORCE_COLOR: '0'}],
		] as const) {
			const {stdout, stderr} = await runCli(argv, {env});
			expect(stdout, JSON.stringify(env)).not.toContain(sequence);
			expect(stderr).toBe('');
		}

		const unset = await runCli(['check', brief], {env: {NO_COLOR: '', FORCE_COLOR: '1'}});
		expect(unset.stdout).toContain(sequence);
	});

	it('calls a defect a defect, and shows where only when asked', async () => {
		// A preloaded module breaks JSON for the program, as no input can.
		const breakage = path.join(folder, 'break.mjs');
		writeFileSync(breakage, 'JSON.stringify = () => { throw new TypeError("broken on purpose"); };');
		const env = {NODE_OPTIONS: `--import=${breakage}`};
		const quiet = await runCli(['explain', '--json'], {env});
		expect(quiet.status).toBe(2);
		const [what, system, place, ...more] = quiet.stderr.trimEnd().split('\n');
		expect(what).toBe('glovebench: this is a defect in glovebench: TypeError: broken on purpose.');
		expect(system).toMatch(/^ {2}glovebench \d+\.\d+\.\d+, Node \d+\.\d+\.\d+, \w+ \w+$/);
		expect(place).toMatch(/^ {2}in JSON\.stringify break\.mjs:1:\d+$/);
		expect(more.at(-1)).toMatch(/^ {2}Please report these lines .*GLOVEBENCH_DEBUG=1 shows more\.$/);
		expect(quiet.stderr).not.toContain(folder);
		const debug = await runCli(['explain', '--json'], {env: {...env, GLOVEBENCH_DEBUG: '1'}});
		expect(debug.stderr).toMatch(/\n {4}at /);
	});
});
