import {mkdtemp, readFile, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {playGlove, recordingText} from '../dashboard/play-glove.ts';
import {glovebench, type ProgramOnScreen} from '../screen/program-on-screen.ts';
import {NumberedGlove} from './numbered-glove.ts';
import {inTurns, tally, tries, within} from './tries.ts';

let folder: string;
let glove: NumberedGlove;
let address: string;
const programs: ProgramOnScreen[] = [];

beforeAll(async () => {
	folder = await mkdtemp(join(tmpdir(), 'lost-terminal-'));
	glove = new NumberedGlove(5);
	address = await glove.listen();
	await writeFile(join(folder, 'left.gbrec'), recordingText(playGlove({seconds: 3})));
});

afterAll(async () => {
	for (const program of programs) program.dispose();
	glove.close();
	await rm(folder, {recursive: true, force: true});
});

const up = /thumb .*\d{3}/;
const cases = [
	{args: (to: string) => ['attach', address, '--record', to], up, records: true},
	{args: (to: string) => ['demo', '--record', to], up, records: true},
	{args: (to: string) => ['record', address, '-o', to], up: /[1-9]\d* bytes/, records: true},
	{args: () => ['simulate'], up: /\d+,\d+/, records: false},
	{args: (to: string) => ['bringup', address, '--record', to], up: 'step 1', records: true},
	{args: () => ['replay', 'left.gbrec'], up: 'q quit', records: false},
] as const;

describe.skipIf(process.platform === 'win32')('a command whose terminal is closed', () => {
	// Node aborts on its own way out where it cannot put back the settings of a terminal: SIGABRT would be 134 here.
	it('ends with 129, the status of SIGHUP, without a crash and with its recording closed', async () => {
		await inTurns(tries(5, 100), 2, async index => {
			const each = cases[index % cases.length];
			const recording = join(folder, `${index}.gbrec`);
			const args = each.args(recording);
			const program = glovebench(args, {cwd: folder});
			programs.push(program);
			await program.until(each.up, 30_000);
			program.hangUp();
			expect(await within(30_000, program.exited), args[0]).toBe(129);
			if (each.records) {
				const last = (await readFile(recording, 'utf8')).trimEnd().split('\n').at(-1)!;
				expect(JSON.parse(last)).toMatchObject({end: true, bytes: expect.any(Number)});
			}

			tally('terminals that went away');
		});
	}, 600_000);
});
