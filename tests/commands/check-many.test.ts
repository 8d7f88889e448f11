import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {type CheckOptions, checkCommand} from '../../source/commands/check.ts';
import {compareCommand} from '../../source/commands/compare.ts';
import {replayCommand} from '../../source/commands/replay.ts';
import {gloveRows} from '../sources/log/disguised.ts';

let folder: string;
const file = (name: string): string => path.join(folder, name);
const rows = gloveRows(600);

beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'glovebench-many-'));
	const plain = rows.map(row => row.join());
	writeFileSync(file('whole.txt'), `${plain.join('\n')}\n`);
	writeFileSync(file('few.txt'), `${plain.slice(0, 20).join('\n')}\n`);
	writeFileSync(
		file('held.txt'),
		`${Array.from({length: 2500}, (_, i) => `${rows[i % 600].slice(0, 7).join()},1,${i % 40 < 9 ? 1 : 0}`).join('\n')}\n`,
	);
	writeFileSync(file('odd\u001b[2Jname.txt'), 'dear theatre,\nthe glove is in the post.\nyours\n');
	const boot = 'marionette glove ready';
	writeFileSync(file('two.txt'), `${[boot, ...plain, boot, ...plain].join('\n')}\n`);
});

afterAll(() => rmSync(folder, {recursive: true}));

function capture() {
	const stdout = Object.assign(new PassThrough(), {isTTY: true});
	const stderr = new PassThrough();
	const stdin = Object.assign(new PassThrough(), {isTTY: true});
	return {stdin, stdout, stderr, signal: new AbortController().signal};
}

async function check(options: CheckOptions) {
	const io = capture();
	const status = await checkCommand(options, io);
	return {status, stdout: String(io.stdout.read() ?? ''), stderr: String(io.stderr.read() ?? '')};
}

describe('check of several sources', () => {
	it('answers the builder of each with --reply, one message after the other', async () => {
		const {status, stdout} = await check({source: file('held.txt'), more: [file('few.txt')], reply: true});
		const [before, held, few] = stdout.split(/^--- .*\n\n/m);
		expect(before).toBe('');
		for (const message of [held, few]) {
			expect(message).toMatch(/^Hello, I looked at (?:held|few)\.txt: /);
			expect(message.trimEnd().length).toBeLessThan(1200);
		}
		expect(few).toContain('Please send me');
		expect(status).toBe(0);
	});

	it('is a line on each, the worst first, and one status', async () => {
		const {status, stdout} = await check({
			source: file('whole.txt'),
			more: [file('few.txt'), file('held.txt')],
			columns: 120,
		});
		const lines = stdout
			.trimEnd()
			.split('\n')
			.filter(line => !line.startsWith(' '));
		expect(lines).toHaveLength(4);
		expect(lines.map(line => line.split(/\s+/)[0])).toEqual([
			...lines.slice(0, 3).map(line => line.split(/\s+/)[0]),
			'One',
		]);
		const ranks = lines
			.slice(0, 3)
			.map(line => ['FAIL', 'ATTENTION', 'UNPROVEN', 'PASS'].indexOf(line.split(/\s+/)[0]));
		expect(ranks).toEqual([...ranks].sort());
		expect(status).toBe(lines[0].startsWith('FAIL') ? 1 : 0);
		expect(lines.some(line => line.includes('20 frames'))).toBe(true);
		// What none of them could show is told of each, with the movement that would show most.
		expect(stdout.replaceAll(/\n +/g, ' ')).toMatch(
			/few\.txt .* Not judged yet: 5 checks on all fingers \(open and close the whole hand\), and what \d+ other movements would show\./,
		);
	});

	it('tells what could not be read, escaped, and goes on: status 2', async () => {
		const {status, stdout} = await check({
			source: file('odd\u001b[2Jname.txt'),
			more: [file('few.txt'), file('none.txt')],
		});
		expect(status).toBe(2);
		expect(stdout.match(/^UNREAD/gm)).toHaveLength(2);
		expect(stdout).toContain('is not there: check the name');
		expect(stdout).not.toContain('\u001b');
		expect(stdout).toMatch(/^UNPROVEN .*few\.txt\n +0\.19 s, 20 frames, nothing found$/m);
	});

	it('is an object a line as JSON, in the order given', async () => {
		const {stdout} = await check({source: file('whole.txt'), more: [file('few.txt')], json: true});
		const objects = stdout
			.trimEnd()
			.split('\n')
			.map(line => JSON.parse(line));
		expect(objects.map(({kind, link}) => [kind, link.frames])).toEqual([
			['check', 600],
			['check', 20],
		]);
	});

	it('says which formats go with one source only', async () => {
		await expect(check({source: 'a', more: ['b'], markdown: true})).rejects.toThrow(/name one source/);
	});
});

describe('sessions of one log', () => {
	it('are chosen by --session, and compared where only one file is named', async () => {
		const {stdout} = await check({source: file('two.txt'), session: 1});
		expect(stdout.replaceAll(/\s+/g, ' ')).toContain('This is about session 1');
		const io = capture();
		await compareCommand({a: file('two.txt')}, io);
		expect(String(io.stdout.read())).toMatch(/two\.txt, session 1[\s\S]*two\.txt, session 2/);
		await expect(compareCommand({a: file('whole.txt')}, capture())).rejects.toThrow(/holds one session: name a second/);
		await expect(check({source: file('two.txt'), session: 3})).rejects.toThrow(/holds 2 sessions/);
	});
});

describe('replay', () => {
	it('says of a file without a frame what check says', async () => {
		const letter = file('odd\u001b[2Jname.txt');
		const said = await check({source: letter}).catch(error => String(error));
		const replayed = await replayCommand({file: letter}, capture()).catch(error => String(error));
		expect(said).toContain('has no frame in it');
		expect(replayed).toBe(said);
	});
});
