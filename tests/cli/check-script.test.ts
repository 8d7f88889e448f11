import {readFileSync} from 'node:fs';
import path from 'node:path';
import {pathToFileURL} from 'node:url';
import {expect, test} from 'vitest';
import {loadCheckScript} from '../../source/command-line/check-script.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {cliPath, runCli} from './run-cli.ts';
import {stillLog} from './still-log.ts';

const dist = path.dirname(cliPath);
const folder = testFolder();
const sample = folder.write('glove.csv', stillLog);

test('the code that the build made of check is taken by the Node that built it', () => {
	expect(loadCheckScript(pathToFileURL(cliPath).href)?.isCompiled).toBe(true);
});

test('without the script the whole program is loaded instead', async () => {
	expect(loadCheckScript(pathToFileURL(folder.at('cli.js')).href)).toBeUndefined();
	expect((await runCli(['check', sample, '--json'])).status).toBe(0);
});

test('imports nothing: a script that is compiled already has nobody to do it', () => {
	expect(readFileSync(path.join(dist, 'check.cjs'), 'utf8')).not.toMatch(/\bimport\(/);
});
