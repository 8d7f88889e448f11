import {existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {Ajv2020} from 'ajv/dist/2020.js';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {type CheckOptions, checkCommand} from '../../source/commands/check.ts';
import {simulateCommand} from '../../source/commands/simulate.ts';

const schema = JSON.parse(readFileSync(new URL('../../docs/check.schema.json', import.meta.url), 'utf8'));
const ajv = new Ajv2020({allErrors: true, strict: true, allowUnionTypes: true});
const isCheck = ajv.compile(schema);
ajv.addSchema({...schema, $id: 'events'}, 'events');
const isEvent = ajv.compile({$ref: 'events#/$defs/followEvent'});

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
	it('prints the report for people, and resolves to 1 where something was found', async () => {
		const {status, stdout, stderr} = await check();
		expect(stdout).toMatch(/^FAIL: 1 failure/);
		expect(stdout).toContain('ring: floating-input (failure)');
		expect(stderr).toBe('');
		expect(status).toBe(1);
	});

	it('prints the same findings as JSON that keeps to its schema', async () => {
		const {status, stdout} = await check({json: true});
		const json = JSON.parse(stdout);
		isCheck(json);
		expect(isCheck.errors).toBeNull();
		expect(json).toMatchObject({
			schema: 1,
			source: {kind: 'recording', name: file, timing: 'measured'},
			verdict: 'fail',
		});
		const codes = json.findings.map(({code, channel}: {code: string; channel: string | null}) => `${channel} ${code}`);
		expect(codes).toContain('ring floating-input');
		expect(codes).toContain('null stray-text');
		const times = json.findings.map(({flaggedAt}: {flaggedAt: number}) => flaggedAt);
		expect(times).toEqual([...times].sort((a, b) => a - b));
		expect(status).toBe(1);
	});

	it('prints byte for byte the same on every run', async () => {
		expect((await check({json: true})).stdout).toBe((await check({json: true})).stdout);
	});

	it('prints Markdown that fits a chat message, and all of it with --full', async () => {
		const short = await check({markdown: true});
		expect(short.stdout).toMatch(/^\*\*FAIL\*\*: /);
		expect(short.stdout.length).toBeLessThanOrEqual(2000);
		const full = await check({markdown: true, full: true});
		expect(full.stdout).toContain('Evidence: ');
	});

	it('writes the page besides the report', async () => {
		const html = path.join(folder, 'report.html');
		const {stdout} = await check({html});
		expect(stdout).toMatch(/^FAIL: /);
		const page = readFileSync(html, 'utf8');
		expect(page.startsWith('<!doctype html>')).toBe(true);
		expect(page.includes('ring: floating-input')).toBe(true);
	});

	it.each([
		[
			'a folder that is not there',
			() => path.join(folder, 'no', 'report.html'),
			/Cannot write .*: there is no such folder/,
		],
		['a folder', () => folder, /Cannot write .*: it is a folder/],
		['standard output', () => '-', /The page alone on standard output: glovebench report FILE -o -$/],
		['a full disk', () => '/dev/full', /Cannot write \/dev\/full: the disk is full/],
	])('says why the page could not be written into %s', async (_, html, words) => {
		await expect(check({html: html()})).rejects.toThrow(words);
	});

	it('says that it cannot check what has no frame in it, instead of passing it', async () => {
		const letter = path.join(folder, 'letter.txt');
		writeFileSync(letter, 'Dear helper,\nmy glove does not work.\n'.repeat(20));
		const html = path.join(folder, 'letter.html');
		await expect(check({source: letter, html})).rejects.toThrow(
			'letter.txt has no frame in it: 740 bytes came, and no lines of readings among them (it begins “Dear helper,”). If these are readings, say how they are written with --layout.',
		);
		expect(existsSync(html)).toBe(false);
		await expect(check({source: letter, json: true})).rejects.toThrow('no frame in it');
	});

	it('takes what a sheet declares, and options over the sheet', async () => {
		const sheet = path.join(folder, 'glove.toml');
		const names = ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y', 'button-1', 'button-2'];
		writeFileSync(
			sheet,
			`[board]\nfamily = "other"\nfull_scale = 1023\n${names.map(name => `[[channel]]\nname = "${name}"\n`).join('')}`,
		);
		const declared = JSON.parse((await check({json: true, sheet})).stdout);
		expect(declared.channels.map(({name}: {name: string}) => name)).toEqual(names);
		expect(declared.layout.channels[0].fullScale).toBe(1023);
		const other = JSON.parse((await check({json: true, sheet, fullScale: 2047})).stdout);
		expect(other.layout.channels[0].fullScale).toBe(2047);
	});

	it('follows: one event per line and per write, all in the schema, from start to end', async () => {
		const {writes, status} = await check({follow: true, json: true});
		const events = writes.map(text => JSON.parse(text));
		for (const event of events) {
			isEvent(event);
			expect(isEvent.errors, event.event).toBeNull();
		}

		expect(writes.every(text => text.endsWith('}\n') && text.indexOf('\n') === text.length - 1)).toBe(true);
		expect(events[0].event).toBe('start');
		expect(events.at(-1)).toMatchObject({event: 'end', verdict: 'fail'});
		expect(events.filter(({event}) => event === 'link').map(({t}) => t)).toEqual(
			Array.from({length: 25}, (_, i) => i + 1),
		);
		const opened = events.find(({event, finding}) => event === 'finding-opened' && finding.code === 'floating-input');
		expect(opened.finding.channel).toBe('ring');
		expect(opened.t).toBeGreaterThanOrEqual(opened.finding.flaggedAt);
		expect(opened.t - opened.finding.flaggedAt).toBeLessThan(0.4);
		expect(status).toBe(1);
	});

	it('follows in words without --json', async () => {
		const {stdout} = await check({follow: true});
		expect(stdout).toMatch(/^ +\d+\.\d s {2}ring: floating-input \(failure\)\. /m);
		expect(stdout).toMatch(/ s {2}end: fail, \d+ findings\n$/);
	});

	it.each([
		[{json: true, markdown: true}, /exclude each other/],
		[{full: true}, /--full belongs to --markdown/],
		[{follow: true, markdown: true}, /--follow prints events/],
		[{follow: true, html: 'x.html'}, /--follow writes no page/],
	])('refuses %j', async (options, words) => {
		await expect(check(options)).rejects.toThrow(words);
	});
});
