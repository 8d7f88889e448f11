import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {type CheckOptions, checkCommand} from '../../source/commands/check.ts';
import {compareCommand} from '../../source/commands/compare.ts';
import {fitCommand} from '../../source/commands/fit.ts';
import {simulateCommand} from '../../source/commands/simulate.ts';
import {expectToKeepTo} from '../report/published-schema.ts';

let folder: string;
let file: string;

beforeAll(async () => {
	folder = mkdtempSync(path.join(tmpdir(), 'glovebench-check-'));
	file = path.join(folder, 'open.gbrec');
	const {io} = capture();
	await simulateCommand({output: file, for: 25, seed: 3, fault: ['floating-input:ring', 'stray-text']}, io);
});

afterAll(() => rmSync(folder, {recursive: true}));

function capture(signal = new AbortController().signal) {
	const stdout = new PassThrough();
	const stderr = new PassThrough();
	const written: string[] = [];
	stdout.setEncoding('utf8').on('data', text => written.push(text));
	const talk: string[] = [];
	stderr.setEncoding('utf8').on('data', text => talk.push(text));
	return {io: {stdin: new PassThrough(), stdout, stderr, signal}, written, talk};
}

async function check(options: Omit<CheckOptions, 'source'> & {source?: string} = {}) {
	const {io, written, talk} = capture();
	const status = await checkCommand({source: file, ...options}, io);
	// Both streams hand over what they hold on the next turn.
	await new Promise(resolve => setImmediate(resolve));
	return {status, stdout: written.join(''), writes: written, stderr: talk.join('')};
}

describe('check', () => {
	it('says of a recording that breaks off that it does, in every form', async () => {
		const cut = path.join(folder, 'cut.gbrec');
		writeFileSync(cut, readFileSync(file, 'utf8').slice(0, 60_000));
		const page = path.join(folder, 'cut.html');
		const text = await check({source: cut, html: page});
		expect(text.stdout.replaceAll('\n', ' ')).toMatch(
			/It is not whole: the file ends in the middle of a line at line \d+\./,
		);
		expect(readFileSync(page, 'utf8')).toMatch(/It is not whole: the file ends/);
		expect((await check({source: cut, markdown: true})).stdout).toMatch(/It is not whole: the file ends/);
		expect((await check({source: cut, reply: true})).stdout).toContain('It is not whole');
		expect(JSON.parse((await check({source: cut, json: true})).stdout).source.cut).toBe(true);
		const events = (await check({source: cut, follow: true, json: true})).stdout.trimEnd().split('\n');
		expect(JSON.parse(events.at(-1)!)).toMatchObject({event: 'end', cut: true});
		const {io, written} = capture();
		await compareCommand({a: file, b: cut, json: true}, io);
		await compareCommand({a: file, b: cut}, io);
		await compareCommand({a: file, b: cut, markdown: true}, io);
		await fitCommand({source: cut}, io);
		await fitCommand({source: cut, header: true}, io);
		await fitCommand({source: cut, json: true}, io);
		await new Promise(resolve => setImmediate(resolve));
		const said = written.map(one => one.replaceAll(/\s+/g, ' '));
		const compared = JSON.parse(written[0]);
		expectToKeepTo('compare', compared);
		expect([compared.a.cut, compared.b.cut]).toEqual(['', expect.stringMatching(/^It is not whole: /)]);
		for (const one of said.slice(1, 3)) expect(one).toContain('It is not whole: the file ends');
		for (const one of said.slice(3, 5)) expect(one).toContain('The recording is not whole');
		expect(JSON.parse(written[5]).cut).toBe(true);
	});
});
