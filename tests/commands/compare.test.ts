import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {type CompareOptions, compareCommand} from '../../source/commands/compare.ts';
import {simulateCommand} from '../../source/commands/simulate.ts';

const folder = mkdtempSync(join(tmpdir(), 'compare-'));
const good = join(folder, 'good.gbrec');
const bad = join(folder, 'bad.gbrec');
afterAll(() => rmSync(folder, {recursive: true}));

function capture() {
	const stdout = new PassThrough();
	return {
		io: {stdin: new PassThrough(), stdout, stderr: new PassThrough(), signal: new AbortController().signal},
		stdout,
	};
}

beforeAll(async () => {
	await simulateCommand({output: good, for: 30, seed: 5}, capture().io);
	await simulateCommand({output: bad, for: 30, seed: 5, fault: ['floating-input:ring']}, capture().io);
});

async function compare(options: CompareOptions) {
	const {io, stdout} = capture();
	const status = await compareCommand(options, io);
	await new Promise(resolve => setImmediate(resolve));
	return {status, text: String(stdout.read() ?? '')};
}

describe('compare', () => {
	it('resolves to 0 where the second recording is sound, to 1 where it is not', async () => {
		const mended = await compare({a: bad, b: good});
		expect(mended.text).toMatch(/^BETTER: /);
		expect(mended.status).toBe(0);
		// Both sides say what could not be judged.
		expect(mended.text.match(/^ {3}Not judged yet: /gm)).toHaveLength(2);
		const broken = await compare({a: good, b: bad});
		expect(broken.text).toMatch(/^WORSE: "wiper wire open" on ring is new in B/);
		expect(broken.status).toBe(1);
	});

	it('prints JSON, Markdown, and plain ASCII', async () => {
		expect(JSON.parse((await compare({a: bad, b: good, json: true})).text).verdict.word).toBe('better');
		expect((await compare({a: bad, b: good, markdown: true})).text).toMatch(/^\*\*BETTER\*\*: /);
		expect((await compare({a: bad, b: good, ascii: true})).text).toMatch(/^[\n -~]+$/);
	});

	it('says what it cannot do', async () => {
		await expect(compare({a: bad, b: good, json: true, markdown: true})).rejects.toThrow('exclude each other');
		await expect(compare({a: bad, b: join(folder, 'missing.gbrec')})).rejects.toThrow(/missing\.gbrec/);
		await expect(compare({a: '-', b: '-'})).rejects.toThrow('Standard input can be one of the two only');
	});
});
