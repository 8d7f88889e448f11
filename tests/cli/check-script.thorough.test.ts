import {cpSync, mkdtempSync, readFileSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import {pathToFileURL} from 'node:url';
import {expect, test} from 'vitest';
import {loadCheckScript} from '../../source/command-line/check-script.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {openPseudoPort} from '../sources/pseudo-port.ts';
import {cliPath, runCli} from './run-cli.ts';
import {stillLog} from './still-log.ts';

const dist = path.dirname(cliPath);
const folder = testFolder();
const sample = folder.write('glove.csv', stillLog);

/** A copy of the script with other code beside it; without any where `code` is left out. */
function withCode(code?: Uint8Array): string {
	const copy = mkdtempSync(folder.at('copy-'));
	cpSync(path.join(dist, 'check.cjs'), path.join(copy, 'check.cjs'));
	if (code !== undefined) writeFileSync(path.join(copy, 'check.code'), code);
	return pathToFileURL(path.join(copy, 'cli.js')).href;
}

async function reportOf(url: string): Promise<string> {
	const script = loadCheckScript(url);
	let text = '';
	const stdout = {write: (written: string) => (text += written) !== ''} as unknown as NodeJS.WriteStream;
	const io = {stdin: process.stdin, stdout, stderr: stdout, signal: new AbortController().signal};
	expect(await script?.checkCommand({source: sample, json: true}, io)).toBe(0);
	return text;
}

test('code of another V8 is thrown away, and the findings are the same', async () => {
	const code = readFileSync(path.join(dist, 'check.code'));
	const other = Uint8Array.from(code, (byte, i) => (i < 16 ? byte ^ 0x5a : byte));
	const damaged = withCode(other);
	expect(loadCheckScript(damaged)?.isCompiled).toBe(false);
	const report = await reportOf(pathToFileURL(cliPath).href);
	expect(await reportOf(damaged)).toBe(report);
	expect(await reportOf(withCode())).toBe(report);
});

test.skipIf(process.platform === 'win32')('reads a port as well', async () => {
	const port = openPseudoPort();
	let n = 0;
	const sending = setInterval(() => port.send(`${500 + (n++ % 3)},498,473,511,530\r\n`), 10);
	const {status, stdout, stderr} = await runCli(['check', port.path, '--for', '1s', '--json']);
	clearInterval(sending);
	await port.unplug();
	expect(status, stderr).toBe(0);
	expect(JSON.parse(stdout)).toMatchObject({source: {kind: 'serial'}, verdict: 'unproven'});
});
