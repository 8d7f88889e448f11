import {type ChildProcess, spawn, spawnSync} from 'node:child_process';
import {copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {setTimeout as wait} from 'node:timers/promises';
import {spawn as spawnOnTerminal} from '@lydell/node-pty';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {examplesOf, matches} from './documented-commands.ts';
import {cliPath, startCli} from './run-cli.ts';

const root = path.dirname(path.dirname(cliPath));
export const page = readFileSync(path.join(root, 'docs/stories.md'), 'utf8');
export const [, ...stories] = page.split(/^## /m);

let folder: string;
let glove: ChildProcess;
let address: string;
const environment = () => ({
	PATH: `${path.join(folder, 'bin')}:${path.dirname(process.execPath)}:/usr/bin:/bin`,
	TERM: 'xterm',
	LANG: 'C.UTF-8',
});

/** Where the stories are told, and what a command there sees. */
export const stage = () => ({cwd: folder, env: environment()});

/** The command as the test can run it: a simulated glove in the port's place, a second in that of a minute or an hour. */
export const runnable = (line: string): string =>
	line
		.replaceAll(/\/dev\/tty\w+/g, address)
		.replaceAll(/--rotate \w+/g, '--rotate 1s')
		.replace(/(?<=glovebench (?:record|check) .*)--for \w+/, '--for 1s');

/** Runs a command that draws a screen, until its keys are on it; then `q`. */
async function onTerminal(line: string, cwd: string): Promise<{status: number; text: string}> {
	const terminal = spawnOnTerminal('/bin/bash', ['-c', line], {cols: 100, rows: 30, cwd, env: environment()});
	let text = '';
	let asked = false;
	terminal.onData(data => {
		text += data;
		if (!asked && /\bq quit/.test(text.replaceAll(/\u001b\[[\d;?]*[A-Za-z]/g, ''))) {
			asked = true;
			terminal.write('q');
		}
	});
	return new Promise(resolve => terminal.onExit(({exitCode}) => resolve({status: exitCode, text})));
}

/** Runs what goes on in the background until it has begun its second file; then ends it in order. */
export async function inBackground(line: string, cwd: string, second: () => boolean): Promise<number | null> {
	const child = spawn('bash', ['-c', `exec ${line.replace(/ &$/, '')}`], {cwd, env: environment()});
	const over = new Promise<number | null>(resolve => child.on('close', resolve));
	while (!second() && child.exitCode === null) await wait(20);
	// A file without one frame in it would be no recording to check.
	await wait(300);
	child.kill('SIGTERM');
	return over;
}

/** Runs the commands of the stories with these beginnings, one after the other: later ones use the files of earlier ones. */
export function testStories(beginnings: readonly string[]): void {
	beforeAll(async () => {
		folder = mkdtempSync(path.join(tmpdir(), 'glovebench-stories-'));
		mkdirSync(path.join(folder, 'bin'));
		symlinkSync(cliPath, path.join(folder, 'bin', 'glovebench'));
		glove = startCli(['simulate', '--listen', '0']);
		address = await new Promise<string>(resolve => {
			glove.stderr!.setEncoding('utf8').on('data', text => {
				const found = /tcp:\/\/[\d.]+:\d+/.exec(text);
				if (found) resolve(found[0]);
			});
		});
	});

	afterAll(() => {
		glove.kill();
		rmSync(folder, {recursive: true});
	});

	const told = stories.map(story => ({name: story.split(':')[0], story})).filter(({name}) => beginnings.includes(name));
	describe.each(told)('$name', ({name, story}) => {
		const cwd = () => path.join(folder, name.replaceAll(' ', '-'));
		beforeAll(() => mkdirSync(cwd()));

		it.each(examplesOf(story))('$line', async ({line, shown}) => {
			const command = runnable(line);
			if (/glovebench (?:attach|bringup) /.test(line)) {
				const {status, text} = await onTerminal(command, cwd());
				expect(status, text.slice(-2000)).toBeLessThanOrEqual(1);
			} else if (line.endsWith(' &')) {
				const second = path.join(cwd(), 'night-2.gbrec.gz');
				expect(await inBackground(command, cwd(), () => existsSync(second))).toBe(143);
			} else {
				const {stdout, stderr, status} = spawnSync('bash', ['-c', command], {
					cwd: cwd(),
					encoding: 'utf8',
					env: environment(),
				});
				expect(status, stderr).toBeLessThanOrEqual(1);
				if (shown.length > 0) expect(matches(stdout, shown), stdout.slice(0, 2000)).toBe(true);
			}

			// A second of play is no minute of it: what follows is about a sample of a minute's.
			if (/^glovebench record .* -o fox-left\.gbrec/.test(line))
				copyFileSync(path.join(root, 'recordings/healthy.gbrec'), path.join(cwd(), 'fox-left.gbrec'));
		});
	});
}
