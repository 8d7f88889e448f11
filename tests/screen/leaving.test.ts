import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, afterEach, beforeAll, describe, expect, it} from 'vitest';
import {cliPath} from '../cli/run-cli.ts';
import {playGlove, recordingText} from '../dashboard/play-glove.ts';
import {glovebench, ProgramOnScreen} from './program-on-screen.ts';

let folder: string;
let program: ProgramOnScreen;
const replay = ['replay', 'left.gbrec', '--hold'];

beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'leaving-'));
	writeFileSync(path.join(folder, 'left.gbrec'), recordingText(playGlove({seconds: 3})));
});

afterAll(() => rmSync(folder, {recursive: true}));
afterEach(() => program.dispose());

describe('the terminal is as it was', () => {
	it.each([
		['q', 0],
		['\u0003', 130],
	])('but for a summary after the key %j, exit status %i', async (key, status) => {
		program = glovebench(replay, {cwd: folder});
		await program.until('q quit');
		expect(program.onAlternateScreen).toBe(true);
		expect(program.cursorShown).toBe(false);
		program.send(key);
		expect(await program.exited).toBe(status);
		expect(program.onAlternateScreen).toBe(false);
		expect(program.cursorShown).toBe(true);
		expect(program.text).toMatch(/^UNPROVEN: N/);
		expect(program.text).not.toContain('q quit');
	});

	// 128 and the signal's number, as shells report it (POSIX).
	it.each([
		['SIGTERM', 143],
		['SIGINT', 130],
		['SIGHUP', 129],
	] as const)('after %s, exit status %i', async (signal, status) => {
		program = glovebench(replay, {cwd: folder});
		await program.until('q quit');
		program.kill(signal);
		expect(await program.exited).toBe(status);
		expect(program.onAlternateScreen).toBe(false);
		expect(program.cursorShown).toBe(true);
	});

	it('in its input modes too', async () => {
		const line = `stty -g > before; '${process.execPath}' '${cliPath}' ${replay.join(' ')}; stty -g > after; cmp before after && echo the same`;
		program = new ProgramOnScreen('/bin/sh', ['-c', line], {cwd: folder});
		await program.until('q quit');
		program.send('q');
		await program.until('the same');
		expect(await program.exited).toBe(0);
	});

	it('while it is suspended with Ctrl-Z, and taken again with fg', async () => {
		program = new ProgramOnScreen('/bin/bash', ['--norc', '--noprofile', '-i'], {cwd: folder, env: {PS1: 'shell> '}});
		await program.until('shell>');
		program.send(`'${process.execPath}' '${cliPath}' ${replay.join(' ')}\r`);
		await program.until('q quit');
		program.send('\u001A');
		await program.until('Stopped');
		expect(program.onAlternateScreen).toBe(false);
		expect(program.cursorShown).toBe(true);
		program.send('fg\r');
		await program.until('q quit');
		expect(program.onAlternateScreen).toBe(true);
		program.send('?');
		await program.until('this list');
		program.send('q');
		await program.until(text => /shell> $/.test(`${text} `) && !text.includes('this list'));
		expect(program.onAlternateScreen).toBe(false);
	});
});

it('says in one line, without drawing, why a recording cannot be shown', async () => {
	program = glovebench(['replay', 'nothing.gbrec'], {cwd: folder});
	expect(await program.exited).toBe(2);
	expect(program.text).toMatch(/^glovebench: nothing\.gbrec is not there/);
	expect(program.raw).not.toContain('\u001B[?1049h');
});
