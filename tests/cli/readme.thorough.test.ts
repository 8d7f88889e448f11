import {spawnSync} from 'node:child_process';
import {mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {examplesOf, matches} from './documented-commands.ts';
import {cliPath} from './run-cli.ts';

const root = path.dirname(path.dirname(cliPath));
const readme = readFileSync(path.join(root, 'README.md'), 'utf8');

const examples = examplesOf(readme);

let folder: string;

beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'glovebench-readme-'));
	mkdirSync(path.join(folder, 'bin'));
	symlinkSync(cliPath, path.join(folder, 'bin', 'glovebench'));
});

afterAll(() => rmSync(folder, {recursive: true}));

describe('the README', () => {
	// One after the other: later ones use the files of earlier ones.
	it.each(examples)('$line prints what is shown', ({line, shown}) => {
		const {stdout, stderr, status} = spawnSync('bash', ['-c', line], {
			cwd: folder,
			encoding: 'utf8',
			env: {PATH: `${path.join(folder, 'bin')}:${path.dirname(process.execPath)}:/usr/bin:/bin`},
		});
		expect(status, stderr).toBeLessThanOrEqual(1);
		if (shown.length > 0) expect(matches(stdout, shown), stdout.slice(0, 2000)).toBe(true);
	});
});
