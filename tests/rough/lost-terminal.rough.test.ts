import {readFile, writeFile} from 'node:fs/promises';
import {join} from 'node:path';
import {beforeAll, describe, expect, it} from 'vitest';
import {playGlove, recordingText} from '../dashboard/play-glove.ts';
import {glovebench} from '../screen/program-on-screen.ts';
import {roughBench} from './rough-bench.ts';
import {inTurns, tally, tries, within} from './tries.ts';

const bench = roughBench(5);
beforeAll(() => writeFile(join(bench.folder, 'left.gbrec'), recordingText(playGlove({seconds: 3}))));

const up = /thumb .*\d{3}/;
const cases = [
	{args: (to: string) => ['attach', bench.address, '--record', to], up, records: true},
	{args: (to: string) => ['demo', '--record', to], up, records: true},
	{args: (to: string) => ['record', bench.address, '-o', to], up: /[1-9]\d* bytes/, records: true},
	{args: () => ['simulate'], up: /\d+,\d+/, records: false},
	{args: (to: string) => ['bringup', bench.address, '--record', to], up: 'step 1', records: true},
	{args: () => ['replay', 'left.gbrec'], up: 'q quit', records: false},
] as const;

describe.skipIf(process.platform === 'win32')('a command whose terminal is closed', () => {
	// Node aborts on its own way out where it cannot put back the settings of a terminal: SIGABRT would be 134 here.
	it('ends with 129, the status of SIGHUP, without a crash and with its recording closed', async () => {
		await inTurns(tries(5, 100), 2, async index => {
			const each = cases[index % cases.length];
			const recording = join(bench.folder, `${index}.gbrec`);
			const args = each.args(recording);
			const program = bench.keep(glovebench(args, {cwd: bench.folder}));
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
