import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {pathToFileURL} from 'node:url';
import {afterAll, expect, test} from 'vitest';
import {loadCheckScript} from '../../source/command-line/check-script.ts';
import {cliPath, runCli} from './run-cli.ts';

const dist = path.dirname(cliPath);
const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-script-'));
afterAll(() => rmSync(folder, {recursive: true, force: true}));
const sample = path.join(folder, 'glove.csv');
writeFileSync(sample, Array.from({length: 600}, (_, n) => `${500 + (n % 7)},400,${512 + (n % 3)},0,510\r\n`).join(''));

test('the code that the build made of check is taken by the Node that built it', () => {
	expect(loadCheckScript(pathToFileURL(cliPath).href)?.isCompiled).toBe(true);
});

test('without the script the whole program is loaded instead', async () => {
	expect(loadCheckScript(pathToFileURL(path.join(folder, 'cli.js')).href)).toBeUndefined();
	expect((await runCli(['check', sample, '--json'])).status).toBe(0);
});

test('imports nothing: a script that is compiled already has nobody to do it', () => {
	expect(readFileSync(path.join(dist, 'check.cjs'), 'utf8')).not.toMatch(/\bimport\(/);
});
