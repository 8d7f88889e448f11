import {join} from 'node:path';
import {afterAll, describe, expect, it} from 'vitest';
import {sizeFrom, wantsAscii, wantsColor} from '../../source/command-line/terminal-style.ts';
import {cliPath} from '../cli/run-cli.ts';
import {ProgramOnScreen} from '../screen/program-on-screen.ts';

describe('wantsColor', () => {
	it('takes an empty NO_COLOR for none, and lets one that is set win over what forces colour', () => {
		expect(wantsColor(true, {NO_COLOR: ''}, true)).toBe(true);
		expect(wantsColor(true, {NO_COLOR: '0', FORCE_COLOR: '1', CLICOLOR_FORCE: '1'}, true)).toBe(false);
	});

	it('is forced by CLICOLOR_FORCE unless it is 0, also without a terminal and on a dumb one', () => {
		expect(wantsColor(true, {CLICOLOR_FORCE: '1'}, false)).toBe(true);
		expect(wantsColor(true, {CLICOLOR_FORCE: '1', TERM: 'dumb'}, true)).toBe(true);
		expect(wantsColor(true, {CLICOLOR_FORCE: '0'}, false)).toBe(false);
		expect(wantsColor(true, {CLICOLOR_FORCE: ''}, false)).toBe(false);
		expect(wantsColor(true, {CLICOLOR_FORCE: '1', FORCE_COLOR: '0'}, true)).toBe(false);
		expect(wantsColor(false, {CLICOLOR_FORCE: '1'}, true)).toBe(false);
	});
});

describe('wantsAscii', () => {
	it('asks the locale and the kind of a terminal, and of a file nothing', () => {
		expect(wantsAscii(false, {TERM: 'xterm', LC_ALL: 'C', LANG: 'en_GB.UTF-8'}, true)).toBe(true);
		expect(wantsAscii(false, {TERM: 'linux', LANG: 'en_GB.UTF-8'}, true)).toBe(true);
		expect(wantsAscii(false, {TERM: 'xterm', LANG: 'en_GB.UTF-8'}, true)).toBe(false);
		expect(wantsAscii(false, {TERM: 'linux', LC_ALL: 'C'}, false)).toBe(false);
		expect(wantsAscii(true, {}, false)).toBe(true);
	});
});

describe('sizeFrom', () => {
	it('takes a whole number from 1 on and nothing else', () => {
		expect(['100', '0', '', '-1', '80x24', '12345', undefined].map(sizeFrom)).toEqual([100, ...Array(6)]);
	});
});

describe.skipIf(process.platform === 'win32')('a report and the dashboard on one terminal', () => {
	const recording = join(import.meta.dirname, '../../recordings/dropout.gbrec');
	const programs: ProgramOnScreen[] = [];
	afterAll(() => {
		for (const program of programs) program.dispose();
	});

	it('are as wide as COLUMNS says, whatever the terminal is, also after it changed its size', async () => {
		const run = (...args: string[]) => {
			const program = new ProgramOnScreen('/usr/bin/env', ['COLUMNS=70', process.execPath, cliPath, ...args], {
				columns: 100,
			});
			programs.push(program);
			return program;
		};
		const check = run('check', recording);
		await check.exited;
		const widest = Math.max(...check.lines.map(line => line.length));
		expect(widest).toBeGreaterThan(60);
		expect(widest).toBeLessThanOrEqual(70);
		const replay = run('replay', recording, '--at', '20s', '--hold');
		await replay.until(/DO FIRST +ring/);
		const width = () => Math.max(...replay.lines.map(line => line.length));
		expect(width()).toBeGreaterThan(60);
		expect(width()).toBeLessThanOrEqual(70);
		replay.resize(100, 30);
		replay.send('f');
		await replay.until('open first');
		expect(width()).toBeLessThanOrEqual(70);
		replay.send('q');
		await replay.exited;
	});
});
