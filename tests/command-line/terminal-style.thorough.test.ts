import {join} from 'node:path';
import {afterAll, describe, expect, it} from 'vitest';
import {cliPath} from '../cli/run-cli.ts';
import {ProgramOnScreen} from '../screen/program-on-screen.ts';

describe.skipIf(process.platform === 'win32')('a report and the dashboard on one terminal', () => {
	const recording = join(import.meta.dirname, '../../recordings/dropout.gbrec');
	const programs: ProgramOnScreen[] = [];
	afterAll(() => {
		for (const program of programs) program.dispose();
	});

	/** Whether each has colour (SGR 30–37, 38, 90–97 or backgrounds of them) and anything beyond ASCII. */
	async function look(env: Readonly<Record<string, string>>) {
		const results = [];
		for (const args of [
			['check', recording],
			// Where a finding is open, which is shown in colour.
			['replay', recording, '--at', '20s', '--hold'],
		]) {
			// The pseudo-terminals of the tests set TERM themselves.
			const settings = Object.entries(env).map(([name, value]) => `${name}=${value}`);
			const program = new ProgramOnScreen('/usr/bin/env', [...settings, process.execPath, cliPath, ...args]);
			programs.push(program);
			if (args[0] === 'replay') {
				await program.until(/DO FIRST +ring/);
				program.send('q');
			}

			await program.exited;
			results.push({
				coloured: /\u001B\[(?:[0-9;]*;)?(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])(?:;[0-9;]*)?m/.test(program.raw),
				ascii: !/[^\x00-\x7F]/.test(program.raw),
			});
		}

		return results;
	}

	it.each([
		[{NO_COLOR: ''}, true, false],
		[{NO_COLOR: '1'}, false, false],
		[{CLICOLOR_FORCE: '1'}, true, false],
		[{LC_ALL: 'C'}, true, true],
		[{TERM: 'linux'}, true, true],
	])('look alike under %o', async (env, coloured, ascii) => {
		expect(await look(env as unknown as Record<string, string>)).toEqual([
			{coloured, ascii},
			{coloured, ascii},
		]);
	});
});
