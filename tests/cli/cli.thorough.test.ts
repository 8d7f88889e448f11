import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
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
	await runCli(['simulate', '-o', healthy, '--script', everything, '--for', '28s', '--seed', '3']);
	await runCli(['simulate', '-o', fingers, '--script', 'rest 1s, fist 5x', '--for', '20s', '--seed', '3']);
	await runCli(['simulate', '-o', open, '--for', '25s', '--seed', '3', '--fault', 'floating-input:ring']);
	await runCli(['simulate', '-o', brief, '--for', '3s', '--seed', '3']);
});

afterAll(() => rmSync(folder, {recursive: true}));

describe('glovebench', () => {
	it.each([
		['SIGINT', 130],
		['SIGTERM', 143],
	] as const)('ends a followed source in order at %s, with status %i', async (signal, expected) => {
		const child = startCli(['check', '-', '--follow', '--json'], {stdio: ['pipe', 'pipe', 'pipe']});
		let stdout = '';
		let stderr = '';
		// Its first line shows that it is up.
		const isUp = new Promise(resolve => child.stdout?.once('data', resolve));
		child.stdout?.on('data', text => {
			stdout += text;
		});
		child.stderr?.on('data', text => {
			stderr += text;
		});
		await isUp;
		child.kill(signal);
		const status = await new Promise(resolve => child.on('close', resolve));
		const events = stdout
			.trimEnd()
			.split('\n')
			.map(line => JSON.parse(line).event);
		expect(events.at(0)).toBe('start');
		expect(events.at(-1)).toBe('end');
		// Nothing came meanwhile, which is said as without --follow; what was asked for is to end.
		expect(stderr).toMatch(/^glovebench: Nothing came from -: .*\n$/);
		expect(status).toBe(expected);
	});
});
