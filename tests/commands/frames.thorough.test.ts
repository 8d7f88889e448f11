import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, beforeAll, describe, expect, test} from 'vitest';
import {type FramesOptions, framesCommand} from '../../source/commands/frames.ts';

let folder: string;
beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'glovebench-frames-'));
});
afterAll(() => rmSync(folder, {recursive: true}));

const at = (name: string): string => path.join(folder, name);

async function run(options: FramesOptions, stdin = new PassThrough()) {
	const stdout = new PassThrough();
	const stderr = new PassThrough();
	let out = '';
	let talk = '';
	stdout.on('data', data => void (out += data));
	stderr.on('data', data => void (talk += data));
	const status = await framesCommand(options, {stdin, stdout, stderr, signal: new AbortController().signal});
	await new Promise(resolve => setImmediate(resolve));
	return {status, out, talk};
}

/** Lines of a glove with a counter, as a board prints them. */
const boardLines = Array.from({length: 300}, (_, i) => {
	const bend = Math.round(300 + 200 * Math.sin(i / 20));
	return `${bend},${bend + 11},${bend + 5},${bend + 40},${bend + 23},${511 + ((i * i) % 3)},${510 + ((i * i) % 5)},1,0,${i}`;
});

describe('frames', () => {
	test('comma to ndjson and back gives the same lines, and so does every other form', async () => {
		const log = `${boardLines.join('\n')}\n`;
		writeFileSync(at('board.txt'), log);
		for (const form of ['ndjson', 'csv', 'tsv', 'labels'] as const) {
			await run({source: at('board.txt'), format: form, output: at(`x.${form}`), force: true});
			const back = await run({source: at(`x.${form}`), format: 'comma'});
			expect(back.out, form).toBe(log);
		}
	});
});
