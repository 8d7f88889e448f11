import {existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {type AddressInfo, createServer} from 'node:net';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {parseCommandLine} from '../../source/command-line/parse-command-line.ts';
import {type CheckOptions, checkCommand} from '../../source/commands/check.ts';
import {compareCommand} from '../../source/commands/compare.ts';
import {fitCommand} from '../../source/commands/fit.ts';
import {recordCommand} from '../../source/commands/record.ts';
import {simulateCommand} from '../../source/commands/simulate.ts';
import {findFault} from '../../source/faults/registry.ts';
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
		expectToKeepTo('check', json);
		expect(json).toMatchObject({
			schema: 2,
			kind: 'check',
			source: {kind: 'recording', name: file, timing: 'measured', cut: false},
			verdict: 'fail',
		});
		const codes = json.findings.map(({code, channel}: {code: string; channel: string | null}) => `${channel} ${code}`);
		expect(codes).toContain('ring floating-input');
		expect(codes).toContain('null stray-text');
		const times = json.findings.map(({flaggedAt}: {flaggedAt: number}) => flaggedAt);
		expect(times).toEqual([...times].sort((a, b) => a - b));
		expect(status).toBe(1);
	});

	it('has exactly one finding to begin with, and a row for every check that could be judged', async () => {
		const {findings, checks} = JSON.parse((await check({json: true})).stdout);
		const first = findings.filter((finding: {first: boolean}) => finding.first);
		expect(first.map(({code, channel}: {code: string; channel: string}) => [code, channel])).toEqual([
			['floating-input', 'ring'],
		]);
		for (const {state, seen, needed, next} of checks) {
			if (state === 'waiting') expect(seen < needed || next !== null).toBe(true);
			if (state === 'clear') expect(seen).toBeGreaterThanOrEqual(needed);
		}

		expect(checks).toContainEqual(expect.objectContaining({code: 'floating-input', channel: 'ring', state: 'found'}));
	});

	it('says of each channel why a check did not speak: the gate, what it saw, and the limit that explain prints', async () => {
		const {stdout} = await check({why: 'narrow-span'});
		const {limits} = findFault('narrow-span')!.ways[0];
		const words = stdout.replace(/\n +/g, ' ');
		expect(words).toMatch(/^index +clear \(ratio\): saw [\d.]+, asks /m);
		expect(words).toContain(`asks at most ${limits.ratio.raise} ${limits.ratio.unit}.`);
		expect(words).toMatch(/^ring +not judged \(finger\): asks a finger that is wired/m);
		for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
	});

	it('says of one channel alone, found or not, as JSON in its own schema', async () => {
		const json = JSON.parse((await check({why: 'floating-input:ring', json: true})).stdout);
		expectToKeepTo('check-why', json);
		expect(json.rows).toHaveLength(1);
		expect(json.rows[0]).toMatchObject({channel: 'ring', state: 'found', gate: null, saw: null, asks: null});
		const clear = JSON.parse((await check({why: 'narrow-span:index', json: true})).stdout);
		expectToKeepTo('check-why', clear);
		expect(clear.rows[0]).toMatchObject({state: 'clear', gate: 'ratio', saw: expect.any(Number)});
		expect((await check({why: 'floating-input:ring'})).stdout).toMatch(/^ring {2}found, from [\d.]+ s/);
	});

	it.each([
		['narow-span', 'Unknown finding "narow-span". Did you mean narrow-span'],
		['narrow-span:rng', 'it is judged on no channel "rng"; name one of thumb, index, middle, ring, little.'],
		['swapped-channels', 'only the bring-up can find it'],
	])('says in one line what is wrong with --why %s', async (why, words) => {
		const error = await check({why}).catch((error: Error) => error.message);
		expect(error).toContain(words);
		expect(error).not.toContain('\n');
	});

	it('resolves with --proven to 1 unless everything is proven, and without it to 0 for what is only unproven', async () => {
		const rest = path.join(folder, 'rest.gbrec');
		await simulateCommand({output: rest, for: 10, seed: 3, script: 'rest 10s'}, capture().io);
		const plain = await check({source: rest});
		expect(plain.stdout).toMatch(/^UNPROVEN: Nothing is wrong in what was seen; not yet proven: thumb, index,/);
		expect(plain.stdout.replaceAll('\n', ' ')).toContain('stick-x and stick-y (push them to both sides)');
		expect(plain.status).toBe(0);
		expect((await check({source: rest, proven: true})).status).toBe(1);
		expect((await check({source: rest, follow: true, proven: true})).status).toBe(1);
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

	it('prints a message to the builder with --reply, whose command records what it asks for', async () => {
		const {status, stdout} = await check({reply: true});
		expect(status).toBe(1);
		expect(stdout).toContain('What I see: The ring finger ');
		const [line] = /^glovebench record .*$/m.exec(stdout)!;
		const asked = parseCommandLine(line.split(' ').slice(1)) as unknown as {options: {output: string; for: number}};
		// As it stands, but for the port, the folder, and the half minute.
		expect(asked.options).toMatchObject({output: 'again.gbrec', for: 30});
		const server = createServer(socket => {
			socket.on('error', () => {});
			for (let i = 0; i < 300; i++) socket.write(`${500 + (i % 7)},498,500,510,${i}\r\n`);
		});
		await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
		const {port} = server.address() as AddressInfo;
		const output = path.join(folder, asked.options.output);
		const {io} = capture();
		expect(await recordCommand({...asked.options, port: `tcp://127.0.0.1:${port}`, output, for: 0.3}, io)).toBe(0);
		server.close();
		const again = JSON.parse((await check({source: output, json: true})).stdout);
		expect(again.link.frames).toBeGreaterThan(200);
	});

	it('refuses --reply beside other forms of the report', async () => {
		for (const other of [{json: true}, {markdown: true}, {follow: true}, {why: 'dropout'}])
			await expect(check({reply: true, ...other})).rejects.toThrow(/--reply prints a message instead of the report/);
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
			expectToKeepTo('check-events', event);
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

	it('ends a stream without a frame with --follow as without: it is no pass', async () => {
		const letter = path.join(folder, 'letter.txt');
		writeFileSync(letter, 'dear theatre,\nthe glove is in the post.\nyours\n');
		await expect(check({source: letter, follow: true})).rejects.toThrow(/has no frame in it/);
		await expect(check({source: letter})).rejects.toThrow(/has no frame in it/);
	});

	it('follows in words without --json', async () => {
		const {stdout} = await check({follow: true});
		expect(stdout).toMatch(/^ +\d+\.\d s {2}ring: floating-input \(failure\)\. /m);
		expect(stdout).toMatch(/ s {2}end: fail, \d+ findings\n {11}Not judged yet: .*\.\n$/);
	});

	it.each([
		[{json: true, markdown: true}, /exclude each other/],
		[{full: true}, /--full belongs to --markdown/],
		[{follow: true, markdown: true}, /--follow prints events/],
		[{follow: true, html: 'x.html'}, /--follow writes no page/],
		[{why: 'narrow-span', markdown: true}, /--why prints reasons instead of the report/],
		[{why: 'narrow-span', follow: true}, /--why prints reasons instead of the report/],
	])('refuses %j', async (options, words) => {
		await expect(check(options)).rejects.toThrow(words);
	});
});
